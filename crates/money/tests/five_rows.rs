//! Five rows of a farm, worked by hand from `docs/model.md` §13 without this code: savings by pencil, net present values and
//! rates of return with numpy-financial 1.0.0.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

use daylift_money::{Bill, Cashflow, EnergyCost, RowCosts, Terms};

const TERMS: Terms = Terms {
    years: 20,
    discount_rate: 0.10,
    price_escalation: 0.04,
    export_credit_escalation: 0.02,
    inflation: 0.03,
    fuel_escalation: 0.05,
    yearly_degradation: 0.005,
};

/// Money of a row: capital, then charges, credit, upkeep and fuel of the first year.
type Paid = [f64; 5];

fn row(paid: Paid, has_array: bool, replacement: f64, missing_per_year: f64) -> RowCosts {
    let [capital, energy_charge, export_credit, upkeep_per_year, fuel] = paid;
    let bill = Bill {
        energy_charge,
        fixed_charge: 0.0,
        export_credit,
    };
    RowCosts {
        capital,
        upkeep_per_year,
        energy: EnergyCost { bill, fuel },
        missing_per_year,
        replacements: vec![(12, replacement)],
        delivered_m3: 42_000.0,
        has_array,
        loads_only_bill: 0.0,
    }
}

/// `grid-only+generator` (the reference), `grid-only`, `battery-hybrid`, `solar-drive-with-grid+generator`,
/// `dual-mode+generator`; `missing`: value of what each lacks in the first year.
fn rows(missing: [f64; 5]) -> [RowCosts; 5] {
    [
        row([9000.0, 12_000.0, 0.0, 900.0, 4000.0], false, 0.0, missing[0]),
        row([1500.0, 11_900.0, 0.0, 150.0, 0.0], false, 0.0, missing[1]),
        row([47_000.0, 6200.0, 300.0, 450.0, 0.0], true, 12_000.0, missing[2]),
        row([30_000.0, 8900.0, 0.0, 1000.0, 2600.0], true, 0.0, missing[3]),
        row([38_000.0, 7700.0, 350.0, 1150.0, 2300.0], true, 2900.0, missing[4]),
    ]
}

/// Saving of the first year, payback, net present value, rate of return, year from which the row is ahead, and the flows
/// of years 2, 12 and 20.
type Expected = (f64, Option<f64>, f64, Option<f64>, Option<usize>, [f64; 3]);

fn check(rows: &[RowCosts; 5], expected: &[Expected; 5]) {
    for (at, (row, (saving, payback, npv, irr, ahead, flows))) in rows.iter().zip(*expected).enumerate() {
        let flow = Cashflow::against(&rows[0], row, &TERMS);
        let near = |got: f64, wanted: f64, within: f64| {
            assert!((got - wanted).abs() <= within, "row {at}: {got} instead of {wanted}");
        };
        near(flow.first_saving(), saving, 1e-9);
        assert_eq!(flow.simple_payback_years().is_some(), payback.is_some(), "row {at}");
        near(flow.simple_payback_years().unwrap_or(0.0), payback.unwrap_or(0.0), 1e-9);
        near(flow.npv(), npv, 1e-6);
        assert_eq!(flow.irr().is_some(), irr.is_some(), "row {at}");
        near(flow.irr().unwrap_or(0.0), irr.unwrap_or(0.0), 1e-11);
        assert_eq!(flow.ahead_from_year(), ahead, "row {at}");
        for (year, wanted) in [2, 12, 20].into_iter().zip(flows) {
            near(flow.flows()[year], wanted, 1e-6);
        }
    }
}

#[test]
fn without_a_value_of_what_is_missing() {
    let none = [0.0; 3];
    check(
        &rows([0.0; 5]),
        &[
            (0.0, None, 0.0, None, Some(0), none),
            (
                4850.0,
                Some(0.0),
                64_910.029_766,
                None,
                Some(0),
                [5076.5, 8_033.478_241, 11_633.615_239],
            ),
            (
                10_550.0,
                Some(3.601_895_735),
                73_547.020_344,
                Some(0.308_143_452_780),
                Some(4),
                [10_948.81, -710.706_877, 21_485.628_494],
            ),
            (
                4400.0,
                Some(4.772_727_273),
                27_791.481_470,
                Some(0.241_854_199_974),
                Some(5),
                [4567.53, 6_643.894_221, 8_978.909_898],
            ),
            (
                6100.0,
                Some(4.754_098_361),
                36_710.802_179,
                Some(0.239_045_722_646),
                Some(5),
                [6323.43, 5_067.635_976, 12_167.212_063],
            ),
        ],
    );
}

/// Missing water at 3.00 per m³ and unserved load at 2.00 per kWh. The value rises with inflation and does not shrink.
#[test]
fn with_a_value_of_what_is_missing() {
    let valued = rows([3500.0, 12_190.0, 2850.0, 2580.0, 600.0]);
    check(
        &valued,
        &[
            (0.0, None, 0.0, None, Some(0), [0.0; 3]),
            (
                -3840.0,
                None,
                -25_904.576_068,
                Some(0.518_876_912_358),
                None,
                [-3874.2, -3_995.514_095, -3_604.352_362],
            ),
            (
                11_200.0,
                Some(3.392_857_143),
                80_339.827_455,
                Some(0.325_751_658_901),
                Some(4),
                [11_618.31, 189.045_139, 22_625.407_429],
            ),
            (
                5320.0,
                Some(3.947_368_421),
                37_405.916_150,
                Some(0.286_731_000_735),
                Some(4),
                [5515.13, 7_917.389_382, 10_592.135_467],
            ),
            (
                9000.0,
                Some(3.222_222_222),
                67_017.172_365,
                Some(0.342_001_834_085),
                Some(4),
                [9310.43, 9_081.914_201, 17_252.379_617],
            ),
        ],
    );
    // Neither the bill nor the cost of water includes it.
    let free = rows([0.0; 5]);
    for (valued, free) in valued.iter().zip(&free) {
        assert!((valued.energy.bill.total() - free.energy.bill.total()).abs() <= 0.0);
        let cost = |row: &RowCosts, all: &[RowCosts; 5]| daylift_money::cost_per_m3(row, &all[0], &TERMS);
        assert_eq!(
            cost(valued, &rows([3500.0, 12_190.0, 2850.0, 2580.0, 600.0])),
            cost(free, &rows([0.0; 5]))
        );
    }
}
