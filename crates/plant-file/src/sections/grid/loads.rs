//! `[[load]]`: a 12 × 24 table or meter readings.

use daylift_grid::{LoadSeries, Loads};
use daylift_tables::meter::Stamped;
use daylift_units::{Axis, Fault, MonthHour};

use crate::outline::{LoadKeys, LoadSourceKeys, PlantKeys};
use crate::read::{Placed, Section};

/// A load's power.
enum Power {
    Table(Box<MonthHour<f64>>),
    Series(LoadSeries),
}

/// All loads, and the backed-up ones among them.
pub(super) fn read(root: &Placed<PlantKeys>, axis: Option<&Axis>) -> Option<(Loads, Loads)> {
    let (mut loads, mut backed_up) = (Loads::none(), Loads::none());
    let mut whole = true;
    for placed in &root.keys.load.items {
        let is_backed_up = placed.keys.backed_up == Some(true);
        match read_power(placed, axis) {
            Some(Power::Table(table)) => {
                loads.add(&table);
                if is_backed_up {
                    backed_up.add(&table);
                }
            }
            Some(Power::Series(series)) => {
                if is_backed_up {
                    backed_up.add_series(series.clone());
                }
                loads.add_series(series);
            }
            None => whole = false,
        }
        whole &= placed.keys.name.is_some() && placed.keys.backed_up.is_some();
    }
    whole.then_some((loads, backed_up))
}

fn read_power(Placed { at, keys }: &Placed<LoadKeys>, axis: Option<&Axis>) -> Option<Power> {
    let called = keys.name.as_deref().unwrap_or("");
    let source = keys.source.as_ref()?;
    match (&source.file, &source.meter) {
        (None, None) => {
            at.fault(Fault::new(
                "file",
                "load",
                "neither `file` nor `meter`",
                "a 12 × 24 table under `file`, or meter readings under `meter`",
                "add one of them",
            ));
            None
        }
        (Some(file), None) => read_table(at, source, file, called).map(|table| Power::Table(Box::new(table))),
        (None, Some(meter)) => read_meter(at, source, meter, called, axis).map(Power::Series),
        (Some(_), Some(_)) => {
            at.fault(Fault::new(
                "meter",
                "load",
                "a table under `file` and meter readings under `meter`",
                "one of them",
                "remove one; for two loads write two [[load]]",
            ));
            None
        }
    }
}

fn read_table(at: &Section, keys: &LoadSourceKeys, file: &str, name: &str) -> Option<MonthHour<f64>> {
    if keys.stamp.is_some() {
        at.fault(Fault::new(
            "stamp",
            "whether a reading's time is the start (the default) or the end of its interval",
            "`stamp` with a table under `file`",
            "`stamp` only together with `meter`",
            "remove it: a table of months and hours has no time stamps",
        ));
        return None;
    }
    let source = at.load("file", "load table (12 months × 24 hours)", file)?;
    at.noted(daylift_tables::loads::read(&source, name))
}

fn read_meter(at: &Section, keys: &LoadSourceKeys, meter: &str, name: &str, axis: Option<&Axis>) -> Option<LoadSeries> {
    let stamped = keys.stamp.unwrap_or(Stamped::Start);
    let source = at.load("meter", "meter readings of the load", meter)?;
    at.noted(daylift_tables::meter::read(&source, name, stamped, axis?))
}
