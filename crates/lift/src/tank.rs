//! The tank, as plain checked data. Its balance is computed where the year is simulated (`supply`).

use daylift_units::Fault;
use daylift_units::fields::tank as fields;
use daylift_units::fingerprint;

use crate::check::Faults;

/// Tank data as read from the plant file.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TankSheet {
    /// Usable volume \[m³\].
    pub capacity_m3: f64,
    /// Level at which filling starts again after the tank was full, a fraction of the capacity.
    pub restart_level: f64,
    /// Level below which mains pumping is allowed at any hour, a fraction of the capacity.
    pub low_mark: f64,
}

fingerprint!(TankSheet {
    capacity_m3,
    restart_level,
    low_mark
});

/// A checked tank: low mark < restart level ≤ full.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tank {
    sheet: TankSheet,
}

fingerprint!(Tank { sheet });

impl Tank {
    /// Checks the data of a tank.
    ///
    /// # Errors
    /// Faults for a capacity or level out of range, and for a low mark not below the restart level.
    pub fn new(sheet: TankSheet) -> Result<Self, Vec<Fault>> {
        let mut faults = Faults::default();
        faults.field(&fields::CAPACITY, sheet.capacity_m3);
        faults.field(&fields::RESTART, sheet.restart_level);
        faults.field(&fields::LOW_MARK, sheet.low_mark);
        if faults.is_empty() && sheet.low_mark >= sheet.restart_level {
            faults.push(Fault::new(
                fields::LOW_MARK.key,
                "low mark of the tank",
                fields::LOW_MARK.print_si(sheet.low_mark),
                format!(
                    "below the restart level, {}",
                    fields::RESTART.print_si(sheet.restart_level)
                ),
                "lower `low_mark_pct` or raise `restart_pct`",
            ));
        }
        faults.or(|| Self { sheet })
    }

    /// A tank with another capacity \[m³\]; its marks keep their fractions.
    #[must_use]
    pub fn with_capacity(mut self, capacity_m3: f64) -> Self {
        self.sheet.capacity_m3 = capacity_m3;
        self
    }

    /// A tank with another low mark, a fraction of the capacity below the restart level.
    #[must_use]
    pub fn with_low_mark(mut self, low_mark: f64) -> Self {
        self.sheet.low_mark = low_mark;
        self
    }

    /// The low mark, a fraction of the capacity.
    #[must_use]
    pub fn low_mark(&self) -> f64 {
        self.sheet.low_mark
    }

    /// The restart level, a fraction of the capacity.
    #[must_use]
    pub fn restart_level(&self) -> f64 {
        self.sheet.restart_level
    }

    /// Usable volume \[m³\].
    #[must_use]
    pub fn capacity_m3(&self) -> f64 {
        self.sheet.capacity_m3
    }

    /// Content at which filling starts again \[m³\].
    #[must_use]
    pub fn restart_m3(&self) -> f64 {
        self.sheet.restart_level * self.sheet.capacity_m3
    }

    /// Content below which mains pumping is allowed at any hour \[m³\].
    #[must_use]
    pub fn low_mark_m3(&self) -> f64 {
        self.sheet.low_mark * self.sheet.capacity_m3
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn levels_are_converted_to_contents() {
        let tank = Tank::new(TankSheet {
            capacity_m3: 200.0,
            restart_level: 0.9,
            low_mark: 0.2,
        })
        .unwrap();
        assert!((tank.restart_m3() - 180.0).abs() < 1e-9 && (tank.low_mark_m3() - 40.0).abs() < 1e-9);
    }

    #[test]
    fn a_low_mark_above_the_restart_level_is_a_fault() {
        let faults = Tank::new(TankSheet {
            capacity_m3: 200.0,
            restart_level: 0.2,
            low_mark: 0.9,
        })
        .unwrap_err();
        assert_eq!(
            faults[0].to_string(),
            "low mark of the tank: 90%; allowed: below the restart level, 20%; lower `low_mark_pct` or raise `restart_pct`"
        );
    }

    #[test]
    fn every_fault_is_reported_at_once() {
        let faults = Tank::new(TankSheet {
            capacity_m3: 0.0,
            restart_level: 90.0,
            low_mark: f64::NAN,
        })
        .unwrap_err();
        let keys: Vec<&str> = faults.iter().map(|f| f.key.as_str()).collect();
        assert_eq!(keys, ["capacity_m3", "restart_pct", "low_mark_pct"]);
    }
}
