//! Outages as a CSV list: `start,end` in civil time of the site.

use std::sync::Arc;

use daylift_grid::{Interval, Outages};
use daylift_units::Axis;
use jiff::civil::DateTime;

use super::rows::{RowFaults, read_rows};
use crate::read::Book;
use crate::source::Source;

const ALLOWED: &str = "civil date and time such as 2025-01-03T18:30";

/// Reads the list; overlapping outages are merged and told as a warning.
pub(crate) fn read(book: &Book, source: &Arc<Source>, axis: &Axis) -> Option<Outages> {
    let mut faults = RowFaults::new(book, source, "grid.outages", "outage");
    let (header, rows) = match read_rows(source, &mut faults) {
        Some(read) => read,
        None => {
            faults.close();
            return None;
        }
    };
    if header.iter().collect::<Vec<_>>() != ["start", "end"] {
        faults.at_byte(
            0,
            format!("columns {}", header.iter().collect::<Vec<_>>().join(", ")),
            "columns start, end",
            "name the two columns start,end",
        );
        faults.close();
        return None;
    }
    let mut intervals = Vec::new();
    for row in &rows {
        if row.len() != 2 {
            faults.at(
                row,
                format!("{} values", row.len()),
                "two values, start and end",
                "give both, separated by a comma",
            );
            continue;
        }
        let times: Vec<Option<f64>> = row
            .iter()
            .map(|text| text.parse::<DateTime>().ok().and_then(|t| axis.instant_s(t)))
            .collect();
        match times[..] {
            [Some(start_s), Some(end_s)] if end_s > start_s => intervals.push(Interval { start_s, end_s }),
            [Some(_), Some(_)] => faults.at(
                row,
                format!("{} to {}", &row[0], &row[1]),
                "an end after the start",
                "swap them, or mend the date",
            ),
            _ => faults.at(
                row,
                format!("\"{}\", \"{}\"", &row[0], &row[1]),
                ALLOWED,
                "write local time without a zone",
            ),
        }
    }
    if faults.close() > 0 {
        return None;
    }
    let (outages, tidied) = Outages::new(intervals, axis.length_s());
    if tidied.merged > 0 {
        book.warn(
            "outages",
            format!(
                "{} of {} outages overlapped or touched another and were merged with it",
                tidied.merged,
                rows.len()
            ),
        );
    }
    if tidied.outside + tidied.clipped > 0 {
        book.warn(
            "outages",
            format!(
                "{} outages lie outside the simulation year and were left out, {} were cut at its edge",
                tidied.outside, tidied.clipped
            ),
        );
    }
    Some(outages)
}
