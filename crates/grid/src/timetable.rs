//! A rotating outage timetable: slots by day of the month and civil time, in stages.

use daylift_units::Axis;
use jiff::ToSpan;
use jiff::civil::{Date, DateTime};

use crate::Interval;

/// An outage slot: on one day of every month, in its stage and all higher ones.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Slot {
    /// Lowest stage in which the slot applies.
    pub stage: u8,
    /// Day of the month, 1 to 31.
    pub day: u8,
    /// Start, minutes after midnight.
    pub start_min: u16,
    /// End, minutes after midnight; at or before the start it means the next day.
    pub end_min: u16,
}

/// The stage in force during an interval.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StageInForce {
    /// The interval.
    pub interval: Interval,
    /// The stage.
    pub stage: u8,
}

/// The outages of a timetable, clipped to the year. Outside the given intervals no stage is in force; where they
/// overlap, the higher stage is.
///
/// Slots follow civil time. A slot from 01:00 to 03:00 is one hour longer in the night in which the clock is set back,
/// and one hour shorter when it is set forward.
#[must_use]
pub fn outages_of(slots: &[Slot], in_force: &[StageInForce], axis: &Axis) -> Vec<Interval> {
    let mut out = Vec::new();
    // A slot on the day before the year may extend into it.
    let mut date = axis.civil_at(0.0).date().yesterday().unwrap_or(Date::MIN);
    let last = axis.civil_at(axis.length_s()).date();
    while date <= last {
        for slot in slots.iter().filter(|slot| date.day().unsigned_abs() == slot.day) {
            let Some(whole) = on_date(*slot, date, axis) else {
                continue;
            };
            let parts = in_force.iter().filter(|f| f.stage >= slot.stage).map(|f| Interval {
                start_s: whole.start_s.max(f.interval.start_s).max(0.0),
                end_s: whole.end_s.min(f.interval.end_s).min(axis.length_s()),
            });
            out.extend(parts.filter(|part| part.end_s > part.start_s));
        }
        let Ok(next) = date.tomorrow() else { break };
        date = next;
    }
    out
}

fn on_date(slot: Slot, date: Date, axis: &Axis) -> Option<Interval> {
    let from = axis.instant(at_minute(date, slot.start_min)?)?;
    let end_date = if slot.end_min <= slot.start_min {
        date.tomorrow().ok()?
    } else {
        date
    };
    let to = axis.instant(at_minute(end_date, slot.end_min)?)?;
    let start_s = from.earlier_s;
    // If the clock repeats the hour of the end, the first instant after the start counts.
    let end_s = if to.earlier_s > start_s {
        to.earlier_s
    } else {
        to.later_s
    };
    Some(Interval { start_s, end_s })
}

fn at_minute(date: Date, minute: u16) -> Option<DateTime> {
    date.at(0, 0, 0, 0).checked_add(i64::from(minute).minutes()).ok()
}

#[cfg(test)]
mod tests {
    use daylift_units::Step;

    use super::*;

    fn slot(stage: u8, day: u8, start_h: u16, end_h: u16) -> Slot {
        Slot {
            stage,
            day,
            start_min: start_h * 60,
            end_min: end_h * 60,
        }
    }

    fn always(stage: u8) -> [StageInForce; 1] {
        let interval = Interval {
            start_s: f64::NEG_INFINITY,
            end_s: f64::INFINITY,
        };
        [StageInForce { interval, stage }]
    }

    fn hours(intervals: &[Interval]) -> f64 {
        intervals.iter().map(Interval::length_s).sum::<f64>() / 3600.0
    }

    #[test]
    fn a_stage_has_the_slots_of_all_lower_ones() {
        // Worked by hand: twelve months have a 1st and a 2nd, seven have a 31st.
        let axis = Axis::new(2025, 365, 7200, "Africa/Lusaka", Step::Hour).unwrap();
        let slots = [slot(1, 1, 6, 8), slot(2, 2, 10, 12), slot(3, 31, 14, 18)];
        for (stage, wanted) in [(0, 0.0), (1, 24.0), (2, 48.0), (3, 48.0 + 28.0)] {
            let found = hours(&outages_of(&slots, &always(stage), &axis));
            assert!((found - wanted).abs() < 1e-9, "stage {stage}: {found} h");
        }
    }

    #[test]
    fn a_slot_past_midnight_extends_into_the_year_from_the_day_before() {
        let axis = Axis::new(2025, 365, 0, "UTC", Step::Hour).unwrap();
        let found = outages_of(&[slot(1, 31, 22, 2)], &always(1), &axis);
        assert_eq!((found[0].start_s, found[0].end_s), (0.0, 7200.0));
    }

    #[test]
    fn slots_follow_civil_time() {
        // Berlin 2025: set forward on 30 March at 02:00, back on 26 October at 03:00.
        let axis = Axis::new(2025, 365, 3600, "Europe/Berlin", Step::Hour).unwrap();
        let lengths: Vec<f64> = outages_of(&[slot(1, 30, 1, 4), slot(1, 26, 1, 4)], &always(1), &axis)
            .iter()
            .map(|i| i.length_s() / 3600.0)
            .collect();
        // Twelve months with a 26th, eleven with a 30th.
        assert_eq!(lengths.len(), 23);
        assert_eq!(lengths.iter().filter(|l| (**l - 2.0).abs() < 1e-9).count(), 1);
        assert_eq!(lengths.iter().filter(|l| (**l - 4.0).abs() < 1e-9).count(), 1);
    }

    #[test]
    fn slots_are_limited_to_the_time_when_their_stage_is_in_force() {
        let axis = Axis::new(2025, 365, 0, "UTC", Step::Hour).unwrap();
        let in_force = [(7.0, 9.0, 1), (8.0, 24.0, 3)].map(|(from, to, stage)| StageInForce {
            interval: Interval {
                start_s: from * 3600.0,
                end_s: to * 3600.0,
            },
            stage,
        });
        // Stage 1 from 07:00, stage 3 from 08:00. A slot from 06:00 to 10:00 in stage 1 keeps 3 h; one from 07:00 to
        // 09:00 in stage 2 keeps 1 h.
        let (one, _) = crate::Outages::new(outages_of(&[slot(1, 1, 6, 10)], &in_force, &axis), axis.length_s());
        let (two, _) = crate::Outages::new(outages_of(&[slot(2, 1, 7, 9)], &in_force, &axis), axis.length_s());
        assert!((one.total_s() - 3.0 * 3600.0).abs() < 1e-9);
        assert!((two.total_s() - 3600.0).abs() < 1e-9);
    }
}
