//! The internal rate of return.

use daylift_units::root;

use crate::measures::LEAST_RATE;

/// Maximum rate that is searched.
const GREATEST_RATE: f64 = 10.0;
/// Steps of the search, equal in ln(1 + r): 1.4 % of 1 + r each.
const STEPS: u32 = 500;

/// The rate at which the net present value of the flows is zero, between −0.99 and 10 per year.
///
/// `None` when the flows do not change sign, or when there is no root in the range. With several roots, the result is the
/// smallest that is not negative, else the negative one nearest to 0. Two roots closer together than 1.4 % of 1 + r may be
/// missed. When gains come before costs (first flow positive), it is a borrower's rate: the smaller the better.
///
/// ```
/// // Brealey, Myers & Allen, Principles of Corporate Finance, ch. 5 (from memory, reproduces)
/// assert!((daylift_money::irr(&[-4000.0, 2000.0, 4000.0]).unwrap() - 0.2808).abs() < 0.5e-4);
/// ```
#[must_use]
pub fn irr(flows: &[f64]) -> Option<f64> {
    let changes_sign = flows.iter().any(|f| *f > 0.0) && flows.iter().any(|f| *f < 0.0);
    if !changes_sign || !flows.iter().all(|f| f.is_finite()) {
        return None;
    }
    let roots = || brackets().filter_map(|(low, high)| root_between(flows, low, high));
    roots().find(|r| *r >= 0.0).or_else(|| roots().last())
}

/// Neighbouring values of 1 + r over the range.
fn brackets() -> impl Iterator<Item = (f64, f64)> {
    let span = (1.0 + GREATEST_RATE) / (1.0 + LEAST_RATE);
    let growth = move |step: u32| (1.0 + LEAST_RATE) * span.powf(f64::from(step) / f64::from(STEPS));
    (0..STEPS).map(move |step| (growth(step), growth(step + 1)))
}

fn root_between(flows: &[f64], low: f64, high: f64) -> Option<f64> {
    let value = |growth: f64| scaled_value(flows, growth);
    let (at_low, at_high) = (value(low), value(high));
    if at_low == 0.0 {
        return Some(low - 1.0);
    }
    if at_low * at_high >= 0.0 {
        return None;
    }
    let growth = root::bracketed(low, high, value)?;
    // Rounding of 1 + r must not turn a rate of zero into a negative one.
    let rate = growth - 1.0;
    Some(if rate.abs() < 1e-12 { 0.0 } else { rate })
}

/// Net present value, scaled to keep its sign and a size near 1: the flows are divided by the largest, and for 1 + r below
/// 1 the value is that at the end of the last year, so that no power overflows.
fn scaled_value(flows: &[f64], growth: f64) -> f64 {
    let greatest = flows.iter().fold(0.0_f64, |g, f| g.max(f.abs()));
    let sum = if growth >= 1.0 {
        flows.iter().rev().fold(0.0, |value, flow| value / growth + flow)
    } else {
        flows.iter().fold(0.0, |value, flow| value * growth + flow)
    };
    sum / greatest
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::npv;
    use proptest::prelude::*;

    #[test]
    fn textbook_rates() {
        // Brealey & Myers ch. 2; Brealey, Myers & Allen ch. 5 (both from memory, reproduce); the example of `irr` in the
        // documentation of numpy-financial.
        let cases: [(&[f64], f64, f64); 3] = [
            (&[-350.0, 400.0], 0.1429, 0.5e-4),
            (&[-4000.0, 2000.0, 4000.0], 0.280_78, 0.5e-5),
            (&[-100.0, 39.0, 59.0, 55.0, 20.0], 0.280_95, 0.5e-5),
        ];
        for (flows, rate, half_unit) in cases {
            let got = irr(flows).unwrap();
            assert!((got - rate).abs() <= half_unit, "{got} {rate}");
        }
    }

    #[test]
    fn of_several_rates_the_smallest_that_is_not_negative() {
        // Worked by hand: (x − 1.1)(x − 1.3)·(−1000) with x = 1 + r: −1000, 2400, −1430; roots 10 % and 30 %.
        assert!((irr(&[-1000.0, 2400.0, -1430.0]).unwrap() - 0.10).abs() < 1e-9);
        // (x − 0.8)(x − 1.2): −1000, 2000, −960; roots −20 % and 20 %.
        assert!((irr(&[-1000.0, 2000.0, -960.0]).unwrap() - 0.20).abs() < 1e-9);
    }

    #[test]
    fn money_that_is_only_just_or_never_recovered() {
        assert!(irr(&[-100.0, 50.0, 50.0]).unwrap().abs() < 1e-12);
        // Worked by hand: half of it comes back after one year.
        assert!((irr(&[-100.0, 50.0]).unwrap() + 0.5).abs() < 1e-9);
        assert_eq!(irr(&[-100.0, -5.0]), None);
        assert_eq!(irr(&[100.0, 5.0]), None);
        assert_eq!(irr(&[0.0, 0.0]), None);
        assert_eq!(irr(&[-1.0, 50.0]), None);
        assert_eq!(irr(&[f64::NAN, 50.0]), None);
    }

    proptest! {
        #[test]
        fn at_the_rate_the_present_value_is_zero(saving in 10.0..2000.0_f64, growth in -0.05..0.15_f64, years in 1_i32..40) {
            let mut flows = vec![-1000.0];
            flows.extend((0..years).map(|n| saving * (1.0 + growth).powi(n)));
            if let Some(rate) = irr(&flows) {
                let whole: f64 = (0_i32..).zip(&flows).map(|(n, f)| f.abs() * (1.0 + rate).powi(-n)).sum();
                prop_assert!(npv(rate, &flows).abs() <= 1e-9 * whole, "{rate}");
            } else {
                prop_assert!(npv(LEAST_RATE, &flows) * npv(GREATEST_RATE, &flows) > 0.0);
            }
        }
    }
}
