//! `grid-only`: pump and loads on the grid, no array; in an outage nothing runs.

use super::{ScheduleInputs, follow_utility};
use crate::cause::ShortfallCause;
use crate::route::{ArrayFeed, PumpFeed, Route, Schedule};

pub(super) fn schedule(inputs: &ScheduleInputs<'_>) -> Schedule {
    let up = Route {
        array: ArrayFeed::Absent,
        pump: PumpFeed::Mains,
        utility: true,
        mains_hours: inputs.pumping.grid_only_hours,
    };
    let down = Route {
        pump: PumpFeed::Stands(ShortfallCause::GridDown),
        utility: false,
        ..up
    };
    Schedule {
        routes: vec![up, down],
        phases: follow_utility(inputs.outages, 0, 1),
    }
}
