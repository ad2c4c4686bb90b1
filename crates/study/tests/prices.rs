//! Prices that follow the design, and results without prices.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test fails by panicking")]

#[path = "fields/copy.rs"]
#[expect(dead_code, reason = "the tests of fields use more of it")]
mod copy;

use copy::{Copy, Edit};
use daylift_plant::Arrangement;
use daylift_study::answer::Money;
use daylift_study::compare::{Extras, WorkingsOf, compare_in_full};
use daylift_study::{ComparedRow, Comparison, Memory};
use daylift_units::Step;
use toml::Value;

fn set(path: &str, value: impl Into<Value>) -> Edit {
    ("plant", path.to_owned(), Some(value.into()))
}

/// The comparison of the example with these changes.
fn compared(edits: &[&[Edit]]) -> Comparison {
    // As written: without prices the search for the best rule has another aim.
    let edits = [&edits.concat()[..], &[set("pumping.rule", "as-written")]].concat();
    let read = Copy::new().with(&edits).read().unwrap_or_else(|faults| panic!("{faults:?}"));
    let extras = Extras {
        workings_of: WorkingsOf::All,
        ..Extras::NONE
    };
    compare_in_full(&read.plant, Step::Hour, &[], extras, &Memory::none(), &mut |_, _| ())
}

fn money(full: &Comparison, row: Arrangement) -> &Money {
    &full.row(row).unwrap().row.money
}

/// The example's modules cost 5400: 45 at 120 each.
fn per_module() -> Vec<Edit> {
    vec![set("money.capital#0.cost", 120), set("money.capital#0.per", "module")]
}

fn nine_strings() -> Vec<Edit> {
    vec![set("array.strings", 9)]
}

/// Worked by hand. The cost lines of `dual-mode` add up to 26 300, those of `grid-only` to 0. Nine strings have 90 more
/// modules, which cost 90 · 120 = 10 800 more: 37 100. The year is the same, so the payback is longer by 37 100 / 26 300.
#[test]
fn with_a_price_per_module_more_strings_cost_more() {
    let near = |a: f64, b: f64| (a - b).abs() < 1e-9 * b.abs().max(1.0);
    let dual = Arrangement::DUAL_MODE;
    let three = compared(&[&per_module()]);
    assert_eq!(money(&three, dual), money(&compared(&[]), dual));
    assert!(near(money(&three, dual).capital, 26_300.0));

    let lump = compared(&[&nine_strings()]);
    let counted = compared(&[&nine_strings(), &per_module()]);
    assert!(near(money(&lump, dual).capital, 26_300.0));
    assert!(near(money(&counted, dual).capital, 37_100.0));
    assert!(near(money(&counted, Arrangement::GRID_ONLY).capital, 0.0));
    let years = |full: &Comparison| money(full, dual).payback_years.unwrap();
    assert!(near(years(&counted), years(&lump) * 37_100.0 / 26_300.0));
    // The capital is paid at time 0, so it is not discounted.
    let npv = |full: &Comparison| money(full, dual).npv.unwrap();
    assert!((npv(&lump) - npv(&counted) - 10_800.0).abs() < 1e-6);
}

/// Worked by hand: 20 modules are there already, so 45 − 20 = 25 are bought: 3000 instead of 5400.
#[test]
fn what_the_farm_owns_costs_nothing_and_the_working_shows_every_line() {
    let full = compared(&[&per_module(), &[set("money.capital#0.owned", 20)]]);
    let row = full.row(Arrangement::DUAL_MODE).unwrap();
    assert!((row.row.money.capital - 23_900.0).abs() < 1e-9);
    let capital = row.detail.workings.iter().find(|w| w.name == "capital").unwrap();
    let symbol = |name: &str| capital.symbols.iter().find(|s| s.symbol == name).unwrap();
    assert!(capital.formula.starts_with("Q1 * P1 + C2 + "), "{}", capital.formula);
    assert!((symbol("Q1").value - 25.0).abs() < 1e-12 && (symbol("P1").value - 120.0).abs() < 1e-12);
    assert_eq!(
        symbol("Q1").meaning,
        "45 modules, 510 W: modules (45 less 20 owned); amount 3,000 USD"
    );
    assert_eq!(symbol("P1").unit, "USD per module");
    assert!(
        full.row(Arrangement::GRID_ONLY)
            .unwrap()
            .detail
            .workings
            .iter()
            .all(|w| w.name != "capital")
    );
}

fn without(section: &str) -> Edit {
    ("plant", section.to_owned(), None)
}

fn has_no_comparison(one: &ComparedRow) {
    let money = &one.row.money;
    assert_eq!((money.npv, money.irr, money.payback_years), (None, None, None));
    assert_eq!(money.cost_per_m3, Some(0.0));
    assert!(one.detail.cash.sums.is_empty() && one.detail.cash.ahead_from_year.is_none());
    let names: Vec<&str> = one.detail.workings.iter().map(|w| w.name.as_str()).collect();
    assert!(!names.iter().any(|name| ["npv", "payback", "cost-per-m3"].contains(name)));
}

#[test]
fn without_prices_only_the_money_is_missing() {
    let full = compared(&[]);
    let names = |one: &ComparedRow, name: &str| one.detail.workings.iter().any(|w| w.name == name);
    let dual = |full: &Comparison| full.row(Arrangement::DUAL_MODE).unwrap().clone();

    let none = compared(&[&[without("money"), without("tariff")]]);
    assert!(none.prices.are_none());
    for (one, priced) in none.rows.iter().zip(&full.rows) {
        has_no_comparison(one);
        // Today's way under its best rule is searched for by what is known.
        assert!(one.row.id.best_rule || one.row.water_m3 == priced.row.water_m3);
        assert_eq!(one.row.money.currency, "");
        assert!(one.row.money.capital.abs() + one.row.money.first_year_bill.abs() < 1e-12);
    }
    assert!(!names(&dual(&none), "capital") && !names(&dual(&none), "first-year-bill"));

    let of_tariff = compared(&[&[without("money")]]);
    of_tariff.rows.iter().for_each(has_no_comparison);
    let bill = |full: &Comparison| dual(full).row.money.first_year_bill;
    assert!((bill(&of_tariff) - bill(&full)).abs() < 1e-9 && names(&dual(&of_tariff), "first-year-bill"));

    let of_costs = compared(&[&[without("tariff"), set("money.currency", "ZMW")]]);
    of_costs.rows.iter().for_each(has_no_comparison);
    assert!((dual(&of_costs).row.money.capital - 26_300.0).abs() < 1e-9);
    assert!(bill(&of_costs).abs() < 1e-12 && names(&dual(&of_costs), "capital"));
    assert_eq!(dual(&of_costs).row.money.currency, "ZMW");
}
