//! Voltage readings: `time,voltage_pu` or `time,voltage_v`; each holds until the next.

use std::sync::Arc;

use csv::StringRecord;
use daylift_grid::VoltageReading;
use daylift_units::constants::DAY_S;
use daylift_units::fields::voltage::{NOMINAL, READING};
use daylift_units::{Axis, ClockChange};

use crate::outcome::Outcome;
use crate::rows::{Notes, has_decimal_commas, read_rows};
use crate::source::Source;
use crate::times::{ReadingTime, reading_time};

/// A reading that holds longer than this gets a warning, because a stopped logger looks the same \[s\].
const LONG_HOLD_S: f64 = 7.0 * DAY_S;

/// Reads the file; `nominal_v` is needed for readings in volts.
///
/// # Errors
/// Every fault of the file.
pub fn read(source: &Arc<Source>, axis: &Axis, nominal_v: Option<f64>) -> Outcome<Vec<VoltageReading>> {
    let mut notes = Notes::new(source, "grid.voltage.file", "voltage readings");
    let readings = read_readings(source, axis, nominal_v, &mut notes);
    if let Some(readings) = readings.as_ref().filter(|_| notes.is_clean()) {
        warn(&mut notes, readings, axis);
    }
    notes.close(readings)
}

fn read_readings(
    source: &Source,
    axis: &Axis,
    nominal_v: Option<f64>,
    notes: &mut Notes,
) -> Option<Vec<VoltageReading>> {
    let (header, rows) = read_rows(source, notes)?;
    let per_unit = match (&header.iter().collect::<Vec<_>>()[..], nominal_v) {
        (["time", "voltage_pu"], _) => 1.0,
        (["time", "voltage_v"], Some(nominal_v)) => 1.0 / nominal_v,
        (["time", "voltage_v"], None) => {
            let remedy = format!("add `{}` to [grid.voltage]", NOMINAL.key);
            notes.at_byte(0, "readings in volts".to_owned(), "a nominal voltage as well", &remedy);
            return None;
        }
        (other, _) => {
            let given = format!("columns {}", other.join(","));
            let columns = "columns time,voltage_pu or time,voltage_v";
            notes.at_byte(0, given, columns, "use these column names");
            return None;
        }
    };
    if has_decimal_commas(header.len(), &rows, notes) {
        return None;
    }
    let mut out: Vec<VoltageReading> = Vec::with_capacity(rows.len());
    for row in &rows {
        out.extend(read_row(row, axis, per_unit, out.last().map(|r| r.at_s), notes));
    }
    if rows.is_empty() {
        let remedy = "give readings, or remove [grid.voltage]";
        notes.at_byte(0, "no rows".to_owned(), "readings of the simulation year", remedy);
    }
    let reaches_year = out.iter().any(|r| r.at_s < axis.length_s()) && out.last().is_some_and(|r| r.at_s >= 0.0);
    if !reaches_year && notes.is_clean() {
        let first = axis.civil_text(out.first().map_or(0.0, |r| r.at_s));
        notes.at_byte(
            0,
            format!("no reading in the simulation year; the first is of {first}"),
            "readings of the simulation year",
            "choose the year of the readings as the simulation year, or give other readings",
        );
    }
    Some(out)
}

fn read_row(
    row: &StringRecord,
    axis: &Axis,
    per_unit: f64,
    before_s: Option<f64>,
    notes: &mut Notes,
) -> Option<VoltageReading> {
    let [time, value] = row.iter().collect::<Vec<_>>()[..] else {
        notes.at(
            row,
            format!("{} values", row.len()),
            "two values, time and voltage",
            "give both",
        );
        return None;
    };
    let at_s = match reading_time(row, time, axis, notes)? {
        ReadingTime::Fixed(at_s) => at_s,
        // Readings in an hour that the clock skips would all be at the same instant.
        ReadingTime::Civil(_, i) if i.change == ClockChange::Skipped && before_s >= Some(i.earlier_s) => return None,
        ReadingTime::Civil(_, i) if before_s.is_some_and(|before_s| i.earlier_s <= before_s) => i.later_s,
        ReadingTime::Civil(_, i) => i.earlier_s,
    };
    if before_s.is_some_and(|before_s| at_s <= before_s) {
        notes.at(
            row,
            format!("{time}, not after the row before"),
            "times in order, each once",
            "sort the rows by time and remove duplicates",
        );
        return None;
    }
    match READING.check(value.parse::<f64>().unwrap_or(f64::NAN) * per_unit) {
        Ok(per_unit) => Some(VoltageReading { at_s, per_unit }),
        Err(fault) => {
            let remedy = "correct the value; is it in the unit of the column's name?";
            notes.at(row, format!("voltage \"{value}\""), &fault.allowed, remedy);
            None
        }
    }
}

fn warn(notes: &mut Notes, readings: &[VoltageReading], axis: &Axis) {
    let Some(first) = readings.first() else { return };
    if first.at_s > 0.0 {
        let text = format!(
            "the voltage readings begin at {}; before that the voltage counts as usable",
            axis.civil_text(first.at_s)
        );
        notes.warn("voltage", text);
    }
    let ends = readings.iter().skip(1).map(|r| r.at_s).chain(std::iter::once(axis.length_s()));
    let longest = readings
        .iter()
        .zip(ends)
        .map(|(r, end_s)| (r, end_s.min(axis.length_s()) - r.at_s.max(0.0)))
        .max_by(|a, b| a.1.total_cmp(&b.1));
    if let Some((reading, held_s)) = longest.filter(|(_, held_s)| *held_s > LONG_HOLD_S) {
        let text = format!(
            "the reading of {} ({:.2} of nominal) is used for {:.1} days, until the next reading or the end of the year",
            axis.civil_text(reading.at_s),
            reading.per_unit,
            held_s / DAY_S
        );
        notes.warn("voltage", text);
    }
}
