//! The arrangements: each is a constructor of routes and of the phases in which they hold.

mod battery_hybrid;
mod dual_mode;
mod generator;
mod grid_only;
mod grid_tied;
mod inputs;
mod solar_drive;
mod solar_drive_with_grid;
mod tracks;

use daylift_plant::{Arrangement, Wiring};

pub use self::inputs::{GroupParts, ScheduleInputs};
use crate::route::Schedule;

/// The schedule of an arrangement, including a generator added to it.
#[must_use]
pub fn schedule(arrangement: Arrangement, inputs: &ScheduleInputs<'_>) -> Schedule {
    let alone = match arrangement.wiring {
        Wiring::GridOnly => grid_only::schedule(inputs),
        Wiring::SolarDrive => solar_drive::schedule(inputs),
        Wiring::SolarDriveWithGrid => solar_drive_with_grid::schedule(inputs),
        Wiring::GridTied => grid_tied::schedule(inputs),
        Wiring::DualMode => dual_mode::schedule(inputs),
        Wiring::BatteryHybrid => battery_hybrid::schedule(inputs),
    };
    if arrangement.generator {
        generator::beside(&alone, inputs)
    } else {
        alone
    }
}
