//! Restart by hand: after a loss of power the starters of sets on the bus stay out until somebody closes them.

use daylift_plant::Arrangement;
use daylift_units::CivilHour;

use super::inputs::{RestartByHand, ScheduleInputs};
use super::tracks::{Track, Wait, combine};
use crate::cause::ShortfallCause;
use crate::route::{PumpFeed, Schedule};

/// The schedule of `alone` with starters that are closed by hand.
///
/// A set that runs on a drive in this arrangement is started by the drive or by the changeover. The island of a battery
/// takes over without a break, so that no starter drops out.
pub(super) fn by_hand(
    alone: Schedule,
    arrangement: Arrangement,
    inputs: &ScheduleInputs<'_>,
    rule: &RestartByHand<'_>,
) -> Schedule {
    let parts = arrangement.traits();
    if parts.has_battery {
        return alone;
    }
    let waits = waits(inputs, rule, arrangement.generator);
    combine((Track::of_phases(&alone.phases), waits), |(route, wait)| {
        let mut route = alone.routes[*route].clone();
        if *wait == Wait::Waiting {
            for (feed, has_drive) in route.sets.iter_mut().zip(inputs.set_has_drive) {
                if *feed == PumpFeed::Mains && !(parts.has_drive && *has_drive) {
                    *feed = PumpFeed::Stopped(ShortfallCause::WaitingForRestart);
                }
            }
        }
        route
    })
}

/// When there is power and the starters are open.
fn waits(inputs: &ScheduleInputs<'_>, rule: &RestartByHand<'_>, generator: bool) -> Track<Wait> {
    let mut track = Track::beginning(Wait::Ready);
    let outages = inputs.outages.intervals();
    let mut wait = |[from_s, until_s]: [f64; 2]| {
        let closes_s = rule.closes_s(from_s).min(until_s);
        if from_s < closes_s {
            track.from(from_s, Wait::Waiting);
            track.from(closes_s, Wait::Ready);
        }
    };
    for (i, outage) in outages.iter().enumerate() {
        if generator {
            let carries_load = [outage.start_s + inputs.generator_delay_s, outage.end_s];
            rule.in_generator_hours(carries_load).into_iter().for_each(&mut wait);
        }
        let next_loss_s = outages.get(i + 1).map_or(rule.axis.length_s(), |next| next.start_s);
        wait([outage.end_s, next_loss_s]);
    }
    track
}

impl RestartByHand<'_> {
    /// When the starters close after power returns at an instant \[s\]; infinite if nobody comes until the end of the year.
    fn closes_s(&self, power_s: f64) -> f64 {
        let ready_s = power_s + self.delay_s;
        let hours = self.axis.civil_hours();
        let attended = |hour: &&CivilHour| self.attended.allows(hour.hour);
        let next = hours[containing(hours, ready_s)..].iter().find(attended);
        next.map_or(f64::INFINITY, |hour| hour.start_s.max(ready_s))
    }

    /// The parts of a time in which a generator may run.
    fn in_generator_hours(&self, [from_s, to_s]: [f64; 2]) -> Vec<[f64; 2]> {
        let hours = self.axis.civil_hours();
        let mut parts: Vec<[f64; 2]> = Vec::new();
        for (i, hour) in hours.iter().enumerate().skip(containing(hours, from_s)) {
            let end_s = hours.get(i + 1).map_or(self.axis.length_s(), |next| next.start_s);
            let part = [hour.start_s.max(from_s), end_s.min(to_s)];
            if part[0] >= part[1] {
                break;
            }
            if self.generator_hours.allows(hour.hour) {
                match parts.last_mut() {
                    Some(last) if last[1] >= part[0] => last[1] = part[1],
                    _ => parts.push(part),
                }
            }
        }
        parts
    }
}

/// Index of the civil hour that contains an instant \[s\].
fn containing(hours: &[CivilHour], at_s: f64) -> usize {
    hours.partition_point(|hour| hour.start_s <= at_s).saturating_sub(1)
}

#[cfg(test)]
mod tests;
