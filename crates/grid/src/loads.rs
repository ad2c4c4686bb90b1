//! The farm's loads other than the pump, by month and hour of the civil day.

use crate::{HOURS, MONTHS, MonthHour};

/// Mean power \[W\] in every hour of a day of every month.
#[derive(Debug, Clone, PartialEq)]
pub struct Loads {
    power_w: MonthHour<f64>,
}

impl Loads {
    /// No loads.
    #[must_use]
    pub fn none() -> Self {
        Self {
            power_w: [[0.0; HOURS]; MONTHS],
        }
    }

    /// Adds another load to these. Values that are negative or not finite count as 0: the reader has refused them.
    pub fn add(&mut self, power_w: &MonthHour<f64>) {
        for (sum, month) in self.power_w.iter_mut().zip(power_w) {
            for (s, w) in sum.iter_mut().zip(month) {
                if w.is_finite() && *w > 0.0 {
                    *s += w;
                }
            }
        }
    }

    /// Power \[W\] in an hour of a month (0 = January, hour 0 to 23).
    #[must_use]
    pub fn power_w(&self, month: u8, hour: u8) -> f64 {
        self.power_w[usize::from(month) % MONTHS][usize::from(hour) % HOURS]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn loads_add_up() {
        let mut loads = Loads::none();
        let mut table = [[0.0; HOURS]; MONTHS];
        table[5][13] = 4000.0;
        loads.add(&table);
        loads.add(&table);
        assert!((loads.power_w(5, 13) - 8000.0).abs() < 1e-12);
        assert!(loads.power_w(5, 12).abs() < 1e-12);
    }
}
