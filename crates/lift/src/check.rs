//! Collecting the faults of a sheet: every value is looked at before anything is refused.

use daylift_units::field::number;
use daylift_units::{Fault, Unit};

/// What a checked value is: key in the plant file, words, unit in which the person who typed it thinks.
pub(crate) struct Quantity<'a> {
    /// Key in the plant file.
    pub(crate) key: &'a str,
    /// What it is, in words.
    pub(crate) words: &'a str,
    /// Unit of the plant file.
    pub(crate) unit: Unit,
}

/// The faults found so far.
#[derive(Default)]
pub(crate) struct Faults(Vec<Fault>);

impl Faults {
    /// Adds a fault.
    pub(crate) fn push(&mut self, fault: Fault) {
        self.0.push(fault);
    }

    /// Adds a fault unless `least` ≤ `value` ≤ `greatest`, all in SI.
    pub(crate) fn range(&mut self, what: &Quantity<'_>, value: f64, least: f64, greatest: f64) {
        if value >= least && value <= greatest {
            return;
        }
        let Quantity { key, words, unit } = what;
        self.push(Fault::new(
            *key,
            *words,
            print(value, *unit),
            format!("{} to {}", print(least, *unit), print(greatest, *unit)),
            format!("correct `{key}`"),
        ));
    }

    /// Whether nothing was found.
    pub(crate) fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// The value made by `make` when nothing was found, else the faults.
    pub(crate) fn or<T>(self, make: impl FnOnce() -> T) -> Result<T, Vec<Fault>> {
        if self.0.is_empty() { Ok(make()) } else { Err(self.0) }
    }

    /// The faults themselves.
    pub(crate) fn into_vec(self) -> Vec<Fault> {
        self.0
    }
}

/// An SI value in the plant file's unit, to six figures.
pub(crate) fn print(value_si: f64, unit: Unit) -> String {
    let exact = value_si / unit.factor;
    let short = format!("{exact:.5e}").parse().unwrap_or(exact);
    match unit.symbol {
        "" => number(short),
        "%" => format!("{}%", number(short)),
        symbol => format!("{} {symbol}", number(short)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_value_is_printed_in_the_unit_of_the_file_without_rounding_noise() {
        assert_eq!(print(0.1 / 3600.0 * 3.0, Unit::M3_PER_H), "0.3 m³/h");
        assert_eq!(print(0.07, Unit::PERCENT), "7%");
    }

    #[test]
    fn not_a_number_is_outside_every_range() {
        let mut faults = Faults::default();
        let what = Quantity {
            key: "k",
            words: "thing",
            unit: Unit::M,
        };
        faults.range(&what, f64::NAN, 0.0, 1.0);
        faults.range(&what, f64::INFINITY, 0.0, 1.0);
        faults.range(&what, 0.5, 0.0, 1.0);
        assert_eq!(faults.into_vec().len(), 2);
    }
}
