//! `solar-drive`: the strings on the drives, always; the loads, and pumps without a drive, on the grid.

use super::{ScheduleInputs, follow_utility};
use crate::cause::ShortfallCause;
use crate::route::{PumpFeed, Route, Schedule};

pub(super) fn schedule(inputs: &ScheduleInputs<'_>) -> Schedule {
    let route = |others: PumpFeed, utility: bool| Route {
        groups: inputs.groups_on_drive(),
        sets: inputs.sets_on_drive(others),
        utility,
        mains_hours: inputs.pumping.mains_hours,
    };
    Schedule {
        routes: vec![
            route(PumpFeed::Mains, true),
            route(PumpFeed::Stands(ShortfallCause::GridDown), false),
        ],
        phases: follow_utility(inputs.outages, 0, 1),
    }
}
