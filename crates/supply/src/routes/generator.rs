//! A generator added to any arrangement. In an outage it holds the bus, and pumps that would be stopped run on it.
//!
//! It is never treated as the grid: no string group is moved to the bus for it.

use super::inputs::{NO_POWER, ScheduleInputs};
use super::tracks::{Track, Wait, combine};
use crate::route::{Bus, PumpFeed, Route, Schedule};

/// The schedule of `alone` with a set that carries load once its start delay has passed after each loss of the utility.
pub(super) fn beside(alone: &Schedule, inputs: &ScheduleInputs<'_>) -> Schedule {
    let mut carries_load = Track::beginning(Wait::Waiting);
    for outage in inputs.outages.intervals() {
        let from_s = outage.start_s + inputs.generator_delay_s;
        if from_s < outage.end_s {
            carries_load.from(from_s, Wait::Ready);
            carries_load.from(outage.end_s, Wait::Waiting);
        }
    }
    let tracks = (Track::of_phases(&alone.phases), carries_load);
    combine(tracks, |(route, generator)| {
        let route = &alone.routes[*route];
        if *generator == Wait::Ready && !route.utility {
            on_generator(route)
        } else {
            route.clone()
        }
    })
}

fn on_generator(dark: &Route) -> Route {
    let mut route = dark.clone();
    route.bus = match dark.bus {
        Bus::Island { .. } => Bus::Island { generator: true },
        _ => Bus::Generator,
    };
    for feed in &mut route.sets {
        *feed = match *feed {
            NO_POWER => PumpFeed::Mains,
            PumpFeed::Drive => PumpFeed::DriveElseMains,
            // Fuel is used only when the sun alone gives too little flow.
            PumpFeed::DriveAndMains { .. } => PumpFeed::DriveAndMains { only_without_sun: true },
            other => other,
        };
    }
    route
}
