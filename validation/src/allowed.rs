//! How far two numbers may differ.

use crate::figures::figures;

/// An allowed difference: a fixed part plus a fraction of the size of the value compared.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Allowed {
    absolute: f64,
    relative: f64,
    unit: &'static str,
}

impl Allowed {
    /// A fixed difference in a unit.
    #[must_use]
    pub const fn absolute(absolute: f64, unit: &'static str) -> Self {
        Self {
            absolute,
            relative: 0.0,
            unit,
        }
    }

    /// A fraction of the size of the value compared.
    #[must_use]
    pub const fn relative(relative: f64) -> Self {
        Self {
            absolute: 0.0,
            relative,
            unit: "",
        }
    }

    /// A fixed difference and a fraction together.
    #[must_use]
    pub const fn both(absolute: f64, unit: &'static str, relative: f64) -> Self {
        Self {
            absolute,
            relative,
            unit,
        }
    }

    /// The difference as a share of the allowed one at a size; above 1 it is too large. NaN is too large.
    #[must_use]
    pub fn used(&self, difference: f64, size: f64) -> f64 {
        let allowed = self.absolute + self.relative * size.abs();
        if difference == 0.0 {
            0.0
        } else if difference.is_finite() && allowed > 0.0 {
            difference.abs() / allowed
        } else {
            f64::INFINITY
        }
    }

    /// The difference as text: a fraction of the size when only that is limited, else in the unit.
    pub(crate) fn difference_text(&self, difference: f64, size: f64) -> String {
        if self.absolute > 0.0 {
            with_unit(difference, self.unit)
        } else if difference == 0.0 {
            "0".to_owned()
        } else {
            fraction(difference / size.abs())
        }
    }

    /// The allowed difference as text.
    pub(crate) fn text(&self) -> String {
        match (self.absolute > 0.0, self.relative > 0.0) {
            (true, false) => with_unit(self.absolute, self.unit),
            (true, true) => format!("{} + {}", with_unit(self.absolute, self.unit), fraction(self.relative)),
            _ => fraction(self.relative),
        }
    }
}

fn with_unit(value: f64, unit: &str) -> String {
    let gap = if unit == "°" || unit.is_empty() { "" } else { " " };
    format!("{}{gap}{unit}", figures(value, 2))
}

/// Per cent, or the plain fraction when it is tiny.
fn fraction(value: f64) -> String {
    if value.abs() < 1e-7 {
        figures(value, 2)
    } else {
        format!("{}%", figures(value * 100.0, 2))
    }
}

#[cfg(test)]
mod tests {
    use super::Allowed;

    #[test]
    fn fixed_and_relative_parts_add_up() {
        let allowed = Allowed::both(0.5, "W/m²", 0.001);
        assert!((allowed.used(-1.0, 500.0) - 1.0).abs() < 1e-12);
        assert_eq!(allowed.text(), "0.5 W/m² + 0.1%");
    }

    #[test]
    fn nan_is_never_allowed() {
        assert!(Allowed::relative(0.01).used(f64::NAN, 1.0) > 1.0);
        assert!(Allowed::relative(0.01).used(1.0, 0.0) > 1.0);
        assert!(Allowed::relative(0.01).used(0.0, 0.0) <= 1.0);
    }
}
