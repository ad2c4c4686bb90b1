//! Maps meter readings onto the year's axis and fills gaps.

use std::collections::{BTreeMap, BTreeSet};

use daylift_units::constants::DAY_S;
use daylift_units::{Axis, ClockChange, Fault};
use jiff::civil::DateTime;

mod coverage;
mod gaps;

use crate::LoadSeries;
pub use coverage::YearCoverage;
use gaps::IntervalGrid;

/// Largest share of the year that may be filled.
const MOST_MISSING: f64 = 0.2;
/// Time that may be missing at the ends of a year of readings \[s\].
const ENDS_S: f64 = DAY_S;

/// The mean power in one interval of a meter.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reading {
    /// Start of the interval in civil time.
    pub at: DateTime,
    /// Whether the clock shows this hour for the second time.
    pub second: bool,
    /// Mean power \[W\].
    pub power_w: f64,
}

/// Month, day, minute of the day, and whether the clock shows it for the second time.
type Key = (u8, u8, u16, bool);

/// Maps readings onto the year by month, day and time of day. Readings of the simulation year take precedence over
/// those of other years, and later years over earlier ones.
///
/// A missing interval gets the mean of the same time one week before and one week after, where measured. Otherwise it
/// gets the month's mean of that hour of the day, or else the year's.
///
/// # Errors
/// A fault when the readings span less than a year; one day may be missing at the ends. Also a fault when more than a
/// fifth of the year is missing.
pub fn map_to_year(readings: &[Reading], interval_s: u32, axis: &Axis) -> Result<(LoadSeries, YearCoverage), Fault> {
    span_fault(readings, interval_s)?;
    let own_year = axis.civil_at(axis.length_s() / 2.0).year();
    let grid = IntervalGrid::new(interval_s, axis);
    let mut coverage = YearCoverage::default();
    let mut by_key: BTreeMap<Key, (i16, f64)> = BTreeMap::new();
    for reading in readings {
        if axis.instant(reading.at).is_some_and(|i| i.change == ClockChange::Skipped) {
            coverage.skipped += 1;
            continue;
        }
        let rank = if reading.at.year() == own_year {
            i16::MAX
        } else {
            reading.at.year()
        };
        let entry = by_key.entry(key(reading.at, reading.second)).or_insert((rank, reading.power_w));
        if entry.0 <= rank {
            *entry = (rank, reading.power_w);
        }
    }
    let mut years = BTreeSet::new();
    let measured: Vec<Option<f64>> = grid
        .slots()
        .iter()
        .map(|slot| {
            let own = by_key.get(&key(slot.at, slot.second));
            let found = own.or_else(|| by_key.get(&key(slot.at, false)));
            if slot.second && own.is_none() && found.is_some() {
                coverage.repeated_once += 1;
            }
            found.map(|(rank, power_w)| {
                if *rank != i16::MAX {
                    coverage.from_other_years += 1;
                    years.insert(*rank);
                }
                *power_w
            })
        })
        .collect();
    coverage.intervals = measured.len();
    coverage.other_years = years.into_iter().collect();
    let power_w = grid.fill(&measured, axis, &mut coverage);
    missing_fault(&coverage, axis)?;
    Ok((LoadSeries::new(grid.interval_s(), power_w), coverage))
}

fn key(at: DateTime, second: bool) -> Key {
    let minute = u16::from(at.hour().unsigned_abs()) * 60 + u16::from(at.minute().unsigned_abs());
    (at.month().unsigned_abs(), at.day().unsigned_abs(), minute, second)
}

fn span_fault(readings: &[Reading], interval_s: u32) -> Result<(), Fault> {
    let fault = |given: String, remedy: String| {
        Fault::new(
            "meter",
            "meter readings",
            given,
            "a whole year of readings; a day may be missing at its ends",
            remedy,
        )
    };
    let (Some(first), Some(last)) = (readings.iter().map(|r| r.at).min(), readings.iter().map(|r| r.at).max()) else {
        return Err(fault("none".to_owned(), "check that it is the right file".to_owned()));
    };
    let span_s = last.duration_since(first).as_secs_f64() + f64::from(interval_s);
    if span_s >= 365.0 * DAY_S - ENDS_S {
        return Ok(());
    }
    let a_year_on = first.date().checked_add(jiff::Span::new().years(1)).unwrap_or(first.date());
    let text = |at: DateTime| at.strftime("%Y-%m-%d %H:%M").to_string();
    Err(fault(
        format!("from {} to {}, {:.0} days", text(first), text(last), span_s / DAY_S),
        format!(
            "add what is missing, after {} and before {}, or give a 12 × 24 table with `file`",
            text(last),
            a_year_on
        ),
    ))
}

fn missing_fault(coverage: &YearCoverage, axis: &Axis) -> Result<(), Fault> {
    let share = share(coverage.filled(), coverage.intervals);
    if share <= MOST_MISSING {
        return Ok(());
    }
    Err(Fault::new(
        "meter",
        "meter readings",
        format!(
            "{} of {} intervals are missing, {:.1}% of the year; the longest gap begins at {} and lasts {:.1} days",
            coverage.filled(),
            coverage.intervals,
            share * 100.0,
            axis.civil_text(coverage.longest_gap_s.0),
            coverage.longest_gap_s.1 / DAY_S
        ),
        "at most 20% missing",
        "get the missing readings, or give a 12 × 24 table with `file`",
    ))
}

/// A count as a fraction of another count.
#[expect(
    clippy::cast_precision_loss,
    reason = "counts of a year's intervals are exact in f64"
)]
#[must_use]
pub fn share(part: usize, whole: usize) -> f64 {
    part as f64 / whole.max(1) as f64
}

#[cfg(test)]
mod tests;
