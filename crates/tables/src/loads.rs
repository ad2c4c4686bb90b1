//! A load as a 12 × 24 table: one row a month, one column an hour, in kW.

use std::sync::Arc;

use daylift_grid::{HOURS, MONTHS, MonthHour};
use daylift_units::fields::grid::LOAD;

use crate::outcome::Outcome;
use crate::rows::{Notes, read_rows};
use crate::source::Source;

/// Reads the table of the load called `name`; power in W.
///
/// # Errors
/// Every fault of the file.
pub fn read(source: &Arc<Source>, name: &str) -> Outcome<MonthHour<f64>> {
    let mut notes = Notes::new(source, "load.file", format!("load \"{name}\""));
    let table = read_table(source, &mut notes);
    notes.close(table)
}

fn read_table(source: &Source, notes: &mut Notes) -> Option<MonthHour<f64>> {
    let (header, rows) = read_rows(source, notes)?;
    let wanted: Vec<String> = std::iter::once("month".to_owned())
        .chain((0..HOURS).map(|h| format!("h{h:02}")))
        .collect();
    if let Some(wrong) = header.iter().zip(&wanted).position(|(given, wanted)| given != wanted) {
        let given = format!("column {} is \"{}\"", wrong + 1, &header[wrong]);
        notes.at_byte(0, given, "header month,h00,h01,…,h23", "write the header line so");
        return None;
    }
    if header.len() != wanted.len() {
        let given = format!("{} columns", header.len());
        notes.at_byte(0, given, "header month,h00,h01,…,h23", "give the month and 24 hours");
        return None;
    }
    if rows.len() != MONTHS {
        notes.at_byte(
            0,
            format!("{} rows", rows.len()),
            "12 rows, January to December",
            "give one row for each month",
        );
        return None;
    }
    let mut out = [[0.0; HOURS]; MONTHS];
    for (i, (row, month)) in rows.iter().zip(out.iter_mut()).enumerate() {
        if row[0].parse() != Ok(i + 1) {
            notes.at(
                row,
                format!("month \"{}\"", &row[0]),
                &format!("month {} here", i + 1),
                "give the months 1 to 12 in order",
            );
            continue;
        }
        if row.len() != HOURS + 1 {
            notes.at(
                row,
                format!("{} loads in month {}", row.len() - 1, i + 1),
                "24 loads",
                "give one for each hour",
            );
            continue;
        }
        for (hour, (text, w)) in row.iter().skip(1).zip(month.iter_mut()).enumerate() {
            let of = format!("month {}, h{hour:02}", i + 1);
            match text.parse::<f64>() {
                Ok(kw) => match LOAD.check(kw) {
                    Ok(si) => *w = si,
                    Err(fault) => {
                        let given = format!("{of}: {}", fault.given);
                        notes.at(row, given, &fault.allowed, "correct the value; the unit is kW");
                    }
                },
                Err(_) => notes.at(
                    row,
                    format!("{of}: \"{text}\""),
                    "a number in kW",
                    "write a plain number",
                ),
            }
        }
    }
    Some(out)
}
