//! Voltage window of the devices: outside it the grid is present but cannot be used.

use crate::Interval;

/// A voltage that holds from an instant until the next reading.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct VoltageReading {
    /// Instant, seconds after the start of the year.
    pub at_s: f64,
    /// Voltage per unit of the nominal voltage.
    pub per_unit: f64,
}

/// Range of voltages in which the grid can be used, limits included.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct VoltageWindow {
    /// Lowest voltage, per unit of nominal.
    pub least_pu: f64,
    /// Highest voltage, per unit of nominal.
    pub greatest_pu: f64,
}

impl VoltageWindow {
    /// Whether the grid can be used at this voltage.
    #[must_use]
    pub fn holds(&self, per_unit: f64) -> bool {
        per_unit >= self.least_pu && per_unit <= self.greatest_pu
    }

    /// The time outside the window. Readings must be in order. The last reading holds until the end of the year; before
    /// the first one the voltage counts as good.
    #[must_use]
    pub fn outside(&self, readings: &[VoltageReading], year_s: f64) -> Vec<Interval> {
        let mut out: Vec<Interval> = Vec::new();
        let ends = readings.iter().skip(1).map(|r| r.at_s).chain(std::iter::once(year_s));
        for (reading, end_s) in readings.iter().zip(ends) {
            let (start_s, end_s) = (reading.at_s.max(0.0), end_s.min(year_s));
            if self.holds(reading.per_unit) || end_s <= start_s {
                continue;
            }
            match out.last_mut() {
                Some(last) if start_s <= last.end_s => last.end_s = end_s,
                _ => out.push(Interval { start_s, end_s }),
            }
        }
        out
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn time_outside_the_window_is_an_outage_and_the_limits_are_inside() {
        let window = VoltageWindow {
            least_pu: 0.85,
            greatest_pu: 1.10,
        };
        let readings = [
            (-50.0, 0.2),
            (10.0, 1.0),
            (20.0, 0.84),
            (30.0, 1.2),
            (40.0, 0.85),
            (50.0, 1.10),
            (60.0, 1.11),
        ]
        .map(|(at_s, per_unit)| VoltageReading { at_s, per_unit });
        let found = window.outside(&readings, 100.0);
        let ends: Vec<(f64, f64)> = found.iter().map(|i| (i.start_s, i.end_s)).collect();
        assert_eq!(ends, [(0.0, 10.0), (20.0, 40.0), (60.0, 100.0)]);
    }
}
