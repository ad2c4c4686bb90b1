//! Plant files, next to the valid files of the worked plants.

#![no_main]

use std::path::Path;
use std::sync::LazyLock;

use daylift_fuzz::{BARE, FULL, check_faults, check_finite};
use daylift_plant_file::outline::{self, Key};
use daylift_plant_file::{OriginValue, Read, ValueOrigin, read_plant};
use daylift_tables::Located;
use daylift_units::Field;
use libfuzzer_sys::fuzz_target;

static KEYS: LazyLock<Vec<(String, &'static Key)>> = LazyLock::new(outline::paths);

daylift_fuzz::mutate_text!();

fuzz_target!(|data: &[u8]| {
    // A year of weather takes far longer than the rest, so it is read only for files that have no other fault.
    let path = BARE.write("plant.toml", data);
    let (first, second) = (read(&path), read(&path));
    if first.as_ref().err() != second.as_ref().err() {
        panic!("read twice, two results");
    }
    if let Err(faults) = &first
        && faults.iter().any(|located| located.fault.key != "weather.file")
    {
        return;
    }
    let path = FULL.write("plant.toml", data);
    if let Ok(accepted) = read(&path) {
        let again = read(&path).expect("accepted twice");
        assert_eq!(accepted.origins, again.origins, "read twice, two results");
        assert_eq!(accepted.warnings, again.warnings, "read twice, two results");
    }
});

fn read(path: &Path) -> Result<Read, Vec<Located>> {
    let read = read_plant(path);
    match &read {
        Ok(read) => check_read(read),
        Err(faults) => check_faults(faults),
    }
    read
}

fn check_read(read: &Read) {
    let plant = &read.plant;
    for warning in &read.warnings {
        assert!(!warning.subject.is_empty() && !warning.text.is_empty(), "{warning:?}");
        check_finite(&warning.text.replace('"', ""));
    }
    for origin in &read.origins {
        check_origin(origin);
    }
    assert!(
        plant.arrangements().contains(&plant.reference),
        "the reference has no row"
    );
    check_finite(&format!("{:?} {:?} {:?}", plant.sets, plant.feeders, plant.array));
    check_finite(&format!("{:?} {:?} {:?}", plant.tank, plant.demand, plant.design));
    // Export without a limit is infinite by design.
    let grid = &plant.grid;
    check_finite(&format!(
        "{:?} {:?} {:?} {:?}",
        grid.outages, grid.tariff, grid.loads, grid.backed_up
    ));
    check_finite(&format!("{:?} {:?}", plant.beside, plant.costs));
}

/// Checks that every number is within its declared range.
fn check_origin(origin: &ValueOrigin) {
    let path: String = without_numbers(&origin.path);
    let field = KEYS.iter().find(|(known, _)| *known == path).and_then(|(_, key)| key.field());
    let check = |value: f64| {
        assert!(value.is_finite(), "{origin:?}");
        let within = |field: &Field| (field.least..=field.greatest).contains(&value);
        assert!(field.is_none_or(within), "{origin:?}");
    };
    match &origin.value {
        OriginValue::Number(value) => check(*value),
        OriginValue::Numbers(values) => values.iter().copied().for_each(check),
        OriginValue::Lists(lists) => lists.iter().flatten().copied().for_each(check),
        OriginValue::Text(_) => {}
    }
}

/// `pipe[2].bore_mm` is declared as `pipe.bore_mm`.
fn without_numbers(path: &str) -> String {
    let mut within = false;
    let outside = |c: &char| {
        within = (within || *c == '[') && *c != ']';
        !within && *c != ']'
    };
    path.chars().filter(outside).collect()
}
