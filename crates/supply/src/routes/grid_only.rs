//! `grid-only`: pumps and loads on the grid, no array; in an outage nothing runs.

use super::inputs::{DARK, ScheduleInputs, UTILITY};
use super::tracks::{Track, Utility, weave};
use crate::route::{Bus, PumpFeed, Schedule};

pub(super) fn schedule(inputs: &ScheduleInputs<'_>) -> Schedule {
    weave(Track::of_utility(inputs.outages), |utility| match utility {
        Utility::Up => inputs.route(Vec::new(), inputs.sets_all(PumpFeed::Mains), UTILITY),
        Utility::Down => inputs.route(Vec::new(), inputs.sets_all(DARK), Bus::Dead),
    })
}
