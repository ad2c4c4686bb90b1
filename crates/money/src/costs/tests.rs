use super::*;
use crate::Bill;
use proptest::prelude::*;

/// Three years in which nothing grows and nothing ages.
const TERMS: Terms = Terms {
    years: 3,
    discount_rate: 0.08,
    price_escalation: 0.0,
    export_credit_escalation: 0.0,
    inflation: 0.0,
    fuel_escalation: 0.0,
    yearly_degradation: 0.0,
};

fn row(charges: f64, export_credit: f64, fuel: f64) -> RowCosts {
    let bill = Bill {
        energy_charge: charges,
        fixed_charge: 0.0,
        export_credit,
    };
    RowCosts {
        capital: 0.0,
        upkeep_per_year: 100.0,
        energy: EnergyCost { bill, fuel },
        missing_per_year: 0.0,
        replacements: Vec::new(),
        delivered_m3: 1.0,
        has_array: true,
        loads_only_bill: 500.0,
    }
}

fn years(row: &RowCosts, reference: &RowCosts, terms: &Terms) -> Vec<YearCost> {
    row.years(reference, terms).collect()
}

/// What a row saves in each year against a reference.
fn savings(row: &RowCosts, reference: &RowCosts, terms: &Terms) -> Vec<f64> {
    let own = row.years(reference, terms);
    let theirs = reference.years(reference, terms);
    theirs.zip(own).map(|(theirs, own)| theirs.total() - own.total()).collect()
}

fn near(got: &[f64], expected: &[f64]) {
    assert_eq!(got.len(), expected.len());
    assert!(
        got.iter().zip(expected).all(|(got, wanted)| (got - wanted).abs() < 1e-9),
        "{got:?} instead of {expected:?}"
    );
}

#[test]
fn a_positive_saving_on_charges_shrinks_before_prices_grow() {
    // Worked by hand, saving 500 − 400 = 100, d = 1 %, e = 3 %:
    // year 1: 100; year 2: 100·0.99·1.03 = 101.97; year 3: 100·0.9801·1.0609 = 103.978 809.
    let terms = Terms {
        price_escalation: 0.03,
        yearly_degradation: 0.01,
        ..TERMS
    };
    let (reference, ours) = (row(500.0, 0.0, 0.0), row(400.0, 0.0, 0.0));
    near(&savings(&ours, &reference, &terms), &[100.0, 101.97, 103.978_809]);
    // The row's charges of year 3: 500·1.0609 − 103.978 809 = 530.45 − 103.978 809 = 426.471 191.
    let third = years(&ours, &reference, &terms)[2];
    assert!((third.charges - 426.471_191).abs() < 1e-9);
    // The bill of the loads alone: 500·1.0609.
    assert!((third.loads_only_bill - 530.45).abs() < 1e-9);
}

#[test]
fn a_negative_saving_does_not_shrink() {
    // Worked by hand, saving 400 − 500 = −100, d = 1 %, e = 3 %: −100; −100·1.03 = −103; −100·1.0609 = −106.09.
    let terms = Terms {
        price_escalation: 0.03,
        yearly_degradation: 0.01,
        ..TERMS
    };
    let (reference, ours) = (row(400.0, 0.0, 0.0), row(500.0, 0.0, 0.0));
    near(&savings(&ours, &reference, &terms), &[-100.0, -103.0, -106.09]);
}

#[test]
fn fuel_saved_off_grid_shrinks_like_a_bill() {
    // Worked by hand, a farm without a grid, fuel 1000 − 200 = 800 saved, d = 1 %, f = 5 %:
    // year 1: 800; year 2: 800·0.99·1.05 = 831.6; year 3: 800·0.9801·1.1025 = 864.4482.
    let terms = Terms {
        fuel_escalation: 0.05,
        yearly_degradation: 0.01,
        ..TERMS
    };
    let (reference, ours) = (row(0.0, 0.0, 1000.0), row(0.0, 0.0, 200.0));
    near(&savings(&ours, &reference, &terms), &[800.0, 831.6, 864.4482]);
    // The row's fuel of year 3: 1000·1.1025 − 864.4482 = 238.0518.
    assert!((years(&ours, &reference, &terms)[2].fuel - 238.0518).abs() < 1e-9);
    // A row without a set saves all 1000; in year 3 the older array misses 1000·(1 − 0.9801)·1.1025 = 21.939 75 of it.
    assert!((years(&row(0.0, 0.0, 0.0), &reference, &terms)[2].fuel - 21.939_75).abs() < 1e-9);
    // More fuel than the reference does not shrink: 1200 − 1000 = 200 more; 200·1.05 = 210; 200·1.1025 = 220.5.
    near(
        &savings(&row(0.0, 0.0, 1200.0), &reference, &terms),
        &[-200.0, -210.0, -220.5],
    );
}

#[test]
fn an_export_credit_shrinks_and_grows_at_its_own_rate_only() {
    // Worked by hand, credit 50 against none, d = 2 %, prices rising 10 %, the credit not: 50; 50·0.98 = 49; 50·0.9604 = 48.02.
    let terms = Terms {
        price_escalation: 0.10,
        yearly_degradation: 0.02,
        ..TERMS
    };
    let (reference, ours) = (row(0.0, 0.0, 0.0), row(0.0, 50.0, 0.0));
    near(&savings(&ours, &reference, &terms), &[50.0, 49.0, 48.02]);
    // The credit rising 4 %: 49·1.04 = 50.96; 48.02·1.0816 = 51.938 432.
    let rising = Terms {
        export_credit_escalation: 0.04,
        ..terms
    };
    near(&savings(&ours, &reference, &rising), &[50.0, 50.96, 51.938_432]);
}

#[test]
fn each_saving_is_judged_by_itself() {
    // Worked by hand, charges 300 against 200 (−100), credit 150 against 0 (+150), d = 2 %:
    // year 1: 50; year 2: −100 + 150·0.98 = 47; year 3: −100 + 150·0.9604 = 44.06.
    let terms = Terms {
        yearly_degradation: 0.02,
        ..TERMS
    };
    near(
        &savings(&row(300.0, 150.0, 0.0), &row(200.0, 0.0, 0.0), &terms),
        &[50.0, 47.0, 44.06],
    );
}

#[test]
fn without_an_array_only_prices_grow() {
    // Worked by hand: 400·1.1² = 484, whatever the reference pays; upkeep 100·1.05² = 110.25.
    let terms = Terms {
        price_escalation: 0.10,
        inflation: 0.05,
        yearly_degradation: 0.02,
        ..TERMS
    };
    let ours = RowCosts {
        has_array: false,
        ..row(400.0, 0.0, 0.0)
    };
    let third = years(&ours, &row(1000.0, 0.0, 0.0), &terms)[2];
    assert!((third.charges - 484.0).abs() < 1e-9 && (third.upkeep - 110.25).abs() < 1e-9);
}

#[test]
fn nothing_is_replaced_at_the_end() {
    // Worked by hand: every two years of three is year 2 alone, 50·1.05 = 52.5; every three years would be the end.
    let terms = Terms {
        inflation: 0.05,
        ..TERMS
    };
    let ours = RowCosts {
        replacements: vec![(2, 50.0), (3, 1000.0)],
        ..row(400.0, 0.0, 0.0)
    };
    let years = years(&ours, &ours, &terms);
    let replaced: Vec<f64> = years.iter().map(|y| y.replacements).collect();
    near(&replaced, &[0.0, 52.5, 0.0]);
    assert!((years[1].total() - years[1].running() - 52.5).abs() < 1e-9);
}

proptest! {
    #[test]
    fn no_saving_that_is_negative_shrinks(
        ours in [0.0..1e5_f64, 0.0..1e4_f64, 0.0..1e5_f64],
        less in [0.0..1e4_f64, 0.0..1e4_f64, 0.0..1e4_f64],
        degradation in 0.0..0.05_f64,
        escalation in -0.05..0.2_f64,
    ) {
        // The reference pays less for charges and fuel, and gets more credit: the row saves nothing anywhere.
        let [charges, credit, fuel] = ours;
        let ours = row(charges, credit, fuel);
        let reference = row(charges - less[0], credit + less[1], fuel - less[2]);
        let terms = Terms { years: 25, price_escalation: escalation, fuel_escalation: escalation, ..TERMS };
        let aged = Terms { yearly_degradation: degradation, ..terms };
        prop_assert_eq!(years(&ours, &reference, &aged), years(&ours, &reference, &terms));
    }

    #[test]
    fn without_degradation_the_reference_does_not_matter(
        ours in [0.0..1e5_f64, 0.0..1e4_f64, 0.0..1e5_f64],
        theirs in [0.0..1e5_f64, 0.0..1e4_f64, 0.0..1e5_f64],
        escalation in -0.05..0.2_f64,
    ) {
        let [ours, theirs] = [ours, theirs].map(|[charges, credit, fuel]| row(charges, credit, fuel));
        let terms = Terms { years: 25, price_escalation: escalation, export_credit_escalation: escalation, ..TERMS };
        prop_assert_eq!(years(&ours, &theirs, &terms), years(&ours, &ours, &terms));
    }

    #[test]
    fn an_older_array_never_saves_more(
        ours in [0.0..1e5_f64, 0.0..1e4_f64, 0.0..1e5_f64],
        theirs in [0.0..1e5_f64, 0.0..1e4_f64, 0.0..1e5_f64],
        degradation in 0.0..0.05_f64,
    ) {
        let [ours, theirs] = [ours, theirs].map(|[charges, credit, fuel]| row(charges, credit, fuel));
        let terms = Terms { years: 25, yearly_degradation: degradation, ..TERMS };
        // Rounding of sums of up to 3e5.
        prop_assert!(savings(&ours, &theirs, &terms).windows(2).all(|pair| pair[1] <= pair[0] + 1e-9));
    }
}
