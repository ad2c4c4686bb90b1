//! `solar-drive-with-grid`: as `solar-drive`, and mains on the drives' second input.

use super::inputs::{NO_POWER, ScheduleInputs, UTILITY};
use super::tracks::{Track, Utility, combine};
use crate::route::{Bus, PumpFeed, Schedule};

pub(super) fn schedule(inputs: &ScheduleInputs<'_>) -> Schedule {
    combine(Track::of_utility(inputs.outages), |utility| {
        let (others, bus) = match utility {
            Utility::On => (PumpFeed::Mains, UTILITY),
            Utility::Down => (NO_POWER, Bus::Dead),
        };
        let helped = PumpFeed::DriveAndMains {
            only_without_sun: false,
        };
        let sets = inputs.sets(helped, others);
        inputs.route(inputs.groups_on_drive(), sets, bus)
    })
}
