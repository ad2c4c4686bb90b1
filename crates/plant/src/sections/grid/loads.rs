//! `[[load]]`: a 12 × 24 table or meter readings.

use std::path::Path;

use daylift_grid::Loads;
use daylift_units::{Axis, Fault};

use crate::read::Section;
use crate::sections::equipment::load;
use crate::tables;
use crate::tables::meter::Stamped;

pub(super) fn read(root: &Section<'_>, folder: &Path, axis: Option<&Axis>) -> Option<Loads> {
    let mut loads = Loads::none();
    let mut whole = true;
    for section in root.tables("load", "load") {
        let name = section.text("name", "name of the load", "a text");
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
            (true, false) => add_table(&section, folder, called, &mut loads),
            (false, true) => add_meter(&section, folder, called, axis, &mut loads),
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
        whole &= added.is_some() && name.is_some();
    }
    whole.then_some(loads)
}

fn add_table(section: &Section<'_>, folder: &Path, name: &str, loads: &mut Loads) -> Option<()> {
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
    loads.add(&tables::loads::read(section.book(), &source, name)?);
    Some(())
}

fn add_meter(section: &Section<'_>, folder: &Path, name: &str, axis: Option<&Axis>, loads: &mut Loads) -> Option<()> {
    let quantity = "meter readings of the load";
    let written = section.text("meter", quantity, "a path relative to this file");
    let stamped = if section.has("stamp") {
        let choices = [("begin", Stamped::Begin), ("end", Stamped::End)];
        section.choice("stamp", "end of the interval that a reading is stamped with", &choices)
    } else {
        Some(Stamped::Begin)
    };
    let source = load(section, folder, &written?, "meter", quantity)?;
    let laid = tables::meter::read(section.book(), &source, name, stamped?, axis?)?;
    loads.add_series(laid.map_err(|fault| section.fault(fault)).ok()?);
    Some(())
}
