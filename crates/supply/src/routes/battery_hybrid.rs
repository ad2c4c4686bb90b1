//! `battery-hybrid`: as `grid-tied` with a battery while the grid is on; in an outage an island on array and battery.

use super::inputs::{IDLE, ScheduleInputs};
use super::tracks::{Track, Utility, Wait, combine};
use crate::route::{ArrayFeed, Bus, PumpFeed, Schedule};

pub(super) fn schedule(inputs: &ScheduleInputs<'_>) -> Schedule {
    // The battery's inverter comes back with the slowest of the others.
    let slowest_s = inputs.reconnection_s.iter().copied().fold(0.0, f64::max);
    let battery = Track::of_waits(inputs.returns_s(), slowest_s);
    let inverters = Track::of_inverters(inputs, |_| inputs.returns_s());
    let tracks = (Track::of_utility(inputs.outages), (battery, inverters));
    combine(tracks, |(utility, (battery, inverters))| match utility {
        Utility::On => inputs.route(
            inputs.groups(|g| g.inverter.map_or(IDLE, |i| inverters[i].feeding())),
            inputs.sets_all(PumpFeed::Mains),
            Bus::Utility {
                battery: *battery == Wait::Ready,
            },
        ),
        Utility::Down => inputs.route(
            inputs.groups(|g| g.inverter.map_or(IDLE, |_| ArrayFeed::Bus)),
            inputs.sets_all(PumpFeed::Mains),
            Bus::Island { generator: false },
        ),
    })
}
