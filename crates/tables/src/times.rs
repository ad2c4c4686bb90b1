//! Times in CSV files.

use csv::StringRecord;
use daylift_grid::Interval;
use daylift_units::{Axis, ClockChange, Instant};
use jiff::Timestamp;
use jiff::civil::DateTime;

use crate::rows::Notes;

/// Local time to the minute or the second, with nothing after it.
fn civil(text: &str) -> Option<DateTime> {
    let formats = [
        "%Y-%m-%dT%H:%M",
        "%Y-%m-%dT%H:%M:%S",
        "%Y-%m-%d %H:%M",
        "%Y-%m-%d %H:%M:%S",
    ];
    formats.iter().find_map(|format| DateTime::strptime(format, text).ok())
}

/// An interval between two local times, and how many of the two a clock change skips or repeats. Anything after the
/// times (an offset, a zone) is refused, not ignored.
pub(crate) fn interval(
    row: &StringRecord,
    start: &str,
    end: &str,
    axis: &Axis,
    notes: &mut Notes,
) -> Option<(Interval, usize)> {
    let instant = |text| civil(text).and_then(|time| axis.instant(time));
    let (Some(from), Some(to)) = (instant(start), instant(end)) else {
        notes.at(
            row,
            format!("\"{start}\", \"{end}\""),
            "civil dates and times that exist, such as 2025-01-03T18:30",
            "write local time without a zone or an offset; midnight is 00:00 of the next day",
        );
        return None;
    };
    // If the clock repeats the hour of the end, the first instant after the start counts.
    let end_s = if to.earlier_s > from.earlier_s {
        to.earlier_s
    } else {
        to.later_s
    };
    let changed = [from, to].iter().filter(|t| t.change != ClockChange::None).count();
    if end_s > from.earlier_s {
        let start_s = from.earlier_s;
        return Some((Interval { start_s, end_s }, changed));
    }
    let (allowed, remedy) = if from.change == ClockChange::Skipped && to.change == ClockChange::Skipped {
        ("times that exist", "the clock change skips both times: remove the row")
    } else {
        ("an end after the start", "swap them, or correct the date")
    };
    notes.at(row, format!("{start} to {end}"), allowed, remedy);
    None
}

/// The time of a reading.
#[derive(Debug, Clone, Copy)]
pub(crate) enum ReadingTime {
    /// Local time, with its instant.
    Civil(DateTime, Instant),
    /// A time with its offset, as an instant \[s after the start of the year\].
    Fixed(f64),
}

/// A local time, or an ISO time with an offset; a fault in the row when it is neither.
pub(crate) fn reading_time(row: &StringRecord, text: &str, axis: &Axis, notes: &mut Notes) -> Option<ReadingTime> {
    let local = civil(text).and_then(|at| Some(ReadingTime::Civil(at, axis.instant(at)?)));
    let time = local.or_else(|| text.parse::<Timestamp>().ok().map(|t| ReadingTime::Fixed(after_start(t, axis))));
    if time.is_none() {
        notes.at(
            row,
            format!("time \"{text}\""),
            "a date and time that exist, such as 2025-01-03T18:30 or 2025-01-03T18:30+02:00",
            "write local time, or ISO time with its offset; midnight is 00:00 of the next day",
        );
    }
    time
}

#[expect(clippy::cast_precision_loss, reason = "seconds within centuries are exact in f64")]
fn after_start(time: Timestamp, axis: &Axis) -> f64 {
    (time.as_second() - axis.start_unix_s()) as f64
}
