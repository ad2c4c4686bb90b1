//! `grid-tied`: strings, pumps and loads on one bus with the grid; in an outage nothing runs, and after it each inverter
//! waits.

use super::inputs::{IDLE, NO_POWER, ScheduleInputs, UTILITY};
use super::tracks::{Track, Utility, combine};
use crate::cause::LossCause;
use crate::route::{ArrayFeed, Bus, PumpFeed, Schedule};

pub(super) fn schedule(inputs: &ScheduleInputs<'_>) -> Schedule {
    let inverters = Track::of_inverters(inputs, |_| inputs.returns_s());
    let tracks = (Track::of_utility(inputs.outages), inverters);
    combine(tracks, |(utility, inverters)| match utility {
        Utility::On => inputs.route(
            inputs.groups(|g| g.inverter.map_or(IDLE, |i| inverters[i].feeding())),
            inputs.sets_all(PumpFeed::Mains),
            UTILITY,
        ),
        Utility::Down => inputs.route(
            inputs.groups(|_| ArrayFeed::Idle(LossCause::GridDown)),
            inputs.sets_all(NO_POWER),
            Bus::Dead,
        ),
    })
}
