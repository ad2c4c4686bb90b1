//! The farm's loads other than the pump: tables by month and hour of the civil day, and metered series.

use daylift_units::{Hour, Hourly, Month, MonthHour, fingerprint};
use num_integer::gcd;

use crate::LoadSeries;

/// Mean power \[W\] for every month and hour of the civil day, and metered series on the year's axis.
#[derive(Debug, Clone, PartialEq)]
pub struct Loads {
    power_w: MonthHour<f64>,
    series: Vec<LoadSeries>,
}

fingerprint!(Loads { power_w, series });

impl Loads {
    /// No loads.
    #[must_use]
    pub fn none() -> Self {
        Self {
            power_w: MonthHour::default(),
            series: Vec::new(),
        }
    }

    /// Whether no load ever draws power; a metered series always counts as a load.
    #[must_use]
    pub fn is_none(&self) -> bool {
        self.series.is_empty() && self.power_w.values().flat_map(Hourly::values).all(|w| *w <= 0.0)
    }

    /// Adds a table of loads. Negative values and values that are not finite count as 0; the reader has already refused
    /// them.
    pub fn add(&mut self, power_w: &MonthHour<f64>) {
        for (month, day_w) in power_w {
            for (hour, &w) in day_w {
                if w.is_finite() && w > 0.0 {
                    self.power_w[month][hour] += w;
                }
            }
        }
    }

    /// Adds a metered load.
    pub fn add_series(&mut self, series: LoadSeries) {
        self.series.push(series);
    }

    /// Power \[W\] at an instant \[s after the start of the year\], which lies in the given month and hour.
    #[must_use]
    pub fn power_at_w(&self, at_s: f64, month: Month, hour: Hour) -> f64 {
        let metered: f64 = self.series.iter().map(|s| s.power_at_w(at_s)).sum();
        self.table_w(month, hour) + metered
    }

    /// Mean power \[W\] over a period within one hour of a month. It is exact, also where the meter's interval is
    /// shorter than the period.
    #[must_use]
    #[inline]
    pub fn mean_power_w(&self, start_s: f64, length_s: f64, month: Month, hour: Hour) -> f64 {
        let metered: f64 = self.series.iter().map(|s| s.mean_power_w(start_s, length_s)).sum();
        self.table_w(month, hour) + metered
    }

    /// The longest interval \[s\], at most `longest_s`, whose multiples from the start of the year include all changes
    /// of the metered loads.
    #[must_use]
    pub fn shared_interval_s(&self, longest_s: u32) -> u32 {
        self.series.iter().map(LoadSeries::interval_s).fold(longest_s, gcd)
    }

    fn table_w(&self, month: Month, hour: Hour) -> f64 {
        self.power_w[month][hour]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn loads_add_up() {
        let mut loads = Loads::none();
        let mut table = MonthHour::default();
        table[Month::June][Hour::H13] = 4000.0;
        loads.add(&table);
        loads.add(&table);
        loads.add_series(LoadSeries::new(1800, vec![100.0, 300.0]));
        assert!((loads.mean_power_w(0.0, 3600.0, Month::June, Hour::H13) - 8200.0).abs() < 1e-9);
        assert!((loads.power_at_w(1800.0, Month::June, Hour::H13) - 8300.0).abs() < 1e-9);
        assert!((loads.mean_power_w(0.0, 1800.0, Month::June, Hour::H12) - 100.0).abs() < 1e-9);
    }
}
