//! Settling several steps together gives the same sums as settling them one by one. A recorder receives every step; the
//! ledger is kept from as many steps together as possible.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

use std::path::Path;

use daylift_plant::{DayHours, GivenRule, Plant, Wiring};
use daylift_plant_file::read_plant;
use daylift_study::series::StepMeans;
use daylift_study::{Memory, Series, Stages};
use daylift_supply::Flow;
use daylift_units::{Hourly, Step};

fn read(plant: &str) -> Plant {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).parent().unwrap().parent().unwrap();
    read_plant(&root.join(plant).join("plant.toml")).unwrap().plant
}

fn every_row(plant: &str, step: Step) {
    every_row_of(&read(plant), step);
}

fn every_row_of(plant: &Plant, step: Step) {
    let memory = Memory::none();
    let stages = Stages::new(plant, step, &memory);
    for row in plant.arrangements() {
        let mut series = Series::new(&stages.axis);
        let year = stages.year(row, &mut series).ledger.year();
        let mean_of = |of: &dyn Fn(&StepMeans) -> f64| series.steps().iter().map(of).sum::<f64>();
        let flows = Flow::OF_STEPS.into_iter().map(|flow| {
            let means = mean_of(&|step| step.of(flow).unwrap());
            (flow.id(), means, year[flow])
        });
        let lost = ("lost", mean_of(&|step| step.lost_w), year.lost_j().iter().sum());
        for (name, means, together) in flows.chain([lost]) {
            let one_by_one = means * stages.axis.step_s();
            let differs = (one_by_one - together).abs() / together.abs().max(1.0);
            assert!(
                differs < 1e-8,
                "{row}, {name}: {one_by_one} one by one, {together} together"
            );
        }
    }
}

#[test]
fn a_farm_with_one_pump_and_every_other_device() {
    every_row("examples/mulenga-ridge", Step::TenMinutes);
    every_row("examples/mulenga-ridge", Step::Minute);
}

/// The sun gives less than the share in some steps of an hour and more in others, so the pump moves to and fro.
#[test]
fn a_farm_whose_generator_pumps_beside_every_wiring() {
    let mut plant = read("examples/mulenga-ridge");
    let generator = plant.beside.generator.as_mut().unwrap();
    generator.beside = Wiring::ALL.to_vec();
    generator.pumps_only_when_low = false;
    generator.hours = DayHours::ALL;
    for sun_share in [0.0, 0.5] {
        plant.beside.generator.as_mut().unwrap().sun_share = sun_share;
        every_row_of(&plant, Step::TenMinutes);
    }
}

#[test]
fn a_farm_with_three_pumps_and_two_inverters() {
    every_row("examples/three-weirs", Step::TenMinutes);
}

#[test]
fn a_farm_with_fill_levels_and_surplus() {
    let rule = |plant: &mut Plant| {
        plant.pumping.rows.clear();
        plant.pumping.given = GivenRule {
            hours: Some(DayHours::between(21, 6).or(DayHours::between(12, 14))),
            fill: Some(Hourly::from_fn(|hour| if hour.begins_h() < 9 { 0.5 } else { 0.7 })),
            low_mark: Some(0.3),
            surplus: Some(0.7),
        };
    };
    for plant in ["examples/mulenga-ridge", "examples/three-weirs"] {
        let mut plant = read(plant);
        rule(&mut plant);
        every_row_of(&plant, Step::TenMinutes);
    }
}

#[test]
fn a_farm_without_a_grid() {
    every_row("examples/tamarind-post", Step::TenMinutes);
}
