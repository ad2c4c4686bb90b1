//! Stages from memory give the same answers as stages computed again.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

use std::path::Path;

use daylift_array::{ArrayLosses, StringGroup};
use daylift_grid::Export;
use daylift_lift::{Tank, TankSheet};
use daylift_plant::{Arrangement, DayHours, LoadsFed, Plant};
use daylift_plant_file::read_plant;
use daylift_study::answer::WeatherSummary;
use daylift_study::compare::{Extras, compare_in_full};
use daylift_study::{ComparedRow, Memory, NoRecorder, Stages};
use daylift_supply::Flow;
use daylift_units::{Hourly, MonthHour, Monthly, Step};

fn plant() -> Plant {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).parent().unwrap().parent().unwrap();
    read_plant(&root.join("examples/mulenga-ridge/plant.toml")).unwrap().plant
}

/// Steps, weather and rows.
type Answer = (usize, WeatherSummary, Vec<ComparedRow>);

fn answer(plant: &Plant, step: Step, memory: &Memory) -> Answer {
    let full = compare_in_full(plant, step, &[], Extras::NONE, memory, &mut |_, _| ());
    (full.steps, full.weather, full.rows)
}

/// Plants that differ from the example in one stage each, from the last to the first.
fn variants() -> Vec<Plant> {
    let change = |by: &dyn Fn(&mut Plant)| {
        let mut plant = plant();
        by(&mut plant);
        plant
    };
    let strings = |plant: &mut Plant, series: u32, soiling: f64| {
        let losses = ArrayLosses {
            soiling: Monthly::from_array([soiling; 12]),
            ..ArrayLosses::NONE
        };
        let strings = &mut plant.array.as_mut().unwrap().groups.raw[0].strings;
        *strings = StringGroup::new(strings.module().clone(), series, 3, losses, 0.02).unwrap();
    };
    let steady_w = MonthHour::from_array([Hourly::from_array([500.0; 24]); 12]);
    vec![
        plant(),
        change(&|p| p.costs.as_mut().unwrap().terms.discount_rate *= 2.0),
        change(&|p| {
            p.tank = Tank::new(TankSheet {
                capacity_m3: 80.0,
                restart_level: 0.8,
                low_mark: 0.1,
            })
            .unwrap();
        }),
        change(&|p| p.design.switch_times.to_drive_s += 200.0),
        change(&|p| p.feeders.raw[0].reconnection_s += 200.0),
        change(&|p| p.grid.loads.add(&steady_w)),
        change(&|p| p.grid.backed_up.add(&steady_w)),
        change(&|p| p.grid.export = Export::forbidden()),
        change(&|p| p.pumping.sun_to_pump_first = !p.pumping.sun_to_pump_first),
        change(&|p| p.beside.second_input.as_mut().unwrap().hours = Some(DayHours::between(20, 4))),
        change(&|p| p.beside.generator.as_mut().unwrap().hours = DayHours::between(20, 4)),
        change(&|p| p.beside.generator.as_mut().unwrap().loads = LoadsFed::None),
        change(&|p| p.beside.night_tank.as_mut().unwrap().tank = p.tank),
        change(&|p| p.beside.battery = None),
        change(&|p| strings(p, 15, 0.1)),
        change(&|p| strings(p, 16, 0.1)),
        change(&|p| p.weather = p.weather.clone().with_sky_model(daylift_sky::SkyModel::Perez)),
    ]
}

#[test]
fn a_row_that_the_stages_were_not_made_for_gives_the_same_year() {
    let (plant, memory) = (plant(), Memory::none());
    let row = Arrangement::from_id("solar-drive-with-grid").unwrap();
    let asked = Stages::new(&plant, Step::Hour, &memory).year(row, &mut NoRecorder);
    let other = Stages::for_rows(&plant, Step::Hour, &[plant.reference], &memory).year(row, &mut NoRecorder);
    assert!(asked == other && asked.ledger.year()[Flow::GridToPump] > 0.0);
}

#[test]
fn one_memory_for_many_plants_gives_the_same_answers_as_no_memory() {
    let memory = Memory::new();
    let mut seen: Vec<Answer> = Vec::new();
    for step in [Step::Hour, Step::TenMinutes] {
        for (number, plant) in variants().iter().enumerate() {
            let remembered = answer(plant, step, &memory);
            assert!(remembered == answer(plant, step, &Memory::none()), "variant {number}");
            assert!(!seen.contains(&remembered), "variant {number} changes nothing");
            seen.push(remembered);
        }
    }
    // Again, now that every stage is kept.
    for (plant, first) in variants().iter().zip(&seen) {
        assert!(answer(plant, Step::Hour, &memory) == *first);
    }
}
