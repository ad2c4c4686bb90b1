//! Evaluating a working's printed formula with its printed values gives its number.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test fails by panicking")]

use std::path::Path;

use daylift_plant::Arrangement;
use daylift_plant_file::{Read, read_plant};
use daylift_study::compare::{Extras, WorkingsOf, compare_in_full};
use daylift_study::service::Level;
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

/// Every money figure of a row that serves less is marked, and its caution says what is missing: water, loads or both.
#[test]
fn workings_of_money_say_what_the_row_lacks() {
    let of_money = ["first-year-bill", "payback", "npv", "cost-per-m3"];
    let mut seen = [false; 4];
    for name in ["mulenga-ridge", "three-weirs"] {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples").join(name);
        let read = read_plant(&folder).unwrap();
        let extras = Extras {
            workings_of: WorkingsOf::All,
            ..Extras::NONE
        };
        let full = compare_in_full(&read.plant, Step::Hour, &[], extras, &Memory::none(), &mut |_, _| ());
        for one in full.rows.iter().filter(|one| one.row.id != full.reference) {
            let service = &one.row.service;
            let (water, loads) = (service.water == Level::Less, service.loads == Level::Less);
            for working in &one.detail.workings {
                let is_money = of_money.contains(&working.name.as_str());
                assert_eq!(working.comparable, !is_money || service.comparable, "{}", one.row.id);
                if is_money {
                    assert_eq!(working.caution.contains(" less water"), water, "{}", working.caution);
                    assert_eq!(
                        working.caution.contains("loads a year unserved"),
                        loads,
                        "{}",
                        working.caution
                    );
                }
            }
            seen[usize::from(water)] = true;
            seen[2 + usize::from(loads)] = true;
        }
    }
    assert_eq!(seen, [true; 4], "the examples lack a case");
}
