//! What missing water and unserved load are worth to the farm.

/// Value of what is missing, where the plant file gives it.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct LostValue {
    /// Of missing water \[money/m³\].
    pub water_per_m3: Option<f64>,
    /// Of load that is not served \[money/J\].
    pub load_per_j: Option<f64>,
}

impl LostValue {
    /// Value of a year's missing water \[m³\] and unserved load \[J\].
    ///
    /// ```
    /// // Worked by hand: 120 m³ at 0.5 are 60; load without a value counts nothing.
    /// let value = daylift_plant::LostValue { water_per_m3: Some(0.5), load_per_j: None };
    /// assert!((value.of(120.0, 3.6e9) - 60.0).abs() < 1e-12);
    /// ```
    #[must_use]
    pub fn of(&self, missing_m3: f64, unserved_j: f64) -> f64 {
        self.water_per_m3.unwrap_or(0.0) * missing_m3 + self.load_per_j.unwrap_or(0.0) * unserved_j
    }

    /// Whether neither has a value.
    #[must_use]
    pub fn is_none(&self) -> bool {
        self.water_per_m3.is_none() && self.load_per_j.is_none()
    }
}
