//! Collecting the faults of a sheet: every value is looked at before anything is refused.

use daylift_units::field::number;
use daylift_units::{Fault, Field, Unit};

/// The faults found so far.
#[derive(Default)]
pub(crate) struct Faults(Vec<Fault>);

impl Faults {
    /// Adds a fault.
    pub(crate) fn push(&mut self, fault: Fault) {
        self.0.push(fault);
    }

    /// Adds the fault of a value in SI that its field does not allow.
    pub(crate) fn field(&mut self, field: &Field, value_si: f64) {
        self.0.extend(field.check_si(value_si).err());
    }

    /// The same for one of several such values; `which` says which one, as in `in October`.
    pub(crate) fn field_of(&mut self, field: &Field, value_si: f64, which: &str) {
        if let Err(mut fault) = field.check_si(value_si) {
            fault.quantity = format!("{} {which}", fault.quantity);
            self.push(fault);
        }
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

/// A computed SI value in the plant file's unit: three figures, from 1000 on whole numbers of four.
pub(crate) fn print(value_si: f64, unit: Unit) -> String {
    let exact = value_si / unit.factor;
    let figures = if exact.abs() < 1000.0 { 2 } else { 3 };
    let short = format!("{exact:.figures$e}").parse().unwrap_or(exact);
    match unit.symbol {
        "" => number(short),
        "%" => format!("{}%", number(short)),
        symbol => format!("{} {symbol}", number(short)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use daylift_units::fields::well;

    #[test]
    fn a_computed_value_is_printed_in_the_unit_of_the_file_with_few_figures() {
        assert_eq!(print(0.1 / 3600.0 * 3.0, Unit::M3_PER_H), "0.3 m³/h");
        assert_eq!(print(0.07, Unit::PERCENT), "7%");
        assert_eq!(print(9294.56, Unit::KW), "9.29 kW");
        assert_eq!(print(1_234_567.0, Unit::KW), "1235 kW");
    }

    #[test]
    fn one_of_several_values_is_told_apart() {
        let mut faults = Faults::default();
        faults.field_of(&well::STATIC_LEVEL, f64::NAN, "in May");
        faults.field_of(&well::STATIC_LEVEL, 20.0, "in June");
        let faults = faults.into_vec();
        assert_eq!(faults.len(), 1);
        assert!(faults[0].quantity.ends_with("below the well head in May"));
    }
}
