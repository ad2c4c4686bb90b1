//! Evaluating a working's printed formula with its printed values gives its number.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test fails by panicking")]

use std::path::Path;

use daylift_plant::Arrangement;
use daylift_plant_file::{Read, read_plant};
use daylift_study::compare::{Extras, WorkingsOf, compare_in_full};
use daylift_study::workings::NAMES;
use daylift_study::{Memory, Working, run};
use daylift_supply::NoRecorder;
use daylift_units::Step;
use exmex::{Express, FlatEx};

fn example() -> Read {
    read_plant(&Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples/mulenga-ridge")).unwrap()
}

fn workings_of(arrangement: Arrangement) -> Vec<Working> {
    let read = example();
    run(&read.plant, arrangement, Step::Hour, &read.warnings, &mut NoRecorder)
        .unwrap()
        .workings
}

fn evaluate(working: &Working) -> f64 {
    let formula = FlatEx::<f64>::parse(&working.formula).unwrap();
    let values: Vec<f64> = formula
        .var_names()
        .iter()
        .map(|name| {
            working
                .symbols
                .iter()
                .find(|s| s.symbol == *name)
                .unwrap_or_else(|| panic!("{} has no {name}", working.name))
                .value
        })
        .collect();
    assert_eq!(
        values.len(),
        working.symbols.len(),
        "{} lists a symbol that its formula does not use",
        working.name
    );
    formula.eval(&values).unwrap()
}

#[test]
fn formulas_give_their_headlines() {
    let mut seen = Vec::new();
    for arrangement in example().plant.arrangements() {
        for working in workings_of(arrangement) {
            let value = evaluate(&working);
            assert!(
                (value - working.value).abs() <= 1e-9 * working.value.abs().max(1.0),
                "{} of {arrangement}: {value} against {}",
                working.name,
                working.value
            );
            assert!(!working.source.is_empty() && !working.caution.is_empty());
            seen.push(working.name);
        }
    }
    for name in NAMES {
        assert!(
            seen.iter().any(|s| s == name),
            "no arrangement has a working for {name}"
        );
    }
}

/// Whether the service is less than that of the reference is decided by definition (1 % of the water, 1 % of the load).
#[test]
fn payback_cautions_of_less_water_or_less_load_only_where_there_is_less() {
    let read = example();
    let extras = Extras {
        workings_of: WorkingsOf::All,
        ..Extras::NONE
    };
    let full = compare_in_full(&read.plant, Step::Hour, &[], extras, &Memory::none(), &mut |_, _| ());
    let mut seen = [false; 4];
    for one in &full.rows {
        let Some(payback) = one.detail.workings.iter().find(|w| w.name == "payback") else {
            continue;
        };
        let (water, load) = (one.detail.less_water.is_some(), one.detail.less_load.is_some());
        assert_eq!(payback.caution.contains("less water"), water, "{}", one.row.id);
        assert_eq!(payback.caution.contains("without power"), load, "{}", one.row.id);
        seen[usize::from(water)] = true;
        seen[2 + usize::from(load)] = true;
    }
    assert!(seen[..3].iter().all(|seen| *seen), "the example lacks a case: {seen:?}");
}
