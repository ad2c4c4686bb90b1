//! A generating set beside any arrangement: in an outage it holds the bus, and what would stand runs on it.
//!
//! It never looks like the grid: no string group is moved to the bus for it.

use super::inputs::{DARK, ScheduleInputs};
use super::tracks::{Track, Wait, weave};
use crate::route::{Bus, PumpFeed, Route, Schedule};

/// The schedule of `alone` with a set that bears load from its start delay after each loss of the utility.
pub(super) fn beside(alone: &Schedule, inputs: &ScheduleInputs<'_>) -> Schedule {
    let mut bears_load = Track::beginning(Wait::Waiting);
    for outage in inputs.outages.intervals() {
        let from_s = outage.start_s + inputs.generator_delay_s;
        if from_s < outage.end_s {
            bears_load.from(from_s, Wait::Ready);
            bears_load.from(outage.end_s, Wait::Waiting);
        }
    }
    let tracks = (Track::of_phases(&alone.phases), bears_load);
    weave(tracks, |(route, generator)| {
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
            DARK => PumpFeed::Mains,
            PumpFeed::Drive => PumpFeed::DriveElseMains,
            // Fuel is spent only where the sun does nothing.
            PumpFeed::DriveAndMains { .. } => PumpFeed::DriveAndMains { only_without_sun: true },
            other => other,
        };
    }
    route
}
