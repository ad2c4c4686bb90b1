//! Measures of a series of yearly flows.

/// Lowest rate that is used, per year: at −1 and below, discounting has no meaning.
pub const LEAST_RATE: f64 = -0.99;

/// Net present value: Σ flow_n / (1 + r)^n, the first flow at time 0 (n = 0).
///
/// Spreadsheets put the first flow at the end of year 1; here it is not discounted. For a rate below [`LEAST_RATE`] that
/// one is used.
///
/// ```
/// // Brealey & Myers, Principles of Corporate Finance, ch. 2 (from memory, reproduces): −350 now, 400 in a year, 7 %
/// assert!((daylift_money::npv(0.07, &[-350.0, 400.0]) - 23.83).abs() < 0.005);
/// ```
#[must_use]
pub fn npv(rate: f64, flows: &[f64]) -> f64 {
    let factor = 1.0 / (1.0 + rate.max(LEAST_RATE));
    flows.iter().rev().fold(0.0, |value, flow| value * factor + flow)
}

/// Present value of 1 at the end of each of `years` years: Σ (1 + r)^−n.
#[must_use]
pub fn annuity_factor(rate: f64, years: u32) -> f64 {
    let factor = 1.0 / (1.0 + rate.max(LEAST_RATE));
    (0..years).fold(0.0, |value, _| (value + 1.0) * factor)
}

/// Level yearly payment that repays 1 over `years` years: r·(1 + r)^n / ((1 + r)^n − 1), and 1/n at r = 0.
///
/// `None` for no years.
///
/// ```
/// // Standard interest tables: 8 %, 20 years
/// assert!((daylift_money::capital_recovery_factor(0.08, 20).unwrap() - 0.10185).abs() < 0.5e-5);
/// ```
#[must_use]
pub fn capital_recovery_factor(rate: f64, years: u32) -> Option<f64> {
    (years > 0).then(|| 1.0 / annuity_factor(rate, years))
}

/// Simple payback \[years\]: capital beyond the reference over the first year's saving.
///
/// `None` when nothing is saved; 0 when there is no capital beyond the reference.
#[must_use]
pub fn simple_payback_years(capital_difference: f64, first_year_saving: f64) -> Option<f64> {
    (first_year_saving > 0.0).then(|| capital_difference.max(0.0) / first_year_saving)
}

/// Time \[years\] after which the discounted flows have first repaid the outlay, along a straight line within the year. At
/// a rate of 0 it is the payback of the undiscounted flows.
///
/// `None` when they never repay it. Without an outlay (flow of year 0 not below 0): 0 if the first year saves, else `None`,
/// as with [`simple_payback_years`].
#[must_use]
pub fn discounted_payback_years(rate: f64, flows: &[f64]) -> Option<f64> {
    let (&first, rest) = flows.split_first()?;
    if first >= 0.0 {
        return rest.first().is_some_and(|saving| *saving > 0.0).then_some(0.0);
    }
    let factor = 1.0 / (1.0 + rate.max(LEAST_RATE));
    let (mut open, mut discount, mut year) = (-first, 1.0, 0.0);
    for flow in rest {
        discount *= factor;
        let value = flow * discount;
        if value >= open {
            return Some(year + open / value);
        }
        open -= value;
        year += 1.0;
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Brealey, Myers & Allen, Principles of Corporate Finance, ch. 5 (from memory, reproduces).
    const A: [f64; 4] = [-2000.0, 500.0, 500.0, 5000.0];
    const B: [f64; 4] = [-2000.0, 500.0, 1800.0, 0.0];
    const C: [f64; 4] = [-2000.0, 1800.0, 500.0, 0.0];

    #[test]
    fn payback_and_present_value_rank_three_projects_differently() {
        for (flows, whole_years, value) in [(A, 3.0, 2624.34), (B, 2.0, -57.85), (C, 2.0, 49.59)] {
            assert!((npv(0.10, &flows) - value).abs() < 0.005);
            let years: f64 = discounted_payback_years(0.0, &flows).unwrap();
            assert!((years.ceil() - whole_years).abs() < 1e-12, "{years}");
        }
        assert!((discounted_payback_years(0.0, &C).unwrap() - 1.4).abs() < 1e-12);
    }

    #[test]
    fn a_textbook_value_over_four_years() {
        // The example of `npv` in the documentation of numpy-financial: 3065.22267.
        let flows = [-40_000.0, 5000.0, 8000.0, 12_000.0, 30_000.0];
        assert!((npv(0.08, &flows) - 3065.22).abs() < 0.005);
    }

    #[test]
    fn capital_recovery_as_in_standard_tables() {
        for (rate, years, factor) in [
            (0.05, 20, 0.08024),
            (0.08, 20, 0.10185),
            (0.08, 25, 0.09368),
            (0.10, 10, 0.16275),
            (0.10, 20, 0.11746),
            (0.12, 15, 0.14682),
        ] {
            let got = capital_recovery_factor(rate, years).unwrap();
            assert!((got - factor).abs() <= 0.5e-5, "{got} {factor}");
        }
        assert_eq!(capital_recovery_factor(0.0, 20), Some(0.05));
        assert_eq!(capital_recovery_factor(0.08, 0), None);
    }

    #[test]
    fn what_is_never_repaid_has_no_payback() {
        assert_eq!(discounted_payback_years(0.10, &B), None);
        assert_eq!(simple_payback_years(1e3, 0.0), None);
        assert_eq!(discounted_payback_years(0.1, &[]), None);
    }

    #[test]
    fn a_rate_of_minus_one_and_below_still_gives_a_number() {
        assert!(npv(-1.0, &A).is_finite() && annuity_factor(-5.0, 30).is_finite());
    }
}
