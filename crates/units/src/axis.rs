//! The time axis: one simulation year in steps, with the civil hour of every instant.

use crate::{Fingerprint, fingerprint};
use std::hash::Hasher;
use std::sync::Arc;

use jiff::tz::{AmbiguousOffset, TimeZone};
use jiff::{Timestamp, civil};

use crate::constants::{DAY_S, HOUR_S};
use crate::fault::Fault;
use crate::{Hour, Month};

/// Length of a step.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Step {
    /// One hour.
    Hour,
    /// Ten minutes.
    TenMinutes,
    /// One minute.
    Minute,
}

fingerprint!(by Hash: Step);

impl Step {
    /// Length \[s\].
    #[must_use]
    pub fn seconds(self) -> u32 {
        match self {
            Step::Hour => 3600,
            Step::TenMinutes => 600,
            Step::Minute => 60,
        }
    }
}

/// A stretch of the year within one civil hour.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CivilHour {
    /// Start, seconds after the start of the axis.
    pub start_s: f64,
    /// Calendar month.
    pub month: Month,
    /// Hour of the civil day.
    pub hour: Hour,
    /// Day of the month, 1 to 31.
    pub day: u8,
}

/// What a clock change does to a civil time.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ClockChange {
    /// The clock shows the time once.
    None,
    /// The clock jumps over the time; the instant is that of the jump.
    Skipped,
    /// The clock shows the time twice.
    Repeated,
}

/// A civil time as one or two instants, in seconds after the start of the axis.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Instant {
    /// The instant, or the first of two.
    pub earlier_s: f64,
    /// The instant, or the second of two.
    pub later_s: f64,
    /// Whether a clock change skips or repeats the time.
    pub change: ClockChange,
}

/// One simulation year: start, step and civil calendar.
///
/// Instants are seconds after the start. The year starts at 00:00 on 1 January in a fixed offset from UTC, the
/// weather's.
#[derive(Debug, Clone)]
pub struct Axis {
    start_unix_s: i64,
    days: u32,
    step: Step,
    zone: TimeZone,
    civil: Arc<[CivilHour]>,
}

impl Fingerprint for Axis {
    fn feed(&self, into: &mut impl Hasher) {
        // The civil hours follow from the other fields.
        let Self {
            start_unix_s,
            days,
            step,
            zone,
            civil: _,
        } = self;
        (start_unix_s, days, step, zone.iana_name()).feed(into);
    }
}

impl Axis {
    /// A year of `days` days that starts at 00:00 on 1 January of `year`, at `offset_s` seconds east of UTC. Civil time
    /// follows the IANA time zone `zone`.
    ///
    /// # Errors
    /// Faults for a year outside 1950–2100 and for a number of days that the year does not have; also for an unknown
    /// zone and an offset of more than 15 h.
    pub fn new(year: i16, days: u32, offset_s: i32, zone: &str, step: Step) -> Result<Self, Vec<Fault>> {
        let mut faults = Vec::new();
        faults.extend(year_fault(year, days));
        faults.extend(offset_fault(offset_s));
        let zone = TimeZone::get(zone).unwrap_or_else(|_| {
            faults.push(Fault::new(
                "time_zone",
                "time zone of the site",
                format!("\"{zone}\""),
                "a name of the IANA time zone database",
                "give a name such as \"Africa/Lusaka\" or \"Asia/Kolkata\"",
            ));
            TimeZone::UTC
        });
        if !faults.is_empty() {
            return Err(faults);
        }
        let midnight = civil::Date::constant(year, 1, 1).to_zoned_datetime(TimeZone::UTC);
        let start_unix_s = midnight.map_or(0, |z| z.timestamp().as_second()) - i64::from(offset_s);
        let mut axis = Self {
            start_unix_s,
            days,
            step,
            zone,
            civil: Arc::default(),
        };
        axis.civil = axis.walk_civil_hours().into();
        Ok(axis)
    }

    /// The same year with another step.
    #[must_use]
    pub fn with_step(&self, step: Step) -> Self {
        Self { step, ..self.clone() }
    }

    fn walk_civil_hours(&self) -> Vec<CivilHour> {
        let mut hours = Vec::with_capacity(self.days as usize * 24 + 2);
        let end = self.start_unix_s + i64::from(self.days) * 86_400;
        let mut t = self.start_unix_s;
        while t < end {
            let (local, offset) = self.local(t);
            hours.push(CivilHour {
                start_s: seconds(t - self.start_unix_s),
                month: Month::of(local.date()),
                hour: Hour::of(local.time()),
                day: local.day().unsigned_abs(),
            });
            t += 3600 - (t + offset).rem_euclid(3600);
        }
        hours
    }

    fn local(&self, unix_s: i64) -> (civil::DateTime, i64) {
        let stamp = Timestamp::from_second(unix_s).unwrap_or(Timestamp::UNIX_EPOCH);
        let offset = self.zone.to_offset(stamp);
        (offset.to_datetime(stamp), i64::from(offset.seconds()))
    }

    /// Start of the year, seconds after 1970-01-01T00:00Z.
    #[must_use]
    pub fn start_unix_s(&self) -> i64 {
        self.start_unix_s
    }

    /// Length of the year \[s\].
    #[must_use]
    pub fn length_s(&self) -> f64 {
        f64::from(self.days) * DAY_S
    }

    /// Days in the year.
    #[must_use]
    pub fn days(&self) -> u32 {
        self.days
    }

    /// Length of a step \[s\].
    #[must_use]
    pub fn step_s(&self) -> f64 {
        f64::from(self.step.seconds())
    }

    /// The step.
    #[must_use]
    pub fn step(&self) -> Step {
        self.step
    }

    /// Number of steps in the year.
    #[must_use]
    pub fn steps(&self) -> usize {
        (self.days * (86_400 / self.step.seconds())) as usize
    }

    /// Steps in an hour.
    #[must_use]
    pub fn steps_per_hour(&self) -> usize {
        (3600 / self.step.seconds()) as usize
    }

    /// The zone's standard time (without daylight saving), seconds east of UTC.
    #[must_use]
    pub fn standard_offset_s(&self) -> i64 {
        let half_year_s = i64::from(self.days / 2) * 86_400;
        let (january, july) = (
            self.local(self.start_unix_s).1,
            self.local(self.start_unix_s + half_year_s).1,
        );
        january.min(july)
    }

    /// The civil hours in order; each lasts until the next begins.
    #[must_use]
    pub fn civil_hours(&self) -> &[CivilHour] {
        &self.civil
    }

    /// A civil time as an instant; `None` outside the range of dates.
    #[must_use]
    pub fn instant(&self, civil_time: civil::DateTime) -> Option<Instant> {
        let ambiguous = self.zone.to_ambiguous_zoned_datetime(civil_time);
        let change = match ambiguous.offset() {
            AmbiguousOffset::Unambiguous { .. } => ClockChange::None,
            AmbiguousOffset::Gap { .. } => ClockChange::Skipped,
            AmbiguousOffset::Fold { .. } => ClockChange::Repeated,
        };
        let earlier = ambiguous.clone().earlier().ok()?.timestamp();
        let later = ambiguous.later().ok()?.timestamp();
        let (earlier, later) = match change {
            ClockChange::Skipped => {
                let changed = self.zone.following(earlier).next().map_or(later, |t| t.timestamp());
                (changed, changed)
            }
            _ => (earlier, later),
        };
        let after_start = |t: Timestamp| seconds(t.as_second() - self.start_unix_s);
        Some(Instant {
            earlier_s: after_start(earlier),
            later_s: after_start(later),
            change,
        })
    }

    /// Civil date and time of an instant, to the second.
    #[must_use]
    pub fn civil_at(&self, instant_s: f64) -> civil::DateTime {
        #[expect(clippy::cast_possible_truncation, reason = "an instant of the year, far below i64")]
        let unix_s = self.start_unix_s + instant_s.round() as i64;
        self.local(unix_s).0
    }

    /// Civil date and time of an instant, `2025-03-09 14:20`.
    #[must_use]
    pub fn civil_text(&self, instant_s: f64) -> String {
        let local = self.civil_at(instant_s);
        format!(
            "{:04}-{:02}-{:02} {:02}:{:02}",
            local.year(),
            local.month(),
            local.day(),
            local.hour(),
            local.minute()
        )
    }
}

fn year_fault(year: i16, days: u32) -> Option<Fault> {
    if !(1950..=2100).contains(&year) {
        return Some(Fault::new(
            "year",
            "simulation year",
            year.to_string(),
            "1950 to 2100",
            "give a year such as 2025",
        ));
    }
    let leap = civil::Date::new(year, 1, 1).is_ok_and(civil::Date::in_leap_year);
    if days == if leap { 366 } else { 365 } {
        return None;
    }
    let (wanted, such_as) = if days == 366 { ("leap", 2024) } else { ("common", 2025) };
    Some(Fault::new(
        "year",
        "simulation year",
        format!("{year}, a {} year", if leap { "leap" } else { "common" }),
        format!("a year of {days} days, as the weather file has"),
        format!("choose a {wanted} year such as {such_as}, or another weather file"),
    ))
}

fn offset_fault(offset_s: i32) -> Option<Fault> {
    (offset_s.abs() > 15 * 3600).then(|| {
        Fault::new(
            "",
            "time zone of the weather",
            format!("UTC{:+} h", f64::from(offset_s) / HOUR_S),
            "within 15 h of UTC",
            "correct the time zone in the weather file's first line",
        )
    })
}

#[expect(clippy::cast_precision_loss, reason = "seconds of one year are exact in f64")]
fn seconds(s: i64) -> f64 {
    s as f64
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn in_a_half_hour_zone_civil_hours_start_half_way_through_a_step() {
        // Weather in UTC+5 for a site on UTC+5:30: the year begins at 00:30 civil time.
        let axis = Axis::new(2025, 365, 5 * 3600, "Asia/Kolkata", Step::Hour).unwrap();
        let hours = axis.civil_hours();
        assert_eq!(hours.len(), 8761);
        assert!((hours[1].start_s - 1800.0).abs() < 1e-9 && hours[1].hour == Hour::H1);
    }

    #[test]
    fn daylight_saving_skips_one_civil_hour_and_repeats_one() {
        let axis = Axis::new(2025, 365, -5 * 3600, "America/New_York", Step::Hour).unwrap();
        assert_eq!(axis.civil_hours().len(), 8760);
        let march = axis.civil_hours().iter().filter(|h| h.month == Month::March && h.day == 9).count();
        let november = axis.civil_hours().iter().filter(|h| h.month == Month::November && h.day == 2).count();
        assert_eq!((march, november), (23, 25));
    }

    #[test]
    fn a_leap_year_needs_weather_with_a_leap_day() {
        assert!(Axis::new(2024, 366, 0, "UTC", Step::Hour).is_ok());
        let faults = Axis::new(2024, 365, 0, "UTC", Step::Hour).unwrap_err();
        assert!(faults[0].to_string().contains("choose a common year such as 2025"));
    }

    #[test]
    fn a_skipped_time_is_the_instant_of_the_jump_and_a_repeated_time_is_two_instants() {
        // Berlin 2025: 30 March 02:00 becomes 03:00, 26 October 03:00 becomes 02:00.
        let axis = Axis::new(2025, 365, 3600, "Europe/Berlin", Step::Hour).unwrap();
        let at = |d: civil::DateTime| axis.instant(d).unwrap();
        let skipped = at(civil::datetime(2025, 3, 30, 2, 30, 0, 0));
        assert_eq!(skipped.change, ClockChange::Skipped);
        assert!((skipped.earlier_s - at(civil::datetime(2025, 3, 30, 3, 0, 0, 0)).earlier_s).abs() < 1e-9);
        let repeated = at(civil::datetime(2025, 10, 26, 2, 30, 0, 0));
        assert_eq!(repeated.change, ClockChange::Repeated);
        assert!((repeated.later_s - repeated.earlier_s - 3600.0).abs() < 1e-9);
    }

    #[test]
    fn an_unknown_zone_is_a_fault() {
        assert!(Axis::new(2025, 365, 0, "Mars/Olympus", Step::Hour).is_err());
    }
}
