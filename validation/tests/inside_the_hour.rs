//! How far results at steps of an hour and of ten minutes are from minutes with clouds: the table of
//! `docs/inside-the-hour.md`.
//!
//! `cargo xtask inside-the-hour` writes it; an ordinary test run checks one of its rows.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test fails by panicking")]

use std::collections::BTreeMap;
use std::fmt::Write;
use std::fs;
use std::path::{Path, PathBuf};

use daylift_plant::Plant;
use daylift_plant_file::{Files, read_plant_from};
use daylift_study::compare;
use daylift_supply::Flow;
use daylift_units::Step;

const SEEDS: [u32; 5] = [1, 2, 3, 4, 5];
const BEGIN: &str = "<!-- the table begins -->\n";
const END: &str = "<!-- the table ends -->";
const ROWS: [&str; 5] = [
    "solar-drive",
    "solar-drive-with-grid",
    "grid-tied",
    "dual-mode",
    "battery-hybrid",
];

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

/// Name in the table, folder, and whether water is always wanted, so that only sun and grid decide.
const PLANTS: [(&str, &str, bool); 6] = [
    ("Mulenga Ridge", "examples/mulenga-ridge", false),
    ("Mulenga Ridge, water always wanted", "examples/mulenga-ridge", true),
    ("Three Weirs", "examples/three-weirs", false),
    ("Tamarind Post", "examples/tamarind-post", false),
    ("Tamarind Post, water always wanted", "examples/tamarind-post", true),
    ("Greensboro, water always wanted", "validation/plants/greensboro", true),
];

/// The plant; where water is always wanted its demand is five times as large in every month.
fn plant(folder: &str, always_wanted: bool) -> Plant {
    let path = root().join(folder).join("plant.toml");
    let mut text = fs::read_to_string(&path).unwrap();
    if always_wanted {
        let begin = text.find("daily_m3 = [").unwrap() + "daily_m3 = [".len();
        let end = begin + text[begin..].find(']').unwrap();
        let five_times = |number: &str| (5.0 * number.trim().parse::<f64>().unwrap()).to_string();
        let more: Vec<String> = text[begin..end].split(',').map(five_times).collect();
        text.replace_range(begin..end, &more.join(", "));
    }
    let files = Files::default().with_draft(&path, text).unwrap();
    read_plant_from(&path, files)
        .unwrap_or_else(|faults| panic!("{folder}: {} faults", faults.len()))
        .plant
}

/// Water delivered by arrangement \[m³\].
fn water(plant: &Plant, step: Step, clouds: Option<u32>) -> BTreeMap<String, f64> {
    let mut plant = plant.clone();
    plant.weather = plant.weather.with_clouds(clouds);
    let rows = compare(&plant, step, &[]).rows;
    rows.into_iter()
        .map(|one| (one.row.id.to_string(), one.row.water_m3.of(Flow::Delivered)))
        .collect()
}

/// The mean over the seeds.
fn with_clouds(plant: &Plant, step: Step) -> BTreeMap<String, f64> {
    let mut out = BTreeMap::new();
    for seed in SEEDS {
        for (id, m3) in water(plant, step, Some(seed)) {
            *out.entry(id).or_insert(0.0) += m3 / SEEDS.len() as f64;
        }
    }
    out
}

fn table() -> String {
    let mut out = String::from(
        "| plant | arrangement | water, m³, 1 min with clouds | 10 min with clouds | 1 min without | 10 min without | 1 h |\n|---|---|---|---|---|---|---|\n",
    );
    for (name, folder, always_wanted) in PLANTS {
        let plant = plant(folder, always_wanted);
        let truth = with_clouds(&plant, Step::Minute);
        let others = [
            with_clouds(&plant, Step::TenMinutes),
            water(&plant, Step::Minute, None),
            water(&plant, Step::TenMinutes, None),
            water(&plant, Step::Hour, None),
        ];
        for row in ROWS.iter().filter(|row| truth.contains_key(**row)) {
            write!(out, "| {name} | `{row}` | {:.0} |", truth[*row]).unwrap();
            for other in &others {
                write!(out, " {} |", off(other[*row], truth[*row])).unwrap();
            }
            out += "\n";
        }
    }
    out
}

fn off(m3: f64, truth: f64) -> String {
    format!("{:+.1} %", 100.0 * (m3 / truth - 1.0))
        .replace("-0.0 %", "0.0 %")
        .replace("+0.0 %", "0.0 %")
}

fn page() -> (PathBuf, String) {
    let path = root().join("docs/inside-the-hour.md");
    let text = fs::read_to_string(&path).unwrap();
    (path, text)
}

#[test]
#[ignore = "two minutes; `cargo xtask inside-the-hour` runs it"]
fn write_the_table() {
    let (path, text) = page();
    let (begin, end) = (text.find(BEGIN).unwrap() + BEGIN.len(), text.find(END).unwrap());
    fs::write(path, [&text[..begin], &table(), &text[end..]].concat()).unwrap();
}

#[test]
fn a_row_of_the_page_is_what_the_program_computes() {
    let (_, text) = page();
    let row = text
        .lines()
        .find(|line| line.starts_with("| Tamarind Post, water always wanted | `solar-drive` |"));
    let cells: Vec<&str> = row.unwrap().split('|').map(str::trim).collect();
    let plant = plant("examples/tamarind-post", true);
    let truth = with_clouds(&plant, Step::Minute)["solar-drive"];
    assert_eq!(
        cells[3],
        format!("{truth:.0}"),
        "the page is stale: run `cargo xtask inside-the-hour`"
    );
    let hour = water(&plant, Step::Hour, None)["solar-drive"];
    assert_eq!(
        cells[7],
        off(hour, truth),
        "the page is stale: run `cargo xtask inside-the-hour`"
    );
}
