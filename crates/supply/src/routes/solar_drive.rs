//! `solar-drive`: the strings on the drives, always; the loads, and pumps without a drive, on the grid.

use super::tracks::{Track, UP, weave};
use super::{DARK, ScheduleInputs, UTILITY};
use crate::route::{Bus, PumpFeed, Schedule};

pub(super) fn schedule(inputs: &ScheduleInputs<'_>) -> Schedule {
    weave(&[Track::of_utility(inputs.outages)], |states| {
        let (others, bus) = match states {
            [UP, ..] => (PumpFeed::Mains, UTILITY),
            _ => (DARK, Bus::Dead),
        };
        inputs.route(inputs.groups_on_drive(), inputs.sets(PumpFeed::Drive, others), bus)
    })
}
