//! Formats numbers, with honest rounding: the rule is on the front page of this crate.

use daylift_units::field::thousands;

use crate::say;

/// Values up to this count as 0: the ledger's balances close to within it.
const NOTHING: f64 = 1e-9;

/// Most decimals that tell two values apart; closer values show as equal.
const MOST_DECIMALS: usize = 6;

/// Shown where there is no value.
pub const NONE: &str = "–";

/// A number with commas between thousands, as on the page, and a fixed number of decimals.
#[must_use]
pub fn grouped(value: f64, decimals: usize) -> String {
    let text = format!("{:.decimals$}", value.abs());
    if !shows_nothing(&text) {
        return signed(value < 0.0, &thousands(&text));
    }
    let (is_nothing, least) = (value.abs() <= NOTHING, smallest(decimals));
    match (is_nothing, value < 0.0) {
        (true, _) => text,
        (false, true) => format!(">{}", signed(true, &least)),
        (false, false) => format!("<{least}"),
    }
}

/// The fewest decimals, from `least` on, with which two values that differ also look different.
pub(crate) fn decimals_apart(value: f64, other: f64, least: usize) -> usize {
    let differs = |&decimals: &usize| format!("{value:.decimals$}") != format!("{other:.decimals$}");
    (least..=MOST_DECIMALS).find(differs).unwrap_or(least)
}

/// Whether all digits are zeros.
fn shows_nothing(text: &str) -> bool {
    text.chars().all(|c| matches!(c, '0' | '.'))
}

/// The smallest positive number that `decimals` can show.
fn smallest(decimals: usize) -> String {
    match decimals {
        0 => "1".to_owned(),
        more => format!("0.{}1", "0".repeat(more - 1)),
    }
}

fn signed(is_negative: bool, figures: &str) -> String {
    let sign = if is_negative { "−" } else { "" };
    format!("{sign}{figures}")
}

/// The same; [`NONE`] if there is no value.
#[must_use]
pub fn maybe(value: Option<f64>, decimals: usize) -> String {
    value.map_or_else(|| NONE.to_owned(), |v| grouped(v, decimals))
}

/// Decimals of a share in per cent.
const SHARE_DECIMALS: usize = 1;

/// A share of 1 in per cent, with one decimal; [`NONE`] if there is no value.
#[must_use]
pub fn percent(value: Option<f64>) -> String {
    value.map_or_else(|| NONE.to_owned(), |v| share(v, SHARE_DECIMALS) + "%")
}

/// A share of 1 in per cent, without the per cent sign.
#[must_use]
pub fn share(of_one: f64, decimals: usize) -> String {
    let text = format!("{:.decimals$}", of_one * 100.0);
    let whole = format!("{:.decimals$}", 100.0);
    let least = smallest(decimals);
    if text == whole && (of_one - 1.0).abs() > NOTHING {
        // One step below the whole: 99, 99.9, 99.99.
        let below = format!(
            "{:.decimals$}",
            100.0 - 0.1_f64.powf(f64::from(u8::try_from(decimals).unwrap_or(u8::MAX)))
        );
        return format!(">{}", if of_one < 1.0 { &below } else { &whole });
    }
    match text.strip_prefix('-').unwrap_or(&text) {
        figures if !shows_nothing(figures) => signed(of_one < 0.0, figures),
        figures if of_one.abs() <= NOTHING => figures.to_owned(),
        _ if of_one < 0.0 => format!(">{}", signed(true, &least)),
        _ => format!("<{least}"),
    }
}

/// A number with a given number of significant figures, without trailing zeros after the decimal point.
#[must_use]
pub fn significant(figures: i32, value: f64) -> String {
    if value == 0.0 {
        return "0".to_owned();
    }
    let magnitude = value.abs().log10().floor();
    if !(-4.0..9.0).contains(&magnitude) {
        return format!("{value:.3e}");
    }
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "between 0 and 9")]
    let decimals = (f64::from(figures - 1) - magnitude).clamp(0.0, 9.0) as usize;
    let text = grouped(value, decimals);
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}

/// A number with three significant figures; digits before the decimal point are never dropped.
#[must_use]
pub fn short(value: f64) -> String {
    significant(3, value)
}

/// Payback of a row: `never`, `not in 20`, or the number of years. `horizon`: the years of the money calculation.
#[must_use]
pub fn payback(years: Option<f64>, horizon: u32) -> String {
    match years {
        None => say!("answers-never"),
        Some(years) if years > f64::from(horizon) => say!("answers-never.after", years = horizon.to_string()),
        Some(years) => grouped(years, 1),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn thousands_are_separated_by_commas() {
        assert_eq!(grouped(1_234_567.0, 0), "1,234,567");
        assert_eq!(grouped(-1234.5, 1), "−1,234.5");
        assert_eq!(maybe(None, 1), "–");
        assert_eq!(percent(Some(0.987)), "98.7%");
        assert_eq!(percent(Some(0.999_6)), ">99.9%");
    }

    #[test]
    fn a_negative_share_has_the_minus_of_other_numbers() {
        assert_eq!(percent(Some(-0.024)), "−2.4%");
        assert_eq!(percent(Some(-0.0004)), ">−0.1%");
    }

    /// By rounding by hand: 44.66 and 44.73 are 44.7 to a tenth; 800.004 is 800.00 to a hundredth.
    #[test]
    fn two_values_get_the_decimals_that_tell_them_apart() {
        assert_eq!(decimals_apart(44.66, 44.73, 1), 2);
        assert_eq!(decimals_apart(44.6, 44.73, 1), 1);
        assert_eq!(decimals_apart(800.004, 800.0, 2), 3);
        assert_eq!(decimals_apart(800.0, 800.0, 1), 1);
    }

    #[test]
    fn rounding_matches_the_cases_shared_with_the_page() {
        let cases: serde_json::Value = serde_json::from_str(include_str!("../words/rounding-cases.json")).unwrap();
        let of = |kind: &str| cases[kind].as_array().unwrap().clone();
        let read = |case: &serde_json::Value| {
            let decimals = usize::try_from(case["decimals"].as_u64().unwrap()).unwrap();
            (
                case["value"].as_f64().unwrap(),
                decimals,
                case["shows"].as_str().unwrap().to_owned(),
            )
        };
        for (value, decimals, shows) in of("numbers").iter().map(read) {
            assert_eq!(grouped(value, decimals).replace('−', "-"), shows, "{value}");
        }
        for (value, decimals, shows) in of("shares").iter().map(read) {
            assert_eq!(share(value, decimals).replace('−', "-"), shows, "{value}");
        }
    }
}
