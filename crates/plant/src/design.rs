//! Plain types that several crates share; their values start from the plant file.

use daylift_units::fingerprint;

/// Times of a changeover in a dual-mode plant \[s\].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SwitchTimes {
    /// From the loss of the grid until the pump runs on the drive, ramp included.
    pub to_drive_s: f64,
    /// How long the grid must be within its window before the plant leaves the drive.
    pub grid_stable_s: f64,
    /// From leaving the drive until the pump may run on mains.
    pub to_mains_s: f64,
}

fingerprint!(SwitchTimes {
    to_drive_s,
    grid_stable_s,
    to_mains_s
});

/// Conditions at which strings are checked.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StringRules {
    /// Irradiance on the array at a hot noon \[W/m²\].
    pub noon_w_m2: f64,
    /// Wind speed at a hot noon \[m/s\].
    pub noon_wind_m_s: f64,
    /// Speed that the array must give a pump, as a fraction of the speed that pump, well and drive allow.
    pub useful_speed: f64,
}

/// Design values that the simulated year uses.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Design {
    /// Changeover times.
    pub switch_times: SwitchTimes,
    /// Cycles for which the contacts of the changeover are rated, if given.
    pub rated_cycles: Option<f64>,
    /// Conditions at which strings are checked.
    pub strings: StringRules,
}
