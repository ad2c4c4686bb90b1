//! Files of a result: Parquet says what the CSV says, and the same every time.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test fails by panicking")]

mod support;

use std::collections::BTreeMap;
use std::fs::{self, File};
use std::path::Path;

use daylift_testing::Plant;
use parquet::file::reader::{FileReader, SerializedFileReader};
use parquet::record::Field;
use support::{Run, stderr};

fn written(folder: &Path) -> Plant {
    let plant = Plant::new();
    let output = plant.run(
        "run",
        &[
            "--arrangement",
            "dual-mode",
            "--step",
            "1h",
            "--out",
            folder.to_str().unwrap(),
        ],
    );
    assert_eq!(output.status.code(), Some(0), "{}", stderr(&output));
    plant
}

fn assert_same(name: &str, cell: &str, field: &Field) {
    match field {
        Field::Double(value) => {
            let text: f64 = cell.parse().unwrap();
            // The CSV has three or four decimals.
            assert!((value - text).abs() <= 0.000_501, "{name}: {value} is not {cell}");
        }
        Field::Str(value) => assert_eq!(value, cell, "{name}"),
        Field::Null => assert_eq!(cell, "", "{name}"),
        other => panic!("{name} holds {other:?}"),
    }
}

#[test]
fn parquet_holds_what_the_csv_holds() {
    let folder = tempfile::tempdir().unwrap();
    written(folder.path());
    let mut csv = csv::Reader::from_path(folder.path().join("series-dual-mode.csv")).unwrap();
    let header = csv.headers().unwrap().clone();
    let parquet =
        SerializedFileReader::new(File::open(folder.path().join("series-dual-mode.parquet")).unwrap()).unwrap();
    let mut rows = parquet.get_row_iter(None).unwrap();
    // 2025-01-01 00:00 in Lusaka, two hours east of Greenwich all year.
    let mut instant_ms = (1_735_689_600 - 7200) * 1000;
    let mut words = 0;
    for record in csv.records() {
        let (record, row) = (record.unwrap(), rows.next().unwrap().unwrap());
        let mut columns = row.get_column_iter();
        assert_eq!(
            columns.next().unwrap(),
            (&"time_utc".to_owned(), &Field::TimestampMillis(instant_ms))
        );
        instant_ms += 3_600_000;
        for ((name, cell), (column, field)) in header.iter().zip(&record).zip(columns.by_ref()) {
            assert_eq!(name, column);
            assert_same(name, cell, field);
            words += usize::from(name == "main_loss" && !cell.is_empty());
        }
        assert!(columns.next().is_none());
    }
    assert!(rows.next().is_none());
    assert!(words > 1000, "main_loss is empty in nearly every step");
}

#[test]
fn parquet_says_what_it_is() {
    let folder = tempfile::tempdir().unwrap();
    written(folder.path());
    let parquet =
        SerializedFileReader::new(File::open(folder.path().join("series-dual-mode.parquet")).unwrap()).unwrap();
    let metadata = parquet.metadata().file_metadata();
    let about: BTreeMap<&str, &str> = metadata
        .key_value_metadata()
        .unwrap()
        .iter()
        .map(|kv| (kv.key.as_str(), kv.value.as_deref().unwrap()))
        .collect();
    assert_eq!(about["schema"], "daylift.series.1");
    assert_eq!(about["plant"], "Mulenga Ridge");
    assert_eq!(about["arrangement"], "dual-mode");
    assert_eq!(about["step_s"], "3600");
    assert!(about["units"].contains("_m3_h: m³/h"));
    assert_eq!(about["producer"], format!("daylift {}", env!("CARGO_PKG_VERSION")));
    let columns = metadata.schema_descr().columns();
    for column in columns.iter().skip(2).filter(|c| c.name() != "main_loss") {
        let ends = ["_kw", "_m3_h", "_m3", "_kwh", "_hz", "_share"];
        assert!(
            ends.iter().any(|end| column.name().ends_with(end)),
            "{} has no unit",
            column.name()
        );
    }
}

#[test]
fn the_same_year_gives_the_same_bytes() {
    let folders = [tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap()];
    for folder in &folders {
        written(folder.path());
    }
    for file in ["series-dual-mode.parquet", "series-dual-mode.csv"] {
        let [one, other] = folders.each_ref().map(|f| fs::read(f.path().join(file)).unwrap());
        assert!(one == other, "{file} differs");
    }
}

#[test]
fn files_of_an_earlier_run_are_reported() {
    let folder = tempfile::tempdir().unwrap();
    let plant = written(folder.path());
    let out = folder.path().to_str().unwrap();
    let again = plant.run("run", &["--arrangement", "dual-mode", "--step", "1h", "--out", out]);
    assert!(!stderr(&again).contains("earlier run"), "{}", stderr(&again));
    fs::write(folder.path().join("notes.txt"), "").unwrap();
    let other = plant.run("run", &["--arrangement", "grid-only", "--step", "1h", "--out", out]);
    let expected = "the folder also contains months-dual-mode.csv, run-dual-mode.csv, series-dual-mode.csv, \
                series-dual-mode.parquet, sun-dual-mode.csv from an earlier run";
    assert!(stderr(&other).contains(expected), "{}", stderr(&other));
}
