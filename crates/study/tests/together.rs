//! Steps that are settled together give what they give one by one: a recorder sees every step by itself, the account is
//! kept from as many together as go.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

use std::path::Path;

use daylift_plant_file::read_plant;
use daylift_study::series::StepMeans;
use daylift_study::{Memory, Series, Stages};
use daylift_supply::MonthBook;
use daylift_units::Step;

type OfStep = fn(&StepMeans) -> f64;
type OfYear = fn(&MonthBook) -> f64;

/// What both have, as a mean of each step and as a sum of the year.
const QUANTITIES: [(&str, OfStep, OfYear); 13] = [
    ("available", |s| s.available_w, |y| y.available_j),
    ("array to pump", |s| s.array_to_pump_w, |y| y.array_to_pump_j),
    ("array to loads", |s| s.array_to_loads_w, |y| y.array_to_loads_j),
    ("array to battery", |s| s.array_to_battery_w, |y| y.array_to_battery_j),
    ("exported", |s| s.exported_w, |y| y.exported_j),
    ("lost", |s| s.lost_w, |y| y.lost_j.iter().sum()),
    ("imported", |s| s.imported_w, |y| y.grid.given_j),
    ("grid to pump", |s| s.grid_to_pump_w, |y| y.grid.to_pump_j),
    ("generator", |s| s.generator_w, |y| y.generator.given_j),
    ("unserved", |s| s.unserved_w, |y| y.unserved_j),
    ("pumped", |s| s.pumped_m3_s, |y| y.pumped_m3),
    ("demand", |s| s.demand_m3_s, |y| y.demand_m3),
    ("delivered", |s| s.delivered_m3_s, |y| y.delivered_m3),
];

fn every_row(plant: &str, step: Step) {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).parent().unwrap().parent().unwrap();
    let plant = read_plant(&root.join(plant).join("plant.toml")).unwrap().plant;
    let memory = Memory::none();
    let stages = Stages::new(&plant, step, &memory);
    for row in plant.arrangements() {
        let mut series = Series::new(&stages.axis);
        let year = stages.year(row, &mut series).ledger.year();
        for (name, of_step, of_year) in QUANTITIES {
            let one_by_one = series.steps().iter().map(of_step).sum::<f64>() * stages.axis.step_s();
            let together = of_year(&year);
            let differs = (one_by_one - together).abs() / together.abs().max(1.0);
            assert!(
                differs < 1e-8,
                "{row}, {name}: {one_by_one} one by one, {together} together"
            );
        }
    }
}

#[test]
fn a_farm_with_one_pump_and_everything_beside_it() {
    every_row("examples/mulenga-ridge", Step::TenMinutes);
    every_row("examples/mulenga-ridge", Step::Minute);
}

#[test]
fn a_farm_with_three_pumps_and_two_inverters() {
    every_row("examples/three-weirs", Step::TenMinutes);
}

#[test]
fn a_farm_without_a_grid() {
    every_row("examples/tamarind-post", Step::TenMinutes);
}
