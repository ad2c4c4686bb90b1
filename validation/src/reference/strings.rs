//! Strings at one moment: those on one drive, and what reaches the drive.

use daylift_array::{Curve, Point, StringGroup};
use daylift_units::root;

/// A string group under the light of a moment.
#[derive(Debug, Clone)]
pub(super) struct Lit<'a> {
    pub(super) strings: &'a StringGroup,
    pub(super) curve: Curve,
    pub(super) best: Point,
}

/// Groups that share a drive.
#[derive(Debug, Clone)]
pub(super) struct Strings<'a>(Vec<Lit<'a>>);

impl<'a> Strings<'a> {
    pub(super) fn new(groups: Vec<Lit<'a>>) -> Self {
        Self(groups)
    }

    /// Sum of the maximum powers \[W\].
    pub(super) fn offered_w(&self) -> f64 {
        self.0.iter().map(|g| g.best.power_w).sum()
    }

    /// Power at the drive for an array power that the groups give in proportion to their offers \[W\].
    pub(super) fn delivered_w(&self, array_w: f64) -> f64 {
        let offered_w = self.offered_w();
        if offered_w <= 0.0 {
            return 0.0;
        }
        let part = array_w / offered_w;
        self.0.iter().map(|g| g.strings.device_power_w(g.best.power_w * part)).sum()
    }

    /// Array power for a power at the drive, at most all that is offered \[W\].
    pub(super) fn array_for_w(&self, drive_w: f64) -> f64 {
        let offered_w = self.offered_w();
        if drive_w >= self.delivered_w(offered_w) {
            return offered_w;
        }
        root::bracketed(0.0, offered_w, |array_w| {
            (self.delivered_w(array_w) - drive_w) / offered_w
        })
        .unwrap_or(0.0)
    }

    /// Array power and power at the drive with every group at one voltage \[W\].
    pub(super) fn at_voltage(&self, voltage_v: f64) -> (f64, f64) {
        let each = self.0.iter().map(|g| {
            let array_w = g.curve.power_w(voltage_v);
            (array_w, g.strings.device_power_w(array_w))
        });
        each.fold((0.0, 0.0), |sum, one| (sum.0 + one.0, sum.1 + one.1))
    }

    pub(super) fn least_best_v(&self) -> f64 {
        self.0.iter().map(|g| g.best.voltage_v).fold(f64::INFINITY, f64::min)
    }

    fn greatest_best_v(&self) -> f64 {
        self.0.iter().map(|g| g.best.voltage_v).fold(0.0, f64::max)
    }

    pub(super) fn open_v(&self) -> f64 {
        self.0.iter().map(|g| g.curve.open_circuit_v()).fold(0.0, f64::max)
    }

    /// Voltage at the drive with all groups at maximum power \[V\].
    pub(super) fn best_bus_v(&self) -> f64 {
        let offered_w = self.offered_w();
        if offered_w <= 0.0 {
            return 0.0;
        }
        self.least_best_v() * self.delivered_w(offered_w) / offered_w
    }

    /// Array voltage that, less cables, gives a bus voltage, on the falling side of the curve; `None` beyond open circuit
    /// \[V\].
    pub(super) fn array_v_for_bus(&self, bus_v: f64) -> Option<f64> {
        let open_v = self.open_v();
        if open_v <= bus_v {
            return None;
        }
        let excess = |v: f64| {
            let (array_w, drive_w) = self.at_voltage(v);
            let kept = if array_w > 0.0 { drive_w / array_w } else { 1.0 };
            (v * kept - bus_v) / open_v
        };
        root::bracketed(bus_v, open_v, excess)
    }

    /// Maximum power at the drive with its bus at this voltage or above \[W\] (§8).
    pub(super) fn best_above_bus_w(&self, bus_v: f64) -> f64 {
        if bus_v <= self.best_bus_v() {
            return self.delivered_w(self.offered_w());
        }
        let Some(voltage_v) = self.array_v_for_bus(bus_v) else {
            return 0.0;
        };
        let top_v = self.greatest_best_v();
        if voltage_v < top_v {
            return self.crest_w(voltage_v, top_v);
        }
        self.at_voltage(voltage_v).1
    }

    /// Maximum power at the drive between two voltages, by golden section \[W\].
    fn crest_w(&self, mut low_v: f64, mut high_v: f64) -> f64 {
        let golden = 0.5 * (5.0_f64.sqrt() - 1.0);
        let at = |v: f64| self.at_voltage(v).1;
        for _ in 0..40 {
            let left_v = high_v - golden * (high_v - low_v);
            let right_v = low_v + golden * (high_v - low_v);
            if at(left_v) < at(right_v) {
                low_v = left_v;
            } else {
                high_v = right_v;
            }
        }
        at(0.5 * (low_v + high_v))
    }
}
