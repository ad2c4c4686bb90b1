//! Plain types that several rooms share while a plant is designed; each starts from the plant file.

use daylift_units::fingerprint;

/// Times of a dual-mode plant's changeover \[s\].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SwitchTimes {
    /// From the loss of the grid until the pump runs on the drive, ramp included.
    pub to_drive_s: f64,
    /// Grid back within its window before the plant leaves the drive.
    pub grid_stable_s: f64,
    /// From leaving the drive until the pump may run on mains.
    pub to_mains_s: f64,
}

fingerprint!(SwitchTimes {
    to_drive_s,
    grid_stable_s,
    to_mains_s
});

/// Conditions that the strings are judged at.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StringRules {
    /// Irradiance on the array at a hot noon \[W/m²\].
    pub noon_w_m2: f64,
    /// Wind then \[m/s\].
    pub noon_wind_m_s: f64,
    /// Speed that it must give a pump, of what pump, well and drive allow, a fraction.
    pub useful_speed: f64,
}

/// What the design stages hand to the year.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Design {
    /// Changeover times.
    pub switch_times: SwitchTimes,
    /// Conditions that the strings are judged at.
    pub strings: StringRules,
}
