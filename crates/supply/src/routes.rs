//! The arrangements: each is a constructor of routes and of the phases in which they hold.

mod battery_hybrid;
mod dual_mode;
mod generator;
mod grid_only;
mod grid_tied;
mod inputs;
mod restart;
mod solar_drive;
mod solar_drive_with_grid;
mod tracks;

use daylift_plant::{Arrangement, Wiring};

pub use self::inputs::{GroupParts, RestartByHand, ScheduleInputs};
use crate::route::Schedule;

/// The schedule of an arrangement, including a generator added to it and starters that are closed by hand.
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
    let whole = if arrangement.generator {
        generator::beside(&alone, inputs)
    } else {
        alone
    };
    match &inputs.restart {
        Some(rule) => restart::by_hand(whole, arrangement, inputs, rule),
        None => whole,
    }
}

/// How often the changeover of an arrangement leaves the grid in the year; 0 without one.
#[must_use]
pub fn changeover_cycles(arrangement: Arrangement, inputs: &ScheduleInputs<'_>) -> usize {
    match arrangement.wiring {
        Wiring::DualMode => dual_mode::cycles(inputs),
        _ => 0,
    }
}
