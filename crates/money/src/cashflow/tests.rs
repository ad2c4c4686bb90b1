use super::*;
use crate::{Bill, EnergyCost};
use proptest::prelude::*;

fn row(capital: f64, upkeep: f64, charges: f64) -> RowCosts {
    let bill = Bill {
        energy_charge: charges,
        ..Bill::default()
    };
    RowCosts {
        capital,
        upkeep_per_year: upkeep,
        energy: EnergyCost { bill, fuel: 0.0 },
        replacements: Vec::new(),
        delivered_m3: 30_000.0,
        has_array: true,
        loads_only_bill: 0.0,
    }
}

fn terms(years: u32, discount_rate: f64) -> Terms {
    Terms {
        years,
        discount_rate,
        price_escalation: 0.0,
        export_credit_escalation: 0.0,
        inflation: 0.0,
        fuel_escalation: 0.0,
        yearly_degradation: 0.0,
    }
}

#[test]
fn a_level_saving_over_twenty_years() {
    // −20 000, then 3200 in each of 20 years at 8 %: independent computation.
    let flow = Cashflow::against(&row(5e3, 300.0, 4e3), &row(25e3, 500.0, 600.0), &terms(20, 0.08));
    assert_eq!(flow.flows().len(), 21);
    assert!((flow.npv() - 11_418.07).abs() < 0.005);
    assert!((flow.irr().unwrap() - 0.150_27).abs() < 0.5e-5);
    assert!((flow.simple_payback_years().unwrap() - 6.25).abs() < 1e-12);
    // By the closed form ln 2 / ln 1.08 = 9.006; within the year we interpolate along a straight line.
    assert!((flow.discounted_payback_years().unwrap() - 9.006).abs() < 1e-3);
}

#[test]
fn nominal_and_real_terms_agree() {
    // Fisher: 12 % nominal with 5.5 % inflation is 6.161 % real (not 6.5 %). A saving on upkeep of 1 that inflates,
    // discounted nominally, is the level annuity at the real rate, in money of the first year's end.
    let terms = Terms {
        inflation: 0.055,
        ..terms(20, 0.12)
    };
    let flow = Cashflow::against(&row(0.0, 1.0, 0.0), &row(0.0, 0.0, 0.0), &terms);
    let annuity = |real: f64| crate::annuity_factor(real, 20) / 1.055;
    assert!(flow.npv() < annuity(0.061_605) && flow.npv() > annuity(0.061_615));
}

#[test]
fn a_row_that_saves_less_than_its_upkeep_never_pays() {
    let flow = Cashflow::against(&row(0.0, 0.0, 1e3), &row(1e4, 1200.0, 0.0), &terms(20, 0.08));
    assert_eq!(
        (flow.simple_payback_years(), flow.discounted_payback_years()),
        (None, None)
    );
    assert_eq!(flow.irr(), None);
}

#[test]
fn a_row_that_costs_no_more_and_saves_pays_at_once() {
    let flow = Cashflow::against(&row(5e3, 0.0, 1e3), &row(4e3, 0.0, 500.0), &terms(20, 0.08));
    assert_eq!(
        (flow.simple_payback_years(), flow.discounted_payback_years()),
        (Some(0.0), Some(0.0))
    );
    assert_eq!(flow.irr(), None);
}

#[test]
fn a_replacement_may_put_a_row_behind_again() {
    // 10 000 more to build, 3000 saved a year, 6000 for a new part after five years: worked by hand.
    let mut ours = row(10e3, 0.0, 0.0);
    ours.replacements.push((5, 6e3));
    let flow = Cashflow::against(&row(0.0, 0.0, 3e3), &ours, &terms(7, 0.08));
    assert_eq!(flow.sums(), [-10e3, -7e3, -4e3, -1e3, 2e3, -1e3, 2e3, 5e3]);
    assert_eq!(flow.ahead_from_year(), Some(6));
    let flow = Cashflow::against(&row(0.0, 0.0, 3e3), &ours, &terms(3, 0.08));
    assert_eq!(flow.ahead_from_year(), None);
}

#[test]
fn what_costs_no_more_is_ahead_from_the_start() {
    let flow = Cashflow::against(&row(5e3, 0.0, 1e3), &row(4e3, 0.0, 500.0), &terms(2, 0.08));
    assert_eq!((flow.sums(), flow.ahead_from_year()), (vec![1e3, 1.5e3, 2e3], Some(0)));
}

proptest! {
    #[test]
    fn the_reference_against_itself_is_nothing(capital in 0.0..1e6_f64, charges in 0.0..1e5_f64) {
        let reference = row(capital, 100.0, charges);
        let terms = Terms { price_escalation: 0.06, inflation: 0.04, yearly_degradation: 0.005, ..terms(25, 0.1) };
        let flow = Cashflow::against(&reference, &reference, &terms);
        prop_assert!(flow.flows().iter().all(|f| *f == 0.0));
    }
}
