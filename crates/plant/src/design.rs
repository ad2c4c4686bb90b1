//! Plain types that several rooms share while a plant is designed; each starts from the plant file.

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

/// What the design stages hand to the year.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Design {
    /// Changeover times.
    pub switch_times: SwitchTimes,
}
