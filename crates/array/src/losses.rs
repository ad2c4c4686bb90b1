//! Losses of an array before its cables.

use daylift_units::fields::array;
use daylift_units::{Fault, Monthly, fingerprint};

/// Losses of an array, each a fraction.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ArrayLosses {
    /// Irradiance lost to soiling, by month.
    pub soiling: Monthly<f64>,
    /// Current lost because modules differ (mismatch).
    pub mismatch: f64,
    /// Current lost in the first hours of light (light-induced degradation).
    pub light_induced: f64,
    /// Share of the year in which the array is out of order.
    pub unavailability: f64,
    /// Current lost per year of age.
    pub yearly_degradation: f64,
    /// Age in the simulated year \[years\].
    pub age_years: f64,
}

fingerprint!(ArrayLosses {
    soiling,
    mismatch,
    light_induced,
    unavailability,
    yearly_degradation,
    age_years
});

impl ArrayLosses {
    /// No losses at all.
    pub const NONE: Self = Self {
        soiling: Monthly::from_array([0.0; 12]),
        mismatch: 0.0,
        light_induced: 0.0,
        unavailability: 0.0,
        yearly_degradation: 0.0,
        age_years: 0.0,
    };

    /// Factor on the current: (1 − mismatch)(1 − light-induced)(1 − unavailability)(1 − yearly)^age.
    ///
    /// Soiling is not included, as it acts on the irradiance. Usual practice.
    #[must_use]
    pub fn current_factor(&self) -> f64 {
        (1.0 - self.mismatch)
            * (1.0 - self.light_induced)
            * (1.0 - self.unavailability)
            * (1.0 - self.yearly_degradation).powf(self.age_years)
    }

    /// A fault for each value outside its range.
    #[must_use]
    pub fn faults(&self) -> Vec<Fault> {
        let single = [
            (array::MISMATCH, self.mismatch),
            (array::LIGHT_INDUCED, self.light_induced),
            (array::UNAVAILABILITY, self.unavailability),
            (array::DEGRADATION, self.yearly_degradation),
            (array::AGE, self.age_years),
        ];
        let soiling = self.soiling.iter().filter_map(|(month, &share)| {
            let mut fault = array::SOILING.check_si(share).err()?;
            fault.quantity.push_str(&format!(" in {}", month.name()));
            Some(fault)
        });
        let single = single.iter().filter_map(|(field, value)| field.check_si(*value).err());
        single.chain(soiling).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_losses_multiply() {
        // Worked by hand: 0.98 · 0.985 · 0.99 · 0.995^2 = 0.946114…
        let losses = ArrayLosses {
            mismatch: 0.02,
            light_induced: 0.015,
            unavailability: 0.01,
            yearly_degradation: 0.005,
            age_years: 2.0,
            ..ArrayLosses::NONE
        };
        assert!((losses.current_factor() - 0.946_114).abs() < 1e-6);
    }

    #[test]
    fn each_invalid_fraction_is_a_fault() {
        let losses = ArrayLosses {
            soiling: Monthly::from_array([0.03, 3.0, 0.0, 0.0, 0.0, -0.1, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0]),
            mismatch: f64::NAN,
            age_years: -1.0,
            ..ArrayLosses::NONE
        };
        let faults = losses.faults();
        assert_eq!(faults.len(), 4);
        assert_eq!(faults[2].quantity, "sunlight lost to dust on the glass in February");
        assert!(ArrayLosses::NONE.faults().is_empty());
    }
}
