//! The origins of values, as `[[origin]]` in the plant file marks them.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

use std::fs;
use std::path::Path;

use daylift_plant_file::{Origin, Read, read_plant};
use daylift_tables::Located;

/// Reads the worked example with entries added at its end.
fn with(entries: &str) -> Result<Read, Vec<Located>> {
    let example = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples/mulenga-ridge");
    let folder = tempfile::tempdir().unwrap();
    for entry in fs::read_dir(example).unwrap().map(Result::unwrap) {
        fs::copy(entry.path(), folder.path().join(entry.file_name())).unwrap();
    }
    let plant = folder.path().join("plant.toml");
    let text = fs::read_to_string(&plant).unwrap();
    let text = match entries.strip_prefix("TOP ") {
        Some(first) => format!("{first}\n{text}"),
        None => format!("{text}\n{entries}\n"),
    };
    fs::write(plant, text).unwrap();
    read_plant(folder.path())
}

/// Origin, date and note of a value.
fn marked(read: &Read, path: &str) -> (Origin, String, String) {
    let value = read.origins.iter().find(|o| o.path == path).unwrap();
    let mark = value.mark.clone().unwrap_or_default();
    let date = mark.date.map(|date| date.to_string()).unwrap_or_default();
    (value.origin, date, mark.note.unwrap_or_default())
}

#[test]
fn the_narrower_entry_applies() {
    let read = with(
        "[[origin]]\nof = [\"well.static_level_m\", \"motor\"]\nis = \"confirmed\"\ndate = 2026-11-30\nnote = \"dip tape\"\n\
         [[origin]]\nof = [\"*\"]\nis = \"assumed\"\n[[origin]]\nof = [\"well\", \"pipe[2]\"]\nis = \"generic\"\n\
         [[origin]]\nof = [\"module\"]\nis = \"datasheet\"\n[[origin]]\nof = [\"array.strings\"]\nis = \"found\"",
    )
    .unwrap();
    let dipped = (Origin::Confirmed, "2026-11-30".to_owned(), "dip tape".to_owned());
    assert_eq!(marked(&read, "well.static_level_m"), dipped);
    assert_eq!(marked(&read, "motor.rated_power_kw"), dipped);
    for (path, origin) in [
        ("well.intake_depth_m", Origin::Generic),
        ("pipe[2].bore_mm", Origin::Generic),
        ("pipe[1].bore_mm", Origin::Assumed),
        ("module.cells", Origin::Datasheet),
        ("array.strings", Origin::Found),
        ("tank.capacity_m3", Origin::Assumed),
        ("array.albedo", Origin::Default),
    ] {
        assert_eq!(marked(&read, path), (origin, String::new(), String::new()), "{path}");
    }
}

#[test]
fn each_wrong_entry_is_refused_with_its_place() {
    for (entries, key, given) in [
        (
            "[[origin]]\nof = [\"well\"]\nis = \"checked\"",
            "origin[1].is",
            "\"checked\"",
        ),
        (
            "[[origin]]\nof = [\"well\"]\nis = \"default\"",
            "origin[1].is",
            "\"default\"",
        ),
        ("[[origin]]\nof = [\"well\"]", "origin[1].is", "not given"),
        (
            "[[origin]]\nof = [\"well.static_levl_m\"]\nis = \"found\"",
            "origin[1].of",
            "\"well.static_levl_m\"",
        ),
        (
            "[[origin]]\nof = [\"pipe[7].bore_mm\"]\nis = \"found\"",
            "origin[1].of",
            "\"pipe[7].bore_mm\"",
        ),
        ("[[origin]]\nof = []\nis = \"found\"", "origin[1].of", "an empty list"),
        (
            "[[origin]]\nof = \"well\"\nis = \"found\"",
            "origin[1].of",
            "\"well\" (string)",
        ),
        ("[[origin]]\nis = \"found\"", "origin[1].of", "not given"),
        (
            "[[origin]]\nof = [\"well\"]\nis = \"found\"\ndate = \"2026-11-30\"",
            "origin[1].date",
            "\"2026-11-30\" (string)",
        ),
        (
            "[[origin]]\nof = [\"well\"]\nis = \"found\"\ndate = 2026-11-30T10:00:00",
            "origin[1].date",
            "2026-11-30T10:00:00 (datetime)",
        ),
        (
            "[[origin]]\nof = [\"well\"]\nis = \"found\"\nnote = 3",
            "origin[1].note",
            "3 (integer)",
        ),
        (
            "[[origin]]\nof = [\"well\"]\nis = \"found\"\n[[origin]]\nof = [\"tank\", \"well\"]\nis = \"generic\"",
            "origin[2].of",
            "\"well\" twice",
        ),
        (
            "[[origin]]\nof = [\"tariff.season[1].prices\", \"tariff.season.prices[2]\"]\nis = \"found\"",
            "origin[1].of",
            "\"tariff.season.prices[2]\" and \"tariff.season[1].prices\", which mark the same value",
        ),
        (
            "[origin]\nof = [\"well\"]\nis = \"found\"",
            "origin",
            "[origin] (table)",
        ),
        (
            "[[origin]]\nof = [\"well\"]\nis = \"found\"\nwhen = 2026-11-30",
            "origin[1]",
            "`when`",
        ),
        ("TOP assumed = [\"*\"]", "", "`assumed`"),
    ] {
        let faults = with(entries).unwrap_err();
        let all: Vec<(&str, &str)> = faults.iter().map(|f| (f.fault.key.as_str(), f.fault.given.as_str())).collect();
        assert_eq!(all, [(key, given)], "{entries}");
        assert!(faults[0].place.is_some(), "{entries}");
    }
}

#[test]
fn all_wrong_entries_are_reported_at_once() {
    let faults =
        with("[[origin]]\nof = [\"wel\", \"*\", \"*\"]\nis = \"\"\nnote = 3\n[[origin]]\nof = [\"tnk\"]").unwrap_err();
    let keys: Vec<&str> = faults.iter().map(|f| f.fault.key.as_str()).collect();
    let wanted = [
        "origin[1].of",
        "origin[1].of",
        "origin[1].is",
        "origin[1].note",
        "origin[2].is",
        "origin[2].of",
    ];
    assert_eq!(keys, wanted);
}

#[test]
fn a_misspelt_key_is_one_fault_also_when_another_value_requires_it() {
    let example = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples/mulenga-ridge");
    let folder = tempfile::tempdir().unwrap();
    for entry in fs::read_dir(example).unwrap().map(Result::unwrap) {
        fs::copy(entry.path(), folder.path().join(entry.file_name())).unwrap();
    }
    let plant = folder.path().join("plant.toml");
    let text = fs::read_to_string(&plant).unwrap();
    fs::write(plant, text.replace("\ntilt_deg =", "\ntilt_degr =")).unwrap();
    let faults = read_plant(folder.path()).unwrap_err();
    let remedies: Vec<&str> = faults.iter().map(|f| f.fault.remedy.as_str()).collect();
    assert_eq!(remedies, ["did you mean `tilt_deg`?"]);
}
