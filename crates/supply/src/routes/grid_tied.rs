//! `grid-tied`: array, pump and loads on one bus with the grid; in an outage nothing runs, and after it the inverter
//! waits.

use super::{Phases, ScheduleInputs};
use crate::cause::{LossCause, ShortfallCause};
use crate::route::{ArrayFeed, PumpFeed, Route, Schedule};

const FEEDING: u8 = 0;
const DOWN: u8 = 1;
const WAITING: u8 = 2;

pub(super) fn schedule(inputs: &ScheduleInputs<'_>) -> Schedule {
    let feeding = Route {
        array: ArrayFeed::Bus,
        pump: PumpFeed::Mains,
        utility: true,
        mains_hours: inputs.pumping.mains_hours,
    };
    let down = Route {
        array: ArrayFeed::Idle(LossCause::GridDown),
        pump: PumpFeed::Stands(ShortfallCause::GridDown),
        utility: false,
        ..feeding
    };
    let waiting = Route {
        array: ArrayFeed::Idle(LossCause::WaitingToReconnect),
        ..feeding
    };
    let mut phases = Phases::default();
    phases.from(0.0, FEEDING);
    for outage in inputs.outages.intervals() {
        phases.from(outage.start_s, DOWN);
        phases.from(outage.end_s, WAITING);
        phases.from(outage.end_s + inputs.reconnection_s, FEEDING);
    }
    Schedule {
        routes: vec![feeding, down, waiting],
        phases: phases.into_vec(),
    }
}
