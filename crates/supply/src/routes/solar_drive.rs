//! `solar-drive`: the strings on the drives, always; the loads, and pumps without a drive, on the grid.

use super::inputs::{NO_POWER, ScheduleInputs, UTILITY};
use super::tracks::{Track, Utility, combine};
use crate::route::{Bus, PumpFeed, Schedule};

pub(super) fn schedule(inputs: &ScheduleInputs<'_>) -> Schedule {
    combine(Track::of_utility(inputs.outages), |utility| {
        let (others, bus) = match utility {
            Utility::On => (PumpFeed::Mains, UTILITY),
            Utility::Down => (NO_POWER, Bus::Dead),
        };
        inputs.route(inputs.groups_on_drive(), inputs.sets(PumpFeed::Drive, others), bus)
    })
}
