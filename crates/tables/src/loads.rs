//! A load as a 12 × 24 table: one row per month, one column per hour, in kW.

use std::sync::Arc;

use daylift_units::fields::grid::LOAD;
use daylift_units::{Hour, Month, MonthHour};

use crate::outcome::Outcome;
use crate::rows::{Notes, has_decimal_commas, read_rows};
use crate::source::Source;

/// Reads the table of the load `name`; the result is in W.
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
        .chain(Hour::ALL.iter().map(|hour| format!("h{:02}", hour.begins_h())))
        .collect();
    if let Some(wrong) = header.iter().zip(&wanted).position(|(given, wanted)| given != wanted) {
        let given = format!("column {} is \"{}\"", wrong + 1, &header[wrong]);
        notes.at_byte(0, given, "header line month,h00,h01,…,h23", "write this header line");
        return None;
    }
    if header.len() != wanted.len() {
        let given = format!("{} columns", header.len());
        notes.at_byte(
            0,
            given,
            "header line month,h00,h01,…,h23",
            "give the month and 24 hours",
        );
        return None;
    }
    if has_decimal_commas(wanted.len(), &rows, notes) {
        return None;
    }
    if rows.len() != Month::ALL.len() {
        notes.at_byte(
            0,
            format!("{} rows", rows.len()),
            "12 rows, January to December",
            "give one row for each month",
        );
        return None;
    }
    let mut out = MonthHour::default();
    for (row, (month, loads_w)) in rows.iter().zip(&mut out) {
        let number = month.number();
        if row[0].parse() != Ok(number) {
            notes.at(
                row,
                format!("month \"{}\"", &row[0]),
                &format!("month {number} here"),
                "give the months 1 to 12 in order",
            );
            continue;
        }
        if row.len() != Hour::ALL.len() + 1 {
            notes.at(
                row,
                format!("{} loads in month {number}", row.len() - 1),
                "24 loads",
                "give one value for each hour",
            );
            continue;
        }
        for (text, (hour, w)) in row.iter().skip(1).zip(loads_w) {
            let of = format!("month {number}, h{:02}", hour.begins_h());
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
