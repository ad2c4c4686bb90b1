//! A load as meter readings: `time,kw` or `time,kwh` at equal intervals.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use csv::StringRecord;
use daylift_grid::meter::{Reading, YearCoverage, share};
use daylift_grid::{LoadSeries, meter};
use daylift_units::constants::{DAY_S, HOUR_S};
use daylift_units::field::thousands;
use daylift_units::fields::grid::LOAD;
use daylift_units::fields::site::YEAR;
use daylift_units::{Axis, ClockChange, ids};

use crate::outcome::Outcome;
use crate::rows::{Notes, has_decimal_commas, read_rows};
use crate::source::Source;
use crate::times::{ReadingTime, reading_time};

/// Which end of its interval a reading's time refers to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stamped {
    /// The start.
    Start,
    /// The end.
    End,
}

ids!(Stamped { Start = "start", End = "end" });

/// Whether the readings are power or energy.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Measured {
    Power,
    Energy,
}

/// Reads the meter readings of the load `name` and maps them onto the year.
///
/// # Errors
/// Every fault of the file; a fault without a place when the readings as a whole do not make a year.
pub fn read(source: &Arc<Source>, name: &str, stamped: Stamped, axis: &Axis) -> Outcome<LoadSeries> {
    let mut notes = Notes::new(source, "load.meter", format!("load \"{name}\""));
    let readings = read_readings(source, stamped, axis, &mut notes);
    let readings = readings.filter(|_| notes.is_clean());
    let series = readings.and_then(
        |(readings, interval_s)| match meter::map_to_year(&readings, interval_s, axis) {
            Ok((series, coverage)) => {
                warn(&mut notes, name, &coverage, axis);
                Some(series)
            }
            Err(fault) => {
                notes.whole(fault);
                None
            }
        },
    );
    notes.close(series)
}

/// A row that has been parsed.
struct Row<'a> {
    row: &'a StringRecord,
    time: ReadingTime,
    value: f64,
}

fn read_readings(source: &Source, stamped: Stamped, axis: &Axis, notes: &mut Notes) -> Option<(Vec<Reading>, u32)> {
    let (header, rows) = read_rows(source, notes)?;
    let measured = match header.iter().collect::<Vec<_>>()[..] {
        ["time", "kw"] => Measured::Power,
        ["time", "kwh"] => Measured::Energy,
        ref other => {
            let given = format!("columns {}", other.join(","));
            notes.at_byte(0, given, "columns time,kw or time,kwh", "use these column names");
            return None;
        }
    };
    if has_decimal_commas(header.len(), &rows, notes) {
        return None;
    }
    let rows: Vec<Row<'_>> = rows.iter().filter_map(|row| read_row(row, axis, notes)).collect();
    let interval_s = interval_s(&rows, notes)?;
    let mut seen = BTreeSet::new();
    let readings = rows
        .iter()
        .filter_map(|row| {
            let per_kw = match measured {
                Measured::Power => 1.0,
                Measured::Energy => HOUR_S / f64::from(interval_s),
            };
            let power_w = power_w(row, per_kw, notes);
            let reading = place(row, interval_s, stamped, axis, &mut seen, notes);
            let (at, second) = reading?;
            // An empty value is a gap: its time is checked, then it is left out.
            power_w.map(|power_w| Reading { at, second, power_w })
        })
        .collect();
    Some((readings, interval_s))
}

fn read_row<'a>(row: &'a StringRecord, axis: &Axis, notes: &mut Notes) -> Option<Row<'a>> {
    let [time, value] = row.iter().collect::<Vec<_>>()[..] else {
        notes.at(
            row,
            format!("{} values", row.len()),
            "two values, time and load",
            "give both",
        );
        return None;
    };
    let text = time;
    let time = reading_time(row, time, axis, notes)?;
    let year = f64::from(civil_year(time, axis));
    if !(YEAR.least..=YEAR.greatest).contains(&year) {
        let allowed = format!("a time of the years {:.0} to {:.0}", YEAR.least, YEAR.greatest);
        notes.at(
            row,
            text.to_owned(),
            &allowed,
            "correct the date: the year needs four digits",
        );
        return None;
    }
    let value = match value.parse::<f64>() {
        Ok(value) => value,
        Err(_) if value.is_empty() => f64::NAN,
        Err(_) => {
            let remedy = "write a plain number; leave a missing reading blank";
            notes.at(row, format!("\"{value}\""), "a number", remedy);
            return None;
        }
    };
    Some(Row { row, time, value })
}

/// Civil year of a reading.
fn civil_year(time: ReadingTime, axis: &Axis) -> i16 {
    match time {
        ReadingTime::Civil(at, _) => at.year(),
        ReadingTime::Fixed(at_s) => axis.civil_at(at_s).year(),
    }
}

/// The most frequent interval between neighbouring rows; it must divide the hour.
fn interval_s(rows: &[Row<'_>], notes: &mut Notes) -> Option<u32> {
    let mut counts: BTreeMap<i64, usize> = BTreeMap::new();
    for pair in rows.windows(2) {
        let distance_s = match (pair[0].time, pair[1].time) {
            (ReadingTime::Civil(a, _), ReadingTime::Civil(b, _)) => b.duration_since(a).as_secs(),
            (a, b) => {
                let instant_s = |time| match time {
                    ReadingTime::Civil(_, i) => i.earlier_s,
                    ReadingTime::Fixed(at_s) => at_s,
                };
                #[expect(clippy::cast_possible_truncation, reason = "seconds between two rows, far below i64")]
                let distance_s = (instant_s(b) - instant_s(a)) as i64;
                distance_s
            }
        };
        *counts.entry(distance_s).or_default() += 1;
    }
    let commonest = counts.iter().max_by_key(|(_, count)| **count).map(|(distance_s, _)| *distance_s);
    let given = match commonest {
        Some(distance_s) if distance_s >= 60 && distance_s % 60 == 0 && 3600 % distance_s == 0 => {
            return u32::try_from(distance_s).ok();
        }
        Some(distance_s) => format!(
            "readings {} min apart",
            daylift_units::field::number(minutes(distance_s))
        ),
        None => "fewer than two readings".to_owned(),
    };
    notes.at_byte(
        0,
        given,
        "equal intervals of 1 min to 1 h that divide the hour",
        "export the readings at 1, 5, 10, 15, 30 or 60 minutes, oldest first",
    );
    None
}

#[expect(clippy::cast_precision_loss, reason = "seconds between two rows are exact in f64")]
fn minutes(seconds: i64) -> f64 {
    seconds as f64 / 60.0
}

fn power_w(row: &Row<'_>, per_kw: f64, notes: &mut Notes) -> Option<f64> {
    if row.value.is_nan() && row.row[1].is_empty() {
        return None;
    }
    let checked = LOAD.check(row.value * per_kw);
    if let Err(fault) = &checked {
        let given = format!("{} at {}", fault.given, &row.row[0]);
        let remedy = "correct the value; the unit is that of the column's name";
        notes.at(row.row, given, &fault.allowed, remedy);
    }
    checked.ok()
}

/// Civil time at which the reading's interval starts, and whether the clock shows it for the second time.
fn place(
    row: &Row<'_>,
    interval_s: u32,
    stamped: Stamped,
    axis: &Axis,
    seen: &mut BTreeSet<i64>,
    notes: &mut Notes,
) -> Option<(jiff::civil::DateTime, bool)> {
    let back_s = if stamped == Stamped::End {
        f64::from(interval_s)
    } else {
        0.0
    };
    let stamp_s = match row.time {
        ReadingTime::Fixed(at_s) => at_s,
        ReadingTime::Civil(at, i) if i.change == ClockChange::Skipped => return Some((at, false)),
        ReadingTime::Civil(_, i) if seen.contains(&whole(i.earlier_s)) => i.later_s,
        ReadingTime::Civil(_, i) => i.earlier_s,
    };
    if !seen.insert(whole(stamp_s)) {
        notes.at(
            row.row,
            format!("a second reading for {}", &row.row[0]),
            "one reading for each interval",
            "remove the duplicate",
        );
        return None;
    }
    let begin_s = stamp_s - back_s;
    let at = axis.civil_at(begin_s);
    let of_hour_s = u32::from(at.minute().unsigned_abs()) * 60 + u32::from(at.second().unsigned_abs());
    if !of_hour_s.is_multiple_of(interval_s) {
        notes.at(
            row.row,
            format!("{}, off the interval of {} min", &row.row[0], interval_s / 60),
            "times that divide the hour evenly",
            "export the readings on whole intervals of the hour",
        );
        return None;
    }
    let second = axis
        .instant(at)
        .is_some_and(|i| i.change == ClockChange::Repeated && begin_s >= i.later_s);
    Some((at, second))
}

#[expect(clippy::cast_possible_truncation, reason = "seconds within centuries, far below i64")]
fn whole(seconds: f64) -> i64 {
    seconds.round() as i64
}

fn warn(notes: &mut Notes, name: &str, coverage: &YearCoverage, axis: &Axis) {
    let whole = |count: usize| thousands(&count.to_string());
    let mut say = |text: String| notes.warn("load", format!("\"{name}\": {text}"));
    if coverage.filled() > 0 {
        let (begin_s, length_s) = coverage.longest_gap_s;
        let length = if length_s >= 2.0 * DAY_S {
            format!("{:.1} days", length_s / DAY_S)
        } else {
            format!("{:.1} h", length_s / HOUR_S)
        };
        say(format!(
            "{} of {} intervals ({:.2}%) were missing and were filled, {} from the weeks before and after, {} with the mean \
             of their hour; the longest gap begins at {} and lasts {length}",
            whole(coverage.filled()),
            whole(coverage.intervals),
            share(coverage.filled(), coverage.intervals) * 100.0,
            whole(coverage.from_weeks),
            whole(coverage.from_means),
            axis.civil_text(begin_s)
        ));
    }
    if !coverage.other_years.is_empty() {
        let years: Vec<String> = coverage.other_years.iter().map(ToString::to_string).collect();
        say(format!(
            "{} of {} intervals have readings of {}, placed by month, day and hour; weekdays are those of the year of the readings",
            coverage.from_other_years,
            coverage.intervals,
            years.join(", ")
        ));
    }
    if coverage.skipped > 0 {
        say(format!(
            "{} readings have times that the clock skips and were left out; if the meter keeps standard time, write its \
             times with an offset",
            coverage.skipped
        ));
    }
    if coverage.repeated_once > 0 {
        say(format!(
            "{} intervals of an hour that the clock repeats have one reading, which was used for both",
            coverage.repeated_once
        ));
    }
}
