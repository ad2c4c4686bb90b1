//! The totals of a year, or the rates of a moment.

use std::collections::BTreeMap;

/// Quantities by id: energies in J (in a moment W), volumes in m³ (m³/s), times in s (shares of the time).
///
/// Uses and losses of the array have the ids of docs/model.md; the others are `imported`, `exported`, `pump-…` and
/// `load-…` by source, `discharged`, `from-grid`, `generator`, `generator-time`, `fuel`, `demand`, `pumped`, `delivered`,
/// `outage`, `pumping`, `pumping-in-outage`, and counts of starts: `motor-starts`, `most-starts-in-a-day`,
/// `drive-power-ups`, `changeover-cycles`.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Account(BTreeMap<&'static str, f64>);

impl Account {
    /// A quantity; 0 where nothing was booked.
    #[must_use]
    pub fn get(&self, id: &str) -> f64 {
        self.0.get(id).copied().unwrap_or(0.0)
    }

    /// An energy in kWh.
    #[must_use]
    pub fn kwh(&self, id: &str) -> f64 {
        self.get(id) / 3.6e6
    }

    /// A time in h.
    #[must_use]
    pub fn hours(&self, id: &str) -> f64 {
        self.get(id) / 3600.0
    }

    /// Everything that was booked.
    pub fn iter(&self) -> impl Iterator<Item = (&'static str, f64)> + '_ {
        self.0.iter().map(|(id, value)| (*id, *value))
    }

    /// Books an amount.
    pub fn add(&mut self, id: &'static str, amount: f64) {
        if amount != 0.0 {
            *self.0.entry(id).or_default() += amount;
        }
    }

    /// Books another account, multiplied by a factor.
    pub fn add_times(&mut self, other: &Self, factor: f64) {
        for (id, value) in &other.0 {
            self.add(id, value * factor);
        }
    }

    /// A share of one moment and the rest of another.
    #[must_use]
    pub fn mix(on: &Self, off: &Self, share: f64) -> Self {
        let mut mixed = Self::default();
        mixed.add_times(on, share);
        mixed.add_times(off, 1.0 - share);
        mixed
    }
}
