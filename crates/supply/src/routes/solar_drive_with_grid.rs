//! `solar-drive-with-grid`: as `solar-drive`, and mains on the drives' second input.

use super::tracks::{Track, UP, weave};
use super::{DARK, ScheduleInputs, UTILITY};
use crate::route::{Bus, PumpFeed, Schedule};

pub(super) fn schedule(inputs: &ScheduleInputs<'_>) -> Schedule {
    weave(&[Track::of_utility(inputs.outages)], |states| {
        let (others, bus) = match states {
            [UP, ..] => (PumpFeed::Mains, UTILITY),
            _ => (DARK, Bus::Dead),
        };
        let helped = PumpFeed::DriveAndMains {
            only_without_sun: false,
        };
        let sets = inputs.sets(helped, others);
        inputs.route(inputs.groups_on_drive(), sets, bus)
    })
}
