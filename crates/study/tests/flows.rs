//! Every flow of the ledger is in a row of the answer, in the place that its declaration names and in the unit of results.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

use std::collections::BTreeMap;
use std::path::Path;

use daylift_plant::{Plant, RuleSearch};
use daylift_plant_file::read_plant;
use daylift_study::columns::groups::column_name;
use daylift_study::compare::{Extras, compare_in_full};
use daylift_study::detail::Month;
use daylift_study::{Memory, NoRecorder, Stages};
use daylift_supply::{Flow, Ledger, Table};
use daylift_units::Step;
use serde_json::Value;

/// The value of a key in an object of a row; the object has a dotted name.
fn at<'v>(row: &'v Value, group: &str, key: &str) -> &'v Value {
    group.split('.').fold(row, |object, name| &object[name]).get(key).unwrap()
}

/// The plant without a search for rules: the years below are those of the file.
fn as_written(mut plant: Plant) -> Plant {
    plant.pumping.search = RuleSearch::AsWritten;
    plant
}

#[test]
fn a_row_shows_every_flow_in_its_place() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let plant = as_written(read_plant(&root.join("examples/mulenga-ridge/plant.toml")).unwrap().plant);
    let memory = Memory::none();
    let full = compare_in_full(&plant, Step::Hour, &[], Extras::NONE, &memory, &mut |_, _| ());
    let stages = Stages::new(&plant, Step::Hour, &memory);
    assert!(full.rows.len() >= plant.arrangements().len());
    for shown in full.rows.iter().filter(|shown| !shown.row.id.best_rule) {
        let row = shown.row.id;
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

/// Twelve months of each row, as results hold them.
fn months_of_rows() -> Vec<(Ledger, Vec<Month>)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let plant = as_written(read_plant(&root.join("examples/mulenga-ridge/plant.toml")).unwrap().plant);
    let memory = Memory::none();
    let full = compare_in_full(&plant, Step::Hour, &[], Extras::NONE, &memory, &mut |_, _| ());
    let stages = Stages::new(&plant, Step::Hour, &memory);
    let ledger = |row| stages.year(row, &mut NoRecorder).ledger;
    let rows = full.rows.into_iter().filter(|shown| !shown.row.id.best_rule);
    rows.map(|shown| (ledger(shown.row.id), shown.detail.months)).collect()
}

#[test]
fn a_month_shows_every_flow_that_is_declared_for_it() {
    for (ledger, months) in months_of_rows() {
        assert_eq!(months.len(), 12);
        for (book, month) in ledger.months.values().zip(&months) {
            let shown = serde_json::to_value(month).unwrap();
            for flow in Flow::ALL.into_iter().filter(|flow| flow.is_in(Table::Months)) {
                let of_array = flow.places().iter().find(|place| place.group == "array_kwh");
                let value = match of_array {
                    Some(place) => &shown["array_kwh"][place.key],
                    None => &shown[column_name(flow)],
                };
                let booked = book.shown(flow);
                assert!(
                    (value.as_f64().unwrap() - booked).abs() < 1e-12 * booked.max(1.0),
                    "{flow:?}"
                );
            }
        }
    }
}

#[test]
fn energy_at_the_pump_is_that_of_all_its_sources() {
    for (ledger, months) in months_of_rows() {
        for (book, month) in ledger.months.values().zip(&months) {
            let [array, grid, battery, generator] = [
                Flow::ArrayToPump,
                Flow::GridToPump,
                Flow::BatteryToPump,
                Flow::GeneratorToPump,
            ]
            .map(|f| book.shown(f));
            let booked = array + grid + battery + generator;
            let shown = serde_json::to_value(month).unwrap()["pump_kwh"].as_f64().unwrap();
            assert!(
                (shown - booked).abs() < 1e-9 * booked.max(1.0),
                "{shown} shown, {booked} booked"
            );
        }
    }
}

/// What the grid gives is what arrives of it and what is lost on the way, in every row of the examples.
#[test]
fn imported_energy_is_the_sum_of_its_uses_and_losses() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples");
    let memory = Memory::none();
    let mut rows = 0;
    for example in ["mulenga-ridge", "sable-hollow", "three-weirs", "tamarind-post"] {
        let plant = as_written(read_plant(&root.join(example)).unwrap().plant);
        let full = compare_in_full(&plant, Step::Hour, &[], Extras::NONE, &memory, &mut |_, _| ());
        for shown in &full.rows {
            let row = serde_json::to_value(&shown.row).unwrap();
            let value = |group: &str, key: &str| at(&row, group, key).as_f64().unwrap();
            let uses = [
                ("pump_kwh", "grid"),
                ("load_kwh", "grid"),
                ("battery_kwh", "from_grid"),
                ("grid_kwh", "pump_feed_loss"),
                ("grid_kwh", "charging_loss"),
            ];
            let (imported, sum) = (
                value("grid_kwh", "imported"),
                uses.map(|(group, key)| value(group, key)).iter().sum::<f64>(),
            );
            assert!(
                (imported - sum).abs() < 1e-7 * imported.max(1.0),
                "{example}, {}: {imported} imported, {sum} used or lost",
                shown.row.id
            );
            rows += 1;
        }
    }
    assert!(rows > 20, "{rows}");
}

/// Energy at the bus that the agreement keeps from being exported is less than the DC energy that is booked to it, by the
/// losses of inverter and cables.
#[test]
fn the_export_limit_at_the_bus_is_less_than_at_the_array() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples");
    let mut plant = as_written(read_plant(&root.join("mulenga-ridge")).unwrap().plant);
    plant.grid.export = daylift_grid::Export::forbidden();
    let full = compare_in_full(&plant, Step::Hour, &[], Extras::NONE, &Memory::none(), &mut |_, _| ());
    let row = full.rows.iter().find(|shown| shown.row.id.id() == "grid-tied").unwrap();
    let (ac_kwh, dc_kwh) = (
        row.row.export_limit_ac_kwh,
        row.row.array_kwh.lost(daylift_supply::LossCause::ExportLimit),
    );
    assert!(ac_kwh > 0.9 * dc_kwh && ac_kwh < 0.99 * dc_kwh, "{ac_kwh} and {dc_kwh}");
}
