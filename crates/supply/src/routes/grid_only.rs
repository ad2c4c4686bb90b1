//! `grid-only`: pumps and loads on the grid, no array; in an outage nothing runs.

use super::{ScheduleInputs, follow_utility};
use crate::cause::ShortfallCause;
use crate::route::{PumpFeed, Route, Schedule};

pub(super) fn schedule(inputs: &ScheduleInputs<'_>) -> Schedule {
    let route = |feed: PumpFeed, utility: bool| Route {
        groups: Vec::new(),
        sets: inputs.sets_all(feed),
        utility,
        mains_hours: inputs.pumping.grid_only_hours,
    };
    Schedule {
        routes: vec![
            route(PumpFeed::Mains, true),
            route(PumpFeed::Stands(ShortfallCause::GridDown), false),
        ],
        phases: follow_utility(inputs.outages, 0, 1),
    }
}
