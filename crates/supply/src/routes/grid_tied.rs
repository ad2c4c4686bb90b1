//! `grid-tied`: strings, pumps and loads on one bus with the grid; in an outage nothing runs, and after it each inverter
//! waits.

use super::tracks::{Track, UP, inverter_tracks, weave};
use super::{DARK, IDLE, ScheduleInputs, UTILITY, feeding_when_ready};
use crate::cause::LossCause;
use crate::route::{ArrayFeed, Bus, PumpFeed, Schedule};

pub(super) fn schedule(inputs: &ScheduleInputs<'_>) -> Schedule {
    let mut tracks = vec![Track::of_utility(inputs.outages)];
    tracks.extend(inverter_tracks(inputs, |_| inputs.returns_s()));
    weave(&tracks, |states| match states {
        [UP, inverters @ ..] => inputs.route(
            inputs.groups(|g| g.inverter.map_or(IDLE, |i| feeding_when_ready(inverters[i]))),
            inputs.sets_all(PumpFeed::Mains),
            UTILITY,
        ),
        _ => inputs.route(
            inputs.groups(|_| ArrayFeed::Idle(LossCause::GridDown)),
            inputs.sets_all(DARK),
            Bus::Dead,
        ),
    })
}
