//! Every flow of the ledger stands in a row of the answer where its declaration says, in the unit of results.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

use std::collections::BTreeMap;
use std::path::Path;

use daylift_plant_file::read_plant;
use daylift_study::compare::{More, compare_in_full};
use daylift_study::{Memory, NoRecorder, Stages};
use daylift_supply::Flow;
use daylift_units::Step;
use serde_json::Value;

/// What stands in an object of a row, under a dotted name.
fn at<'v>(row: &'v Value, group: &str, key: &str) -> &'v Value {
    group.split('.').fold(row, |object, name| &object[name]).get(key).unwrap()
}

#[test]
fn a_row_shows_every_flow_in_its_place() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let plant = read_plant(&root.join("examples/mulenga-ridge/plant.toml")).unwrap().plant;
    let memory = Memory::none();
    let answer = compare_in_full(&plant, Step::Hour, &[], More::NOTHING, &memory, &mut |_, _| ());
    let stages = Stages::new(&plant, Step::Hour, &memory);
    assert_eq!(answer.rows.len(), plant.arrangements().len());
    for (row, shown) in plant.arrangements().into_iter().zip(&answer.rows) {
        let year = stages.year(row, &mut NoRecorder).ledger.year();
        let mut sums: BTreeMap<(&str, String), f64> = BTreeMap::new();
        for flow in Flow::ALL {
            for place in flow.places() {
                *sums.entry((place.group, flow.named(place.key).into_owned())).or_default() += year.shown(flow);
            }
        }
        let shown = serde_json::to_value(&shown.row).unwrap();
        for ((group, key), sum) in sums {
            let value = at(&shown, group, &key).as_f64().unwrap();
            assert!(
                (value - sum).abs() < 1e-9 * sum.max(1.0),
                "{row}, {group}.{key}: {value} shown, {sum} booked"
            );
        }
    }
}
