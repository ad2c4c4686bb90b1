//! A rotating timetable of outages, and the stage in force at each time.

use std::collections::BTreeSet;
use std::sync::Arc;

use csv::StringRecord;
use daylift_grid::{Slot, StageInForce};
use daylift_units::fields::timetable::{DAY, STAGE};
use daylift_units::{Axis, Fault, Field};

use crate::outcome::Outcome;
use crate::rows::{Notes, read_rows};
use crate::source::Source;
use crate::times::interval;

/// Reads the slots of one block: `stage,block,day,start,end`.
///
/// # Errors
/// Every fault of the file; a fault without a place when the file is valid but does not contain the block.
pub fn read_slots(source: &Arc<Source>, block: &str) -> Outcome<Vec<Slot>> {
    let mut notes = Notes::new(source, "grid.timetable.file", "outage timetable");
    let rows = rows_with(source, &["stage", "block", "day", "start", "end"], &mut notes);
    let (mut slots, mut blocks) = (Vec::new(), BTreeSet::new());
    for row in &rows.unwrap_or_default() {
        if let Some((of, slot)) = read_slot(row, &mut notes) {
            if of == block {
                slots.push(slot);
            }
            blocks.insert(of);
        }
    }
    if notes.is_clean() && blocks.is_empty() {
        notes.at_byte(
            0,
            "no rows".to_owned(),
            "a row for every slot: stage, block, day, start and end",
            "check that it is the right file",
        );
    }
    if notes.is_clean() && slots.is_empty() {
        let known: Vec<String> = blocks.iter().take(20).map(|b| format!("\"{b}\"")).collect();
        notes.whole(Fault::new(
            "area_block",
            "block of the timetable",
            format!("\"{block}\", and the timetable has no slot for it"),
            format!("one of {}", known.join(", ")),
            "look up the block of the farm's area, and write it as in the timetable",
        ));
    }
    notes.close(Some(slots))
}

/// Reads the stages in force: `start,end,stage` in civil time.
///
/// # Errors
/// Every fault of the file.
pub fn read_stages(source: &Arc<Source>, axis: &Axis) -> Outcome<Vec<StageInForce>> {
    let mut notes = Notes::new(source, "grid.timetable.stages", "list of active stages");
    let rows = rows_with(source, &["start", "end", "stage"], &mut notes).unwrap_or_default();
    let stages: Vec<StageInForce> = rows
        .iter()
        .filter_map(|row| {
            let (interval, _) = interval(row, &row[0], &row[1], axis, &mut notes)?;
            let stage = whole(row, &row[2], &STAGE, &mut notes)?;
            Some(StageInForce { interval, stage })
        })
        .collect();
    let outside = |s: &&StageInForce| s.interval.end_s <= 0.0 || s.interval.start_s >= axis.length_s();
    let left_out = stages.iter().filter(outside).count();
    if left_out > 0 && notes.is_clean() {
        let text = format!(
            "{left_out} of {} active stages are outside the simulation year and were left out",
            stages.len()
        );
        notes.warn("timetable", text);
    }
    notes.close(Some(stages))
}

/// Rows with exactly these columns; faults for another header and for rows of another length.
fn rows_with(source: &Source, columns: &[&str], notes: &mut Notes) -> Option<Vec<StringRecord>> {
    let (header, mut rows) = read_rows(source, notes)?;
    let wanted = columns.join(",");
    if header.iter().ne(columns.iter().copied()) {
        let given = format!("columns {}", header.iter().collect::<Vec<_>>().join(","));
        notes.at_byte(
            0,
            given,
            &format!("columns {wanted}"),
            &format!("name the columns {wanted}"),
        );
        return None;
    }
    rows.retain(|row| {
        let whole = row.len() == columns.len();
        if !whole {
            notes.at(
                row,
                format!("{} values", row.len()),
                &wanted,
                "give one value for each column",
            );
        }
        whole
    });
    Some(rows)
}

fn read_slot(row: &StringRecord, notes: &mut Notes) -> Option<(String, Slot)> {
    let stage = whole(row, &row[0], &STAGE, notes);
    let day = whole(row, &row[2], &DAY, notes);
    let start_min = minute(row, &row[3], notes);
    let end_min = minute(row, &row[4], notes);
    let slot = Slot {
        stage: stage?,
        day: day?,
        start_min: start_min? % (24 * 60),
        end_min: end_min? % (24 * 60),
    };
    Some((row[1].to_owned(), slot))
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "checked whole and within the field's range, below 256"
)]
fn whole(row: &StringRecord, text: &str, field: &Field, notes: &mut Notes) -> Option<u8> {
    let number = text.parse::<f64>().unwrap_or(f64::NAN);
    match field.check(number) {
        Ok(value) => Some(value as u8),
        Err(fault) => {
            let given = format!("{} \"{text}\"", field.key);
            notes.at(row, given, &fault.allowed, "write a whole number");
            None
        }
    }
}

/// `18:30` as minutes after midnight, up to `24:00`.
fn minute(row: &StringRecord, text: &str, notes: &mut Notes) -> Option<u16> {
    let parsed = text.split_once(':').and_then(|(hour, minute)| {
        let plain = |part: &str| part.len() <= 2 && part.bytes().all(|b| b.is_ascii_digit());
        if !plain(hour) || !plain(minute) {
            return None;
        }
        let (hour, minute) = (hour.parse::<u16>().ok()?, minute.parse::<u16>().ok()?);
        (minute < 60 && hour * 60 + minute <= 24 * 60).then_some(hour * 60 + minute)
    });
    if parsed.is_none() {
        notes.at(
            row,
            format!("\"{text}\""),
            "a time from 00:00 to 24:00",
            "write hours and minutes such as 18:30; an end at or before the start is on the next day",
        );
    }
    parsed
}
