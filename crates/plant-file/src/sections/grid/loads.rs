//! `[[load]]`: a 12 × 24 table or meter readings.

use std::path::Path;

use daylift_grid::{LoadSeries, Loads};
use daylift_tables as tables;
use daylift_tables::meter::Stamped;
use daylift_units::{Axis, Fault};

use crate::read::Section;
use crate::sections::equipment::load;

/// All loads, and those of them that are backed up.
pub(super) fn read(root: &Section<'_>, folder: &Path, axis: Option<&Axis>) -> Option<(Loads, Loads)> {
    let (mut loads, mut backed_up) = (Loads::none(), Loads::none());
    let mut whole = true;
    for section in root.tables("load", "load") {
        let name = section.text("name", "name of the load", "a text");
        let is_backed_up = section.flag("backed_up", "whether an island or a generator feeds the load too");
        let called = name.as_deref().unwrap_or("");
        let added = match (section.has("file"), section.has("meter")) {
            (false, false) => {
                section.fault(Fault::new(
                    "file",
                    "load",
                    "neither `file` nor `meter`",
                    "a 12 × 24 table under `file`, or meter readings under `meter`",
                    "add one of them",
                ));
                None
            }
            (true, false) => read_table(&section, folder, called).map(|table| {
                loads.add(&table);
                if is_backed_up == Some(true) {
                    backed_up.add(&table);
                }
            }),
            (false, true) => read_meter(&section, folder, called, axis).map(|series| {
                if is_backed_up == Some(true) {
                    backed_up.add_series(series.clone());
                }
                loads.add_series(series);
            }),
            (true, true) => {
                section.know("stamp");
                section.fault(Fault::new(
                    "meter",
                    "load",
                    "a table under `file` and meter readings under `meter`",
                    "one of them",
                    "remove one; two loads are two [[load]]",
                ));
                None
            }
        };
        section.finish();
        whole &= added.is_some() && name.is_some() && is_backed_up.is_some();
    }
    whole.then_some((loads, backed_up))
}

fn read_table(section: &Section<'_>, folder: &Path, name: &str) -> Option<daylift_units::MonthHour<f64>> {
    let quantity = "table of the load";
    let written = section.text("file", quantity, "a path relative to this file");
    if section.has("stamp") {
        section.fault(Fault::new(
            "stamp",
            "end of the interval that a reading is stamped with",
            "`stamp` beside a table",
            "`stamp` beside `meter` only",
            "remove it: a table of months and hours has no stamps",
        ));
        return None;
    }
    let written = written?;
    let source = load(section, folder, &written, "file", quantity)?;
    section.noted(tables::loads::read(&source, name))
}

fn read_meter(section: &Section<'_>, folder: &Path, name: &str, axis: Option<&Axis>) -> Option<LoadSeries> {
    let quantity = "meter readings of the load";
    let written = section.text("meter", quantity, "a path relative to this file");
    let stamped = if section.has("stamp") {
        let choices = [("begin", Stamped::Begin), ("end", Stamped::End)];
        section.choice("stamp", "end of the interval that a reading is stamped with", &choices)
    } else {
        Some(Stamped::Begin)
    };
    let source = load(section, folder, &written?, "meter", quantity)?;
    section.noted(tables::meter::read(&source, name, stamped?, axis?))
}
