//! The best rule of pumping: what it keeps, what it costs, and what a full search would find.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

use daylift_plant::{Arrangement, DayHours, GivenRule, Plant, RowRule, RuleSearch};
use daylift_study::answer::Rule;
use daylift_study::best_rule::{Effort, FindRules};
use daylift_study::compare::{Extras, compare_in_full};
use daylift_study::rules::Found;
use daylift_study::{ComparedRow, Comparison, Memory};
use daylift_supply::Flow;
use daylift_units::{Hourly, Step};

/// A worked plant, with all parts of the rule left out.
fn open_plant() -> Plant {
    open_plant_of("mulenga-ridge")
}

fn open_plant_of(example: &str) -> Plant {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples").join(example);
    let mut plant = daylift_plant_file::read_plant(&folder).unwrap().plant;
    plant.pumping.given = GivenRule::default();
    plant.pumping.low_mark_is_given = false;
    plant.pumping.rows.clear();
    plant.pumping.search = RuleSearch::Best;
    plant
}

fn compared(plant: &Plant, step: Step, effort: Effort) -> Comparison {
    let extras = Extras {
        rules: FindRules::Search(effort),
        ..Extras::NONE
    };
    compare_in_full(plant, step, &[], extras, &Memory::none(), &mut |_, _| ())
}

fn found(one: &ComparedRow) -> Option<Found> {
    one.row.rule.as_ref().map(|rule| rule.found)
}

fn delivered_m3(one: &ComparedRow) -> f64 {
    one.row.water_m3.of(Flow::Delivered)
}

#[test]
fn the_best_rule_keeps_todays_water_and_the_reference_runs_as_written() {
    let mut plant = open_plant();
    let full = compared(&plant, Step::TenMinutes, Effort::Descent);
    let today = full.row(plant.reference).unwrap();
    assert_eq!(found(today), Some(Found::AsWritten));
    let again = full.row(plant.reference.with_best_rule()).unwrap();
    assert!(again.row.money.capital.total_cmp(&today.row.money.capital).is_eq() && again.row.money.npv >= Some(0.0));
    for one in full.rows.iter().filter(|one| found(one) == Some(Found::Best)) {
        assert!(delivered_m3(one) >= 0.999 * delivered_m3(today), "{}", one.row.id);
        for (month, theirs) in one.detail.months.iter().zip(&today.detail.months) {
            let least_m3 = 0.99 * theirs.sums.of(Flow::Delivered);
            assert!(
                month.sums.of(Flow::Delivered) >= least_m3,
                "{}: {}",
                one.row.id,
                month.month
            );
        }
    }
    // As written, no row is better off than under its best rule, if both keep today's water.
    plant.pumping.search = RuleSearch::AsWritten;
    let written = compared(&plant, Step::TenMinutes, Effort::Descent);
    for one in &written.rows {
        let best = full.row(one.row.id).unwrap();
        assert_eq!(
            found(one).is_none_or(|found| found == Found::AsWritten),
            !one.row.id.best_rule,
            "{}",
            one.row.id
        );
        let both = found(best) == Some(Found::Best) && delivered_m3(one) >= 0.999 * delivered_m3(today);
        // The search compares hourly years: a little may be lost at the reported step.
        assert!(
            !both || best.row.money.npv.unwrap() >= one.row.money.npv.unwrap() - 0.005 * 26_300.0,
            "{}",
            one.row.id
        );
    }
}

#[test]
fn a_descent_finds_nearly_what_a_full_search_finds() {
    for example in ["mulenga-ridge", "sable-hollow"] {
        let plant = open_plant_of(example);
        let [few, all] = [Effort::Descent, Effort::All].map(|effort| compared(&plant, Step::Hour, effort));
        let most_capital = few.rows.iter().map(|one| one.row.money.capital).fold(0.0, f64::max);
        for (few, all) in few.rows.iter().zip(&all.rows) {
            let capital = if few.row.money.capital > 0.0 {
                few.row.money.capital
            } else {
                most_capital
            };
            // Where no rule keeps today's water the wettest is taken, whatever it is worth.
            let is_best = [few, all].map(found).contains(&Some(Found::Best));
            let missed = all.row.money.npv.unwrap() - few.row.money.npv.unwrap();
            assert!(
                missed <= 0.005 * capital || !is_best,
                "{example}, {}: {missed:.0}\n{:?}\n{:?}",
                few.row.id,
                few.row.rule,
                all.row.rule
            );
        }
    }
}

#[test]
fn a_rule_that_the_file_gives_in_full_is_not_searched_for() {
    let mut plant = open_plant();
    let written = plant.written_rule(Arrangement::GRID_ONLY);
    plant.pumping.given = GivenRule {
        hours: Some(written.hours),
        fill: Some(written.fill),
        low_mark: None,
        surplus: Some(1.0),
    };
    plant.pumping.low_mark_is_given = true;
    let full = compared(&plant, Step::Hour, Effort::Descent);
    let others = full.rows.iter().filter(|one| !one.row.id.best_rule);
    assert!(others.into_iter().all(|one| found(one).is_none_or(|found| found == Found::AsWritten)));
}

/// The file may give hours to all rows and others to today's way: it then may keep its own.
#[test]
fn todays_way_under_its_best_rule_is_never_worth_less_than_as_written() {
    let mut plant = open_plant();
    plant.pumping.given.hours = Some(DayHours::between(17, 21));
    plant.pumping.rows.push(RowRule {
        rows: vec![plant.reference],
        given: GivenRule {
            hours: Some(DayHours::ALL),
            ..GivenRule::default()
        },
    });
    let full = compared(&plant, Step::Hour, Effort::Descent);
    let again = full.row(plant.reference.with_best_rule()).unwrap();
    assert!(
        again.row.money.npv >= Some(0.0),
        "{:?} {:?}",
        again.row.money.npv,
        again.row.rule
    );
    assert_eq!(found(again), Some(Found::Best));
}

/// What a row says of its rule is what its year was simulated with.
#[test]
fn a_found_rule_that_is_written_into_the_file_gives_the_same_year() {
    let plant = open_plant();
    let searched = compared(&plant, Step::Hour, Effort::Descent);
    let mut partly_filled = 0;
    for one in searched
        .rows
        .iter()
        .filter(|one| found(one) == Some(Found::Best) && !one.row.id.best_rule)
    {
        let mut written = plant.clone();
        let given = given_by(one.row.rule.as_ref().unwrap());
        partly_filled += usize::from(given.fill.is_some_and(|fill| fill.values().any(|level| *level < 1.0)));
        written.pumping.rows.push(RowRule {
            rows: vec![one.row.id],
            given,
        });
        written.pumping.search = RuleSearch::AsWritten;
        let again = compared(&written, Step::Hour, Effort::Descent);
        let again = again.row(one.row.id).unwrap();
        let close = |a: f64, b: f64| (a - b).abs() <= 1e-9 * a.abs().max(1.0);
        assert!(close(delivered_m3(again), delivered_m3(one)), "{}", one.row.id);
        assert!(
            close(again.row.money.first_year_bill, one.row.money.first_year_bill),
            "{}",
            one.row.id
        );
    }
    assert!(partly_filled > 0);
}

fn given_by(rule: &Rule) -> GivenRule {
    let levels: Vec<f64> = rule.mains_fill_pct.iter().map(|pct| pct / 100.0).collect();
    let windows = rule.mains_hours.iter().map(|&[from, to]| DayHours::between(from, to));
    GivenRule {
        hours: windows.reduce(DayHours::or),
        fill: Some(Hourly::from_array(std::array::from_fn(|hour| {
            levels[hour % levels.len()]
        }))),
        low_mark: Some(rule.low_mark_pct / 100.0),
        surplus: rule.surplus_pct.map(|pct| pct / 100.0),
    }
}
