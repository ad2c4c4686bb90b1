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

    /// Array power and power at the drive with every group at one voltage, and no more than `most_w` of the array's \[W\].
    pub(super) fn at_voltage(&self, voltage_v: f64, most_w: f64) -> (f64, f64) {
        let each: Vec<f64> = self.0.iter().map(|g| g.curve.power_w(voltage_v)).collect();
        let sum_w: f64 = each.iter().sum();
        let part = if sum_w > most_w { most_w / sum_w } else { 1.0 };
        let drive_w = self
            .0
            .iter()
            .zip(&each)
            .map(|(g, array_w)| g.strings.device_power_w(array_w * part))
            .sum();
        (sum_w * part, drive_w)
    }

    /// Voltage at the drive with the array at a voltage \[V\].
    pub(super) fn bus_v(&self, voltage_v: f64, most_w: f64) -> f64 {
        let (array_w, drive_w) = self.at_voltage(voltage_v, most_w);
        voltage_v * if array_w > 0.0 { drive_w / array_w } else { 1.0 }
    }

    pub(super) fn least_best_v(&self) -> f64 {
        self.0.iter().map(|g| g.best.voltage_v).fold(f64::INFINITY, f64::min)
    }

    pub(super) fn greatest_best_v(&self) -> f64 {
        self.0.iter().map(|g| g.best.voltage_v).fold(0.0, f64::max)
    }

    pub(super) fn open_v(&self) -> f64 {
        self.0.iter().map(|g| g.curve.open_circuit_v()).fold(0.0, f64::max)
    }

    /// Voltage at the drive with all groups at maximum power \[V\].
    pub(super) fn best_bus_v(&self) -> f64 {
        self.bus_v_at_best(self.offered_w())
    }

    /// The same with the cables' fraction at `array_w` \[V\].
    pub(super) fn bus_v_at_best(&self, array_w: f64) -> f64 {
        if array_w <= 0.0 {
            return 0.0;
        }
        self.least_best_v() * self.delivered_w(array_w) / array_w
    }

    /// Array voltage that, less cables, gives a bus voltage, on the falling side of the curve; `None` beyond open circuit
    /// \[V\].
    pub(super) fn array_v_for_bus(&self, bus_v: f64, most_w: f64) -> Option<f64> {
        let open_v = self.open_v();
        if open_v <= bus_v {
            return None;
        }
        root::bracketed(bus_v, open_v, |v| (self.bus_v(v, most_w) - bus_v) / open_v)
    }
}
