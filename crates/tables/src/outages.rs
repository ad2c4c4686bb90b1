//! Outages as a CSV list: `start,end` in civil time of the site.

use std::sync::Arc;

use csv::StringRecord;
use daylift_grid::outages::Tidied;
use daylift_grid::{Interval, Outages};
use daylift_units::Axis;

use crate::outcome::Outcome;
use crate::rows::{Notes, read_rows};
use crate::source::Source;
use crate::times::interval;

/// Reads the list; overlapping outages are merged and reported as a warning.
///
/// # Errors
/// Every fault of the file.
pub fn read(source: &Arc<Source>, axis: &Axis) -> Outcome<Outages> {
    let mut notes = Notes::new(source, "grid.outages", "outage");
    let intervals = read_intervals(source, axis, &mut notes);
    let outages = intervals.filter(|_| notes.is_clean()).map(|(intervals, changes)| {
        let count = intervals.len();
        let (outages, tidied) = Outages::new(intervals, axis.length_s());
        warn(&mut notes, count, tidied, changes);
        outages
    });
    notes.close(outages)
}

/// Outages, and how many of their times a clock change skips or repeats.
fn read_intervals(source: &Source, axis: &Axis, notes: &mut Notes) -> Option<(Vec<Interval>, usize)> {
    let (header, rows) = read_rows(source, notes)?;
    if header.iter().ne(["start", "end"]) {
        let given = format!("columns {}", header.iter().collect::<Vec<_>>().join(", "));
        notes.at_byte(0, given, "columns start, end", "name the two columns start and end");
        return None;
    }
    let mut intervals = Vec::with_capacity(rows.len());
    let mut changes = 0;
    for row in &rows {
        if let Some((interval, changed)) = read_row(row, axis, notes) {
            intervals.push(interval);
            changes += changed;
        }
    }
    Some((intervals, changes))
}

fn read_row(row: &StringRecord, axis: &Axis, notes: &mut Notes) -> Option<(Interval, usize)> {
    let [start, end] = row.iter().collect::<Vec<_>>()[..] else {
        let given = format!("{} values", row.len());
        notes.at(
            row,
            given,
            "two values, start and end",
            "give both, separated by a comma",
        );
        return None;
    };
    interval(row, start, end, axis, notes)
}

fn warn(notes: &mut Notes, count: usize, tidied: Tidied, changes: usize) {
    if tidied.merged > 0 {
        let text = format!(
            "{} of {count} outages overlapped or touched another and were merged with it",
            tidied.merged
        );
        notes.warn("outages", text);
    }
    if tidied.outside > 0 {
        notes.warn(
            "outages",
            format!("{} outages outside the simulation year were left out", tidied.outside),
        );
    }
    if tidied.clipped > 0 {
        notes.warn(
            "outages",
            format!(
                "{} outages were cut off at the start or end of the simulation year",
                tidied.clipped
            ),
        );
    }
    if changes > 0 {
        let text = format!(
            "{changes} times are at a clock change: a skipped time counts as the moment of the change, a repeated time as the \
             first of the two (as the second if the end would be before the start)"
        );
        notes.warn("outages", text);
    }
}
