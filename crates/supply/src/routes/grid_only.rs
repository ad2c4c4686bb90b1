//! `grid-only`: pumps and loads on the grid, no array; in an outage nothing runs.

use daylift_plant::ByGroup;

use super::inputs::{NO_POWER, ScheduleInputs, UTILITY};
use super::tracks::{Track, Utility, combine};
use crate::route::{Bus, PumpFeed, Schedule};

pub(super) fn schedule(inputs: &ScheduleInputs<'_>) -> Schedule {
    combine(Track::of_utility(inputs.outages), |utility| match utility {
        Utility::On => inputs.route(ByGroup::new(), inputs.sets_all(PumpFeed::Mains), UTILITY),
        Utility::Down => inputs.route(ByGroup::new(), inputs.sets_all(NO_POWER), Bus::Dead),
    })
}
