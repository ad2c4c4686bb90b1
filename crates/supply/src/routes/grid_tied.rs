//! `grid-tied`: strings, pumps and loads on one bus with the grid; in an outage nothing runs, and after it the inverters
//! wait.

use super::{Phases, ScheduleInputs};
use crate::cause::{LossCause, ShortfallCause};
use crate::route::{ArrayFeed, PumpFeed, Route, Schedule};

const FEEDING: u8 = 0;
const DOWN: u8 = 1;
const WAITING: u8 = 2;

pub(super) fn schedule(inputs: &ScheduleInputs<'_>) -> Schedule {
    let route = |feed: ArrayFeed, pump: PumpFeed, utility: bool| Route {
        groups: inputs.groups_on_inverter(feed),
        sets: inputs.sets_all(pump),
        utility,
        mains_hours: inputs.pumping.mains_hours,
    };
    let stands = PumpFeed::Stands(ShortfallCause::GridDown);
    let mut down = route(ArrayFeed::Bus, stands, false);
    down.groups = inputs.groups_idle(LossCause::GridDown);
    let mut phases = Phases::default();
    phases.from(0.0, FEEDING);
    for outage in inputs.outages.intervals() {
        phases.from(outage.start_s, DOWN);
        phases.from(outage.end_s, WAITING);
        phases.from(outage.end_s + inputs.reconnection_s, FEEDING);
    }
    Schedule {
        routes: vec![
            route(ArrayFeed::Bus, PumpFeed::Mains, true),
            down,
            route(ArrayFeed::Idle(LossCause::WaitingToReconnect), PumpFeed::Mains, true),
        ],
        phases: phases.into_vec(),
    }
}
