//! A pump on mains.

use daylift_lift::PumpSet;
use daylift_units::Month;

/// A pump on mains in a month, or several together.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Mains {
    /// Flow \[m³/s\].
    pub flow_m3_s: f64,
    /// Power at the motor's terminals \[W\].
    pub motor_w: f64,
    /// Lost in the motor cable and, on a drive's second input, in the drive \[W\].
    pub lost_w: f64,
    /// Whether the well holds the flow back.
    pub throttled: bool,
}

impl Mains {
    /// A set in a month; all zero when it cannot run on mains.
    pub(super) fn of(set: &PumpSet, month: Month) -> Self {
        set.mains(month).map_or_else(Self::default, |point| Self {
            flow_m3_s: point.duty.flow_m3_s,
            motor_w: point.duty.motor_w,
            lost_w: point.duty.cable_w,
            throttled: point.throttled,
        })
    }

    /// Power taken from the bus \[W\].
    #[must_use]
    pub fn bus_w(&self) -> f64 {
        self.motor_w + self.lost_w
    }

    /// Adds another pump.
    pub(crate) fn add(&mut self, other: &Self) {
        self.flow_m3_s += other.flow_m3_s;
        self.motor_w += other.motor_w;
        self.lost_w += other.lost_w;
        self.throttled |= other.throttled;
    }
}
