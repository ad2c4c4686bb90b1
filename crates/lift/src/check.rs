//! Collects the faults of a datasheet: every value is checked before the datasheet is refused.

use daylift_units::{Fault, Field};

/// The faults found so far.
#[derive(Default)]
pub(crate) struct Faults(Vec<Fault>);

impl Faults {
    /// Adds a fault.
    pub(crate) fn push(&mut self, fault: Fault) {
        self.0.push(fault);
    }

    /// Adds a fault if the field does not allow this value in SI.
    pub(crate) fn field(&mut self, field: &Field, value_si: f64) {
        self.0.extend(field.check_si(value_si).err());
    }

    /// The same for one of several values; `which` tells which one, as in `in October`.
    pub(crate) fn field_of(&mut self, field: &Field, value_si: f64, which: &str) {
        if let Err(mut fault) = field.check_si(value_si) {
            fault.quantity = format!("{} {which}", fault.quantity);
            self.push(fault);
        }
    }

    /// Whether no fault was found.
    pub(crate) fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// The value made by `make` if no fault was found, else the faults.
    pub(crate) fn or<T>(self, make: impl FnOnce() -> T) -> Result<T, Vec<Fault>> {
        if self.0.is_empty() { Ok(make()) } else { Err(self.0) }
    }

    /// All faults.
    pub(crate) fn into_vec(self) -> Vec<Fault> {
        self.0
    }
}

/// Prints a computed SI value in the plant file's unit.
pub(crate) use daylift_units::field::rounded as print;

#[cfg(test)]
mod tests {
    use daylift_units::Unit;
    use daylift_units::fields::well;

    use super::*;

    #[test]
    fn a_computed_value_is_printed_in_the_unit_of_the_file_with_few_figures() {
        assert_eq!(print(0.1 / 3600.0 * 3.0, Unit::M3_PER_H), "0.3 m³/h");
        assert_eq!(print(0.07, Unit::PERCENT), "7%");
        assert_eq!(print(9294.56, Unit::KW), "9.29 kW");
        assert_eq!(print(1_234_567.0, Unit::KW), "1235 kW");
    }

    #[test]
    fn a_fault_says_which_of_several_values_it_concerns() {
        let mut faults = Faults::default();
        faults.field_of(&well::STATIC_LEVEL, f64::NAN, "in May");
        faults.field_of(&well::STATIC_LEVEL, 20.0, "in June");
        let faults = faults.into_vec();
        assert_eq!(faults.len(), 1);
        assert!(faults[0].quantity.ends_with("below the well head in May"));
    }
}
