//! How often each drive is powered up: found from routes and offers, apart from the loop.

use std::sync::Arc;

use daylift_plant::{BySet, DayHours, SetId};
use typed_index_collections::TiSlice;

use crate::offers::{Offers, SetOffers};
use crate::route::{ArrayFeed, Bus, PumpFeed, Route, RouteId};
use crate::timeline::{Span, Timeline};

/// Power-ups of a set's drive: instants from which on it has DC, from its strings or from mains on its second input, while
/// before it had neither.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct PowerUps {
    /// In the year.
    pub in_year: u32,
    /// The most in a civil day.
    pub most_in_a_day: u32,
}

/// The power-ups of every set's drive; `generator` has the hours in which a generator may run, in a row that has one.
///
/// In every arrangement all strings with a drive are on their drives at the same times. Before the year begins a drive has
/// DC if it has it at the year's end.
pub(crate) fn power_ups(
    timeline: &Timeline,
    routes: &TiSlice<RouteId, Route>,
    offers: &Offers,
    generator: Option<DayHours>,
) -> BySet<PowerUps> {
    let one = |(set, of): (SetId, &Arc<SetOffers>)| {
        let Some(drive) = &of.drive else {
            return PowerUps::default();
        };
        let has_dc = |span: &Span, step: usize| {
            routes.get(span.route).is_some_and(|route| {
                let strings = route.groups.contains(&ArrayFeed::Drive) && drive.available_w.at(step) > 0.0;
                let second_input = matches!(route.sets.get(set), Some(PumpFeed::DriveAndMains { .. }));
                strings || (second_input && has_power(route.bus, span, generator))
            })
        };
        counted(timeline.spans(), has_dc)
    };
    offers.sets.iter_enumerated().map(one).collect()
}

/// Whether the utility or a generator has power for a second input.
fn has_power(bus: Bus, span: &Span, generator: Option<DayHours>) -> bool {
    match bus {
        Bus::Utility { .. } => true,
        Bus::Generator => generator.is_some_and(|hours| hours.allows(span.hour)),
        Bus::Dead | Bus::Island { .. } => false,
    }
}

fn counted(spans: &[Span], has_dc: impl Fn(&Span, usize) -> bool) -> PowerUps {
    let mut before = spans.last().is_some_and(|span| has_dc(span, span.last as usize));
    let mut ups = PowerUps::default();
    for day in spans.chunk_by(|a, b| a.day == b.day) {
        let mut in_day = 0;
        for span in day {
            for step in span.step..=span.last {
                let now = has_dc(span, step as usize);
                in_day += u32::from(now && !before);
                before = now;
            }
        }
        ups.in_year += in_day;
        ups.most_in_a_day = ups.most_in_a_day.max(in_day);
    }
    ups
}
