//! Mains starters: how they close again after a loss of power, and how often motors, drives and contacts may start.

use daylift_units::fingerprint;

use crate::hours::DayHours;

/// How the starter of a set on the bus closes again after its power was lost.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub enum Restart {
    /// With the power.
    #[default]
    Automatic,
    /// Somebody presses the button.
    ByHand {
        /// Hours in which somebody is there to press it.
        attended: DayHours,
        /// Least time from the return of power until the starter closes \[s\].
        delay_s: f64,
    },
}

fingerprint!(enum Restart { Automatic, ByHand { attended, delay_s } });

/// Starts that the motor and the drive of a pump set may make; `None` where no limit is given.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct StartLimits {
    /// Maximum number of motor starts in a day.
    pub motor_per_day: Option<f64>,
    /// Minimum time between two starts of the motor \[s\].
    pub motor_gap_s: Option<f64>,
    /// Maximum number of power-ups of the drive in a day.
    pub power_ups_per_day: Option<f64>,
}
