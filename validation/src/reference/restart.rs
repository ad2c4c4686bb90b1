//! Restart of the starters by hand (§10g): when they are closed.

use daylift_grid::Interval;
use daylift_plant::{DayHours, GeneratorUse};
use daylift_units::{Axis, Hour};

/// Restart by hand.
#[derive(Debug, Clone, Copy)]
pub(super) struct ByHand {
    pub(super) delay_s: f64,
    pub(super) attended: DayHours,
}

/// The periods in which the starters on the bus are closed, in order.
///
/// Each supply of the utility or of the generator begins with them open; only the year begins with them closed.
pub(super) fn closed(
    by_hand: ByHand,
    outages: &[Interval],
    generator: Option<&GeneratorUse>,
    axis: &Axis,
) -> Vec<Interval> {
    let year_s = axis.length_s();
    let mut closed = Vec::new();
    let mut on_since_s = 0.0;
    let mut first = true;
    for outage in outages {
        closed.extend(closed_in(by_hand, on_since_s, outage.start_s, first, axis));
        first = false;
        if let Some(generator) = generator {
            for supply in supplies(outage, generator, axis) {
                closed.extend(closed_in(by_hand, supply.start_s, supply.end_s, false, axis));
            }
        }
        on_since_s = outage.end_s;
    }
    closed.extend(closed_in(by_hand, on_since_s, year_s, first, axis));
    closed
}

/// The part of a supply, from its begin to its end, in which the starters are closed.
fn closed_in(by_hand: ByHand, start_s: f64, end_s: f64, at_once: bool, axis: &Axis) -> Option<Interval> {
    let pressed_s = if at_once {
        Some(start_s)
    } else {
        let ready_s = start_s + by_hand.delay_s;
        hours(axis, ready_s, end_s).find(|h| by_hand.attended.allows(h.1)).map(|h| h.0.start_s)
    };
    pressed_s.filter(|&at_s| at_s < end_s).map(|start_s| Interval { start_s, end_s })
}

/// When the generator can supply the bus in an outage.
fn supplies(outage: &Interval, generator: &GeneratorUse, axis: &Axis) -> Vec<Interval> {
    let mut supplies: Vec<Interval> = Vec::new();
    for (part, hour) in hours(axis, outage.start_s + generator.start_delay_s, outage.end_s) {
        match supplies.last_mut() {
            _ if !generator.hours.allows(hour) => {}
            Some(last) if last.end_s >= part.start_s => last.end_s = part.end_s,
            _ => supplies.push(part),
        }
    }
    supplies
}

/// The civil hours of a period, each cut to the period.
fn hours(axis: &Axis, from_s: f64, to_s: f64) -> impl Iterator<Item = (Interval, Hour)> + '_ {
    let civil = axis.civil_hours();
    let first = civil.partition_point(|h| h.start_s <= from_s).saturating_sub(1);
    (first..civil.len())
        .take_while(move |&i| civil[i].start_s < to_s && from_s < to_s)
        .map(move |i| {
            let end_s = civil.get(i + 1).map_or(axis.length_s(), |next| next.start_s);
            let part = Interval {
                start_s: civil[i].start_s.max(from_s),
                end_s: end_s.min(to_s),
            };
            (part, civil[i].hour)
        })
}
