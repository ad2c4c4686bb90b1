//! How often each drive is powered up: found from routes and offers, apart from the loop.

use std::ops::Range;
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
        let source = |span: &Span| {
            routes.get(span.route).map_or(Source::None, |route| {
                let second_input = matches!(route.sets.get(set), Some(PumpFeed::DriveAndMains { .. }));
                if second_input && has_power(route.bus, span, generator) {
                    Source::Mains
                } else if route.groups.contains(&ArrayFeed::Drive) {
                    Source::Strings
                } else {
                    Source::None
                }
            })
        };
        counted(timeline.spans(), drive.lit(), source)
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

/// What brings DC to a drive.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Source {
    None,
    /// Its strings, where they have light.
    Strings,
    /// Mains on its second input, at any light.
    Mains,
}

/// Counts the rises from no DC to DC; `lit` has the runs of steps in which the strings have light.
fn counted(spans: &[Span], lit: &[Range<usize>], source: impl Fn(&Span) -> Source) -> PowerUps {
    let is_lit = |step: usize| {
        let after = lit.partition_point(|run| run.start <= step);
        after.checked_sub(1).and_then(|i| lit.get(i)).is_some_and(|run| run.contains(&step))
    };
    let mut before = spans.last().is_some_and(|span| match source(span) {
        Source::None => false,
        Source::Strings => is_lit(span.last as usize),
        Source::Mains => true,
    });
    let mut ups = PowerUps::default();
    let mut runs = lit;
    for day in spans.chunk_by(|a, b| a.day == b.day) {
        let mut in_day = 0;
        for span in day {
            let (rises, ends_with_dc) = match source(span) {
                Source::None => (0, false),
                Source::Mains => (u32::from(!before), true),
                Source::Strings => in_light(&mut runs, [span.step as usize, span.last as usize], before),
            };
            in_day += rises;
            before = ends_with_dc;
        }
        ups.in_year += in_day;
        ups.most_in_a_day = ups.most_in_a_day.max(in_day);
    }
    ups
}

/// Rises within some steps on the strings, and whether there is DC in the last of them. Drops the runs of light that end
/// before these steps from `runs`.
fn in_light(runs: &mut &[Range<usize>], [first, last]: [usize; 2], before: bool) -> (u32, bool) {
    let mut rises = 0;
    let mut ends_with_dc = false;
    while let Some((run, later)) = runs.split_first() {
        if run.start > last {
            break;
        }
        if run.end > first {
            let goes_on = before && run.start <= first;
            rises += u32::from(!goes_on);
            ends_with_dc = run.end > last;
        }
        if run.end > last {
            break;
        }
        *runs = later;
    }
    (rises, ends_with_dc)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Two mornings: light in steps 2 to 4 and 8 to 9.
    fn lit() -> Vec<Range<usize>> {
        vec![2..5, 8..10]
    }

    #[test]
    fn light_that_begins_within_the_steps_is_one_rise_each() {
        let lit = lit();
        let mut runs = lit.as_slice();
        assert_eq!(in_light(&mut runs, [0, 11], false), (2, false));
        assert!(runs.is_empty());
    }

    #[test]
    fn a_drive_that_had_dc_before_goes_on_without_a_rise() {
        let lit = lit();
        let mut runs = lit.as_slice();
        assert_eq!(in_light(&mut runs, [3, 3], true), (0, true));
        // A span that begins in the middle of the same step, connected only now.
        assert_eq!(in_light(&mut runs, [3, 4], false), (1, true));
        assert_eq!(in_light(&mut runs, [5, 8], true), (1, true));
        assert_eq!(in_light(&mut runs, [9, 10], true), (0, false));
    }
}
