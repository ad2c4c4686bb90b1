//! Times of a plain CSV: from ISO 8601 to the intervals of one civil year.

use std::collections::BTreeMap;

use jiff::Timestamp;
use jiff::civil::{Date, DateTime};
use jiff::tz::Offset;

use crate::rows::Notes;
use crate::weather::{Clock, StampAt, seconds_of_hours};

/// A time as written in the file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Time {
    /// The clock time, counted as if it were UTC \[s since 1970\].
    clock_s: i64,
    /// Seconds east of UTC, if the time has an offset.
    offset_s: Option<i32>,
}

impl Time {
    /// Whether it is a local time, without an offset from UTC.
    pub(crate) fn is_local(self) -> bool {
        self.offset_s.is_none()
    }

    /// Reads `2025-06-01T13:30`, with or without seconds, with `T` or a space, followed by `Z`, `+02:00`, `+0200`,
    /// `+02` or nothing.
    pub(crate) fn read(text: &str) -> Option<Self> {
        let (civil, offset_s) = match text.strip_suffix(['Z', 'z']) {
            Some(civil) => (civil, Some(0)),
            None => match text.get(10..)?.rfind(['+', '-', '−']) {
                Some(at) => (text.get(..10 + at)?, Some(offset(text.get(10 + at..)?)?)),
                None => (text, None),
            },
        };
        if civil.len() < 16 || civil.contains('[') || civil.get(11..)?.contains(['+', '-', 'Z', 'z']) {
            return None;
        }
        let time: DateTime = civil.parse().ok()?;
        // A leap second would be read as the second before it.
        if civil.get(17..19) == Some("60") {
            return None;
        }
        // At the ends of the calendar an offset or an interval would lead outside it.
        let within = (1..=9998).contains(&time.year());
        (within && time.subsec_nanosecond() == 0).then(|| Self {
            clock_s: as_if_utc(time),
            offset_s,
        })
    }
}

fn offset(text: &str) -> Option<i32> {
    let sign = if text.starts_with('+') { 1.0 } else { -1.0 };
    let digits: String = text.chars().skip(1).filter(|c| *c != ':').collect();
    if !digits.bytes().all(|b| b.is_ascii_digit()) {
        return None;
    }
    let (hours, minutes) = match digits.len() {
        2 => (digits.as_str(), "0"),
        4 => digits.split_at(2),
        _ => return None,
    };
    let (hours, minutes): (u16, u16) = (hours.parse().ok()?, minutes.parse().ok()?);
    // The same limit as for `utc_offset_h`.
    (60 * hours + minutes <= 14 * 60 && minutes < 60)
        .then(|| seconds_of_hours(sign * (f64::from(hours) + f64::from(minutes) / 60.0)))
}

fn as_if_utc(time: DateTime) -> i64 {
    Offset::UTC.to_timestamp(time).map_or(0, Timestamp::as_second)
}

fn utc_clock(unix_s: i64) -> Option<DateTime> {
    Timestamp::from_second(unix_s).ok().map(|t| Offset::UTC.to_datetime(t))
}

/// A row: its time, its position in the file, and its values.
pub(crate) struct Row {
    pub(crate) time: Time,
    pub(crate) byte: usize,
    pub(crate) values: [f64; 5],
}

/// The year of the file and its intervals.
pub(crate) struct Calendar {
    pub(crate) interval_s: u32,
    pub(crate) utc_offset_s: i32,
    /// Added to a row's time to give the start of its interval.
    to_begin_s: i64,
    start_s: i64,
    days: u32,
}

impl Calendar {
    pub(crate) fn of(rows: &[Row], clock: Clock, notes: &mut Notes) -> Option<Self> {
        let utc_offset_s = standard_time(rows, clock, notes)?;
        let interval_s = interval(rows, notes)?;
        let back_s = match clock.stamp {
            StampAt::Start => 0,
            StampAt::Middle => interval_s / 2,
            StampAt::End => interval_s,
        };
        let mut out = Self {
            interval_s,
            utc_offset_s,
            to_begin_s: -i64::from(back_s),
            start_s: 0,
            days: 365,
        };
        let middle = out.begin_s(rows.get(rows.len() / 2)?.time);
        let year = utc_clock(middle)?.year();
        let first = Date::new(year, 1, 1).ok()?;
        out.start_s = as_if_utc(first.at(0, 0, 0, 0));
        out.days = if first.in_leap_year() { 366 } else { 365 };
        Some(out)
    }

    /// Start of the interval of a time, in standard time.
    fn begin_s(&self, time: Time) -> i64 {
        let standard_s = time.offset_s.map_or(0, |own_s| i64::from(self.utc_offset_s - own_s));
        time.clock_s + standard_s + self.to_begin_s
    }

    /// The values of every interval of the year; intervals without a row are NaN.
    ///
    /// `None` when the rows as a whole have a fault.
    pub(crate) fn values(&self, rows: &[Row], notes: &mut Notes) -> Option<[Vec<f64>; 5]> {
        if self.is_of_several_years(rows, notes) || self.is_off_as_a_whole(rows, notes) {
            return None;
        }
        let interval_s = i64::from(self.interval_s);
        let intervals = self.days as usize * (86_400 / self.interval_s) as usize;
        let mut out: [Vec<f64>; 5] = std::array::from_fn(|_| vec![f64::NAN; intervals]);
        let mut next = 0;
        for row in rows {
            let after_start_s = self.begin_s(row.time) - self.start_s;
            let Some(at) = usize::try_from(after_start_s.div_euclid(interval_s)).ok().filter(|at| *at < intervals)
            else {
                let given = format!("{}, outside the year", Self::clock_text(row.time));
                let allowed = format!(
                    "times of one civil year, {}, in the weather's standard time",
                    self.year()
                );
                let remedy = "remove rows of other years, or check `utc_offset_h` and `stamp` in [weather]";
                notes.at_byte(row.byte, given, &allowed, remedy);
                continue;
            };
            if after_start_s.rem_euclid(interval_s) != 0 {
                let allowed = format!("times at whole intervals of {}", self.interval_text());
                let remedy = "correct its time, or check `stamp` in [weather]";
                let given = format!(
                    "{}, not on the same interval as the other rows",
                    Self::clock_text(row.time)
                );
                notes.at_byte(row.byte, given, &allowed, remedy);
                continue;
            }
            if at < next {
                let allowed = "times in order, each once";
                let remedy = "sort the rows by time and remove duplicates; standard time has no clock changes";
                let given = format!("{}, not after the row before", Self::clock_text(row.time));
                notes.at_byte(row.byte, given, allowed, remedy);
                continue;
            }
            next = at + 1;
            for (column, value) in out.iter_mut().zip(row.values) {
                column[at] = value;
            }
        }
        Some(out)
    }

    /// Records one fault for a file of several years, instead of one for each row of the other years.
    fn is_of_several_years(&self, rows: &[Row], notes: &mut Notes) -> bool {
        let mut of_year: BTreeMap<i16, usize> = BTreeMap::new();
        for civil in rows.iter().filter_map(|row| utc_clock(self.begin_s(row.time))) {
            *of_year.entry(civil.year()).or_default() += 1;
        }
        let per_day = (86_400 / self.interval_s) as usize;
        of_year.retain(|_, rows| *rows > per_day);
        if of_year.len() < 2 {
            return false;
        }
        let counts: Vec<String> = of_year.iter().map(|(year, rows)| format!("{rows} rows of {year}")).collect();
        notes.at_byte(
            0,
            counts.join(", "),
            "the rows of one civil year",
            "keep one year, that of `year` in [site]",
        );
        true
    }

    /// Records one fault when every row has the same offset from whole intervals.
    fn is_off_as_a_whole(&self, rows: &[Row], notes: &mut Notes) -> bool {
        let off_s = |row: &Row| (self.begin_s(row.time) - self.start_s).rem_euclid(i64::from(self.interval_s));
        let Some(first) = rows.first().filter(|first| off_s(first) != 0) else {
            return false;
        };
        if rows.iter().any(|row| off_s(row) != off_s(first)) {
            return false;
        }
        let given = format!(
            "{} and every other row, not at whole intervals of {} with this `stamp`",
            Self::clock_text(first.time),
            self.interval_text()
        );
        let allowed = "times at whole intervals for stamp \"start\" or \"end\", halfway between for \"middle\"";
        notes.at_byte(
            first.byte,
            given,
            allowed,
            "correct `stamp` in [weather], or shift all times",
        );
        true
    }

    fn year(&self) -> i16 {
        utc_clock(self.start_s).map_or(0, DateTime::year)
    }

    fn clock_text(time: Time) -> String {
        utc_clock(time.clock_s).map_or_else(
            || "a time".to_owned(),
            |civil| civil.strftime("%Y-%m-%dT%H:%M:%S").to_string(),
        )
    }

    pub(crate) fn interval_text(&self) -> String {
        match self.interval_s {
            3600 => "1 h".to_owned(),
            s => format!("{} min", s / 60),
        }
    }
}

/// Standard time of the year, in seconds east of UTC.
fn standard_time(rows: &[Row], clock: Clock, notes: &mut Notes) -> Option<i32> {
    let allowed = "times that all have the same offset from UTC (`Z`, `+02:00`), or `utc_offset_h` in [weather]";
    let Some(first) = rows.first() else {
        notes.at_byte(
            0,
            "no rows".to_owned(),
            "a row for every interval of a year",
            "check that it is the right file",
        );
        return None;
    };
    let own = first.time.offset_s;
    if let Some(odd) = rows.iter().find(|row| row.time.offset_s.is_some() != own.is_some()) {
        let given = "times with and times without an offset".to_owned();
        notes.at_byte(odd.byte, given, allowed, "write all times in the same way");
        return None;
    }
    if clock.utc_offset_s.is_some() {
        return clock.utc_offset_s;
    }
    if own.is_none() {
        let remedy = "add `utc_offset_h`, the offset of the file's standard time, without daylight saving";
        notes.at_byte(first.byte, "local times without an offset".to_owned(), allowed, remedy);
        return None;
    }
    if let Some(odd) = rows.iter().find(|row| row.time.offset_s != own) {
        let remedy =
            "add `utc_offset_h`, the offset of the site's standard time; each time is converted from its own offset";
        notes.at_byte(
            odd.byte,
            "times with several offsets from UTC".to_owned(),
            allowed,
            remedy,
        );
        return None;
    }
    own
}

/// The most frequent interval between neighbouring rows.
fn interval(rows: &[Row], notes: &mut Notes) -> Option<u32> {
    let utc_s = |row: &Row| row.time.clock_s - i64::from(row.time.offset_s.unwrap_or(0));
    let mut counts: BTreeMap<i64, usize> = BTreeMap::new();
    for pair in rows.windows(2) {
        *counts.entry(utc_s(&pair[1]) - utc_s(&pair[0])).or_default() += 1;
    }
    // Of equally frequent intervals, the shortest.
    let commonest = counts.iter().rev().max_by_key(|(_, count)| **count).map(|(s, _)| *s);
    let known = commonest.and_then(|s| u32::try_from(s).ok());
    let known = known.filter(|s| *s >= 60 && s.is_multiple_of(60) && 3600_u32.is_multiple_of(*s));
    if known.is_none() {
        let given = commonest.map_or("a single row".to_owned(), |s| {
            if s % 60 == 0 {
                format!("most rows are {} min apart", s / 60)
            } else {
                format!("most rows are {s} s apart")
            }
        });
        let allowed = "intervals of 1, 2, 3, 4, 5, 6, 10, 12, 15, 20, 30 or 60 minutes";
        notes.at_byte(0, given, allowed, "give means of one of these intervals");
    }
    known
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_are_read_with_and_without_an_offset() {
        let noon = Time::read("1970-01-02T12:00Z").unwrap();
        assert_eq!((noon.clock_s, noon.offset_s), (129_600, Some(0)));
        for (text, offset_s) in [
            ("1970-01-02T12:00", None),
            ("1970-01-02 12:00:00", None),
            ("1970-01-02T12:00+02:00", Some(7200)),
            ("1970-01-02T12:00:00-0330", Some(-12_600)),
            ("1970-01-02 12:00+05:45", Some(20_700)),
            ("1970-01-02T12:00-09", Some(-32_400)),
            ("1970-01-02T12:00+14:00", Some(50_400)),
        ] {
            let time = Time::read(text).unwrap();
            assert_eq!((time.clock_s, time.offset_s), (129_600, offset_s), "{text}");
        }
    }

    #[test]
    fn invalid_times_are_refused() {
        for text in [
            "",
            "noon",
            "1970-01-02",
            "1970-02-30T12:00",
            "1970-01-02T25:00",
            "01/02/1970 12:00",
            "1970-01-02T12:00+2",
            "1970-01-02T12:00[Asia/Kolkata]",
            "1970-01-02T12:00+02:00Z",
            "1970-01-02T12:00:00.5",
            "1970-01-02T12:00+02:99",
            "1970-01-02T12:00+14:01",
            "1970-01-02T12:00:60",
            "1970-01-02T12:00:60Z",
            "1970-01-02T12:00+a€",
            "1970-01-02T12:00++2",
            "1970-01-02T12:00++2+3",
            "1970-01-02T12:00+0+5",
            "-009999-01-02T02:00Z",
            "9999-12-31T02:00Z",
        ] {
            assert_eq!(Time::read(text), None, "{text}");
        }
    }
}
