//! A working's printed formula, evaluated with its printed values, gives its headline.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test fails by panicking")]

use std::path::Path;

use daylift_plant::Arrangement;
use daylift_plant_file::{Read, read_plant};
use daylift_study::workings::NAMES;
use daylift_study::{Working, run};
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
