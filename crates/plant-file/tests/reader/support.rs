//! Reads a changed copy of the worked example and checks its faults or warnings.

use daylift_plant_file::{Read, read_plant};
use daylift_tables::Located;
use daylift_testing::Plant;

/// A fault with its place, as a line of text.
fn line(located: &Located) -> String {
    let place = located
        .place
        .as_ref()
        .map(|place| format!("{}:{}: ", place.source.file_name(), place.line()));
    let fault = &located.fault;
    format!("{}{}: {fault}", place.unwrap_or_default(), fault.key)
}

/// The faults of a plant that must have some, each as a line.
fn faults(plant: &Plant) -> Vec<String> {
    match read_plant(plant.path()) {
        Err(faults) => faults.iter().map(line).collect(),
        Ok(read) => panic!("no fault; warnings: {:?}", read.warnings),
    }
}

/// The result of reading a plant without faults.
pub(crate) fn read(plant: &Plant) -> Read {
    read_plant(plant.path()).unwrap_or_else(|faults| panic!("{:?}", faults.iter().map(line).collect::<Vec<_>>()))
}

/// The warnings of a plant without faults, each in a line.
pub(crate) fn warned(plant: &Plant) -> String {
    read(plant).warnings.iter().map(|warning| format!("{warning}\n")).collect()
}

fn assert_contains(text: &str, fragments: &[&str]) {
    for fragment in fragments {
        assert!(text.contains(fragment), "{fragment:?} is not in: {text}");
    }
}

/// Checks that a plant has faults, and that every fragment is in their text.
#[expect(clippy::needless_pass_by_value, reason = "the spoilt copy ends with its test")]
pub(crate) fn refused(plant: Plant, fragments: &[&str]) {
    assert_contains(&faults(&plant).join("\n"), fragments);
}

/// The same for a plant with exactly one fault.
#[expect(clippy::needless_pass_by_value, reason = "the spoilt copy ends with its test")]
pub(crate) fn refused_once(plant: Plant, fragments: &[&str]) {
    let faults = faults(&plant);
    assert_eq!(faults.len(), 1, "{faults:?}");
    assert_contains(&faults[0], fragments);
}

/// Checks that a plant has no faults, and that every fragment is in its warnings.
#[expect(clippy::needless_pass_by_value, reason = "the copy ends with its test")]
pub(crate) fn warns(plant: Plant, fragments: &[&str]) {
    assert_contains(&warned(&plant), fragments);
}

/// The outage sources of a plant without faults: name, number of outages, hours.
pub(crate) fn outages(plant: &Plant) -> Vec<(String, usize, f64)> {
    let outages = read(plant).plant.grid.outages;
    outages
        .sources()
        .iter()
        .map(|source| (source.name.clone(), source.count, source.total_s / 3600.0))
        .collect()
}
