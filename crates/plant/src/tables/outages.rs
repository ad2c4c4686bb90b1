//! Outages as a CSV list: `start,end` in civil time of the site.

use std::sync::Arc;

use csv::StringRecord;
use daylift_grid::outages::Tidied;
use daylift_grid::{Interval, Outages};
use daylift_units::Axis;

use super::rows::{RowFaults, read_rows};
use super::times::interval;
use crate::read::Book;
use crate::source::Source;

/// Reads the list; overlapping outages are merged and told as a warning.
pub(crate) fn read(book: &Book, source: &Arc<Source>, axis: &Axis) -> Option<Outages> {
    let mut faults = RowFaults::new(book, source, "grid.outages", "outage");
    let intervals = read_intervals(source, axis, &mut faults);
    if faults.close() > 0 {
        return None;
    }
    let (intervals, changes) = intervals?;
    let count = intervals.len();
    let (outages, tidied) = Outages::new(intervals, axis.length_s());
    warn(book, count, tidied, changes);
    Some(outages)
}

/// Outages and how many of their times a clock change skips or repeats.
fn read_intervals(source: &Source, axis: &Axis, faults: &mut RowFaults<'_>) -> Option<(Vec<Interval>, usize)> {
    let (header, rows) = read_rows(source, faults)?;
    if header.iter().ne(["start", "end"]) {
        let given = format!("columns {}", header.iter().collect::<Vec<_>>().join(", "));
        faults.at_byte(0, given, "columns start, end", "name the two columns start,end");
        return None;
    }
    let mut intervals = Vec::with_capacity(rows.len());
    let mut changes = 0;
    for row in &rows {
        if let Some((interval, changed)) = read_row(row, axis, faults) {
            intervals.push(interval);
            changes += changed;
        }
    }
    Some((intervals, changes))
}

fn read_row(row: &StringRecord, axis: &Axis, faults: &mut RowFaults<'_>) -> Option<(Interval, usize)> {
    let [start, end] = row.iter().collect::<Vec<_>>()[..] else {
        let given = format!("{} values", row.len());
        faults.at(
            row,
            given,
            "two values, start and end",
            "give both, separated by a comma",
        );
        return None;
    };
    interval(row, start, end, axis, faults)
}

fn warn(book: &Book, count: usize, tidied: Tidied, changes: usize) {
    if tidied.merged > 0 {
        let text = format!(
            "{} of {count} outages overlapped or touched another and were merged with it",
            tidied.merged
        );
        book.warn("outages", text);
    }
    if tidied.outside > 0 {
        book.warn(
            "outages",
            format!("{} outages outside the simulation year were left out", tidied.outside),
        );
    }
    if tidied.clipped > 0 {
        book.warn(
            "outages",
            format!("{} outages were cut at the edge of the simulation year", tidied.clipped),
        );
    }
    if changes > 0 {
        let text = format!(
            "{changes} times fall where the clock changes: a skipped time is taken as the moment of the change, a repeated \
             one as the first of the two (an end before its start as the second)"
        );
        book.warn("outages", text);
    }
}
