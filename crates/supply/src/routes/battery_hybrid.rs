//! `battery-hybrid`: as `grid-tied` with a battery while the grid is there; in an outage an island on array and battery.

use super::tracks::{READY, Track, UP, inverter_tracks, weave};
use super::{IDLE, ScheduleInputs, feeding_when_ready};
use crate::route::{ArrayFeed, Bus, PumpFeed, Schedule};

pub(super) fn schedule(inputs: &ScheduleInputs<'_>) -> Schedule {
    // The battery's inverter comes back with the slowest of the others.
    let slowest_s = inputs.reconnection_s.iter().copied().fold(0.0, f64::max);
    let mut tracks = vec![
        Track::of_utility(inputs.outages),
        Track::of_waits(inputs.returns_s(), slowest_s),
    ];
    tracks.extend(inverter_tracks(inputs, |_| inputs.returns_s()));
    weave(&tracks, |states| match states {
        [UP, battery, inverters @ ..] => inputs.route(
            inputs.groups(|g| g.inverter.map_or(IDLE, |i| feeding_when_ready(inverters[i]))),
            inputs.sets_all(PumpFeed::Mains),
            Bus::Utility {
                battery: *battery == READY,
            },
        ),
        _ => inputs.route(
            inputs.groups(|g| g.inverter.map_or(IDLE, |_| ArrayFeed::Bus)),
            inputs.sets_all(PumpFeed::Mains),
            Bus::Island { generator: false },
        ),
    })
}
