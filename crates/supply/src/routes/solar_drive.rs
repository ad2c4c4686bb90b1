//! `solar-drive`: the array on the drive, always; the loads on the grid.

use super::{ScheduleInputs, follow_utility};
use crate::route::{ArrayFeed, PumpFeed, Route, Schedule};

pub(super) fn schedule(inputs: &ScheduleInputs<'_>) -> Schedule {
    let up = Route {
        array: ArrayFeed::Drive,
        pump: PumpFeed::Drive,
        utility: true,
        mains_hours: inputs.pumping.mains_hours,
    };
    let down = Route { utility: false, ..up };
    Schedule {
        routes: vec![up, down],
        phases: follow_utility(inputs.outages, 0, 1),
    }
}
