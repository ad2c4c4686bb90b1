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
        missing_per_year: 0.0,
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

/// Charges 1000 and fuel 300 against charges 400, credit 100, `fuel`, upkeep 20 and capital 4000; d = 1 %, charges rising
/// 4 %, the credit 2 %, fuel and upkeep 3 % a year, discounted at 10 %.
fn ageing(years: u32, fuel: f64) -> Cashflow {
    let terms = Terms {
        price_escalation: 0.04,
        export_credit_escalation: 0.02,
        inflation: 0.03,
        fuel_escalation: 0.03,
        yearly_degradation: 0.01,
        ..terms(years, 0.10)
    };
    let with = |mut row: RowCosts, credit: f64, fuel: f64| {
        row.energy.bill.export_credit = credit;
        row.energy.fuel = fuel;
        row
    };
    let reference = with(row(0.0, 0.0, 1000.0), 0.0, 300.0);
    Cashflow::against(&reference, &with(row(4000.0, 20.0, 400.0), 100.0, fuel), &terms)
}

#[test]
fn an_ageing_array_against_an_independent_table() {
    // numpy-financial 1.0 (npv, irr) on flows worked from the rules of docs/model.md §13, without this code.
    // More fuel than the reference: that saving is negative and does not shrink.
    let flow = ageing(5, 350.0);
    let expected = [
        -4000.0,
        630.0,
        646.64,
        663.7523,
        681.350_664_720_8,
        699.449_263_699_375_5,
    ];
    assert!(flow.flows().iter().zip(expected).all(|(got, wanted)| (got - wanted).abs() < 1e-9));
    assert!((flow.npv() + 1_494.497_942_954_557_6).abs() < 1e-9);
    assert!((flow.irr().unwrap() + 0.058_011_213_961_490_2).abs() < 1e-9);
    assert!((flow.simple_payback_years().unwrap() - 4000.0 / 630.0).abs() < 1e-12);
    assert_eq!(flow.ahead_from_year(), None);
    let longer = ageing(8, 350.0);
    assert!((longer.npv() + 357.770_201_647_3).abs() < 1e-9);
    assert!((longer.irr().unwrap() - 0.075_714_338_025_5).abs() < 1e-9);
    assert_eq!(longer.ahead_from_year(), Some(6));
    // No fuel: all of the reference's is saved, and that saving shrinks.
    let flow = ageing(5, 0.0);
    let expected = [
        -4000.0,
        980.0,
        1004.05,
        1_028.733_727,
        1_054.068_589_332_700_2,
        1_080.072_485_831_130_3,
    ];
    assert!(flow.flows().iter().zip(expected).all(|(got, wanted)| (got - wanted).abs() < 1e-9));
    assert!((flow.npv() + 115.811_579_085_4).abs() < 1e-9);
    assert!((flow.irr().unwrap() - 0.088_790_803_106_3).abs() < 1e-9);
    assert_eq!(flow.ahead_from_year(), Some(4));
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
