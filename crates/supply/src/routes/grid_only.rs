//! `grid-only`: pumps and loads on the grid, no array; in an outage nothing runs.

use super::tracks::{Track, UP, weave};
use super::{DARK, ScheduleInputs, UTILITY};
use crate::route::{Bus, PumpFeed, Schedule};

pub(super) fn schedule(inputs: &ScheduleInputs<'_>) -> Schedule {
    weave(&[Track::of_utility(inputs.outages)], |states| match states {
        [UP, ..] => inputs.route(Vec::new(), inputs.sets_all(PumpFeed::Mains), UTILITY),
        _ => inputs.route(Vec::new(), inputs.sets_all(DARK), Bus::Dead),
    })
}
