//! One equipment file read by itself: its text without a plant around it.

use std::path::Path;
use std::sync::Arc;

use daylift_array::{Inverter, Module};
use daylift_grid::{BatterySheet, GeneratingSet};
use daylift_lift::{Drive, Motor, Pump, Water};
use daylift_tables::{Noted, Outcome, Source};
use daylift_units::Fault;

use crate::files::Files;
use crate::read::Book;
use crate::sections::equipment::{self as read, booked, read_equipment};

fn single<T>(read: impl FnOnce(&Book) -> Option<T>) -> Outcome<T> {
    let book = Book::default();
    let value = read(&book);
    let gathered = book.close();
    match value {
        Some(value) if gathered.faults.is_empty() => Ok(Noted {
            value,
            warnings: gathered.warnings,
        }),
        _ => Err(gathered.faults),
    }
}

/// The name that a plant file gives its plant; `None` when there is none to read.
#[must_use]
pub fn plant_name(file: &Path) -> Option<String> {
    let source = Files::default().read(file, "", "plant file").ok()?;
    let root: toml::Table = source.text.parse().ok()?;
    root.get("name")?.as_str().map(str::to_owned)
}

/// Equipment of any kind.
#[derive(Debug)]
pub enum Equipment {
    /// A PV module.
    Module(Module),
    /// A grid-tied inverter, without its cable.
    Inverter(Inverter),
    /// A drive.
    Drive(Drive),
    /// A motor.
    Motor(Motor),
    /// A pump.
    Pump(Pump),
    /// A battery, not yet put to a use.
    Battery(BatterySheet),
    /// A generating set.
    Generator(GeneratingSet),
}

/// Water temperature at which a pump by itself is read \[°C\] (usual practice).
const WATER_C: f64 = 20.0;

/// Reads an equipment file as one of a kind: `module`, `inverter`, `drive`, `motor`, `pump`, `battery`, `generator`.
///
/// # Errors
/// Every fault of the file; one fault when there is no such kind.
pub fn equipment(source: &Arc<Source>, kind: &str) -> Outcome<Equipment> {
    single(|book| match kind {
        "module" => read_equipment(book, source, kind, read::read_module).map(Equipment::Module),
        "inverter" => read_equipment(book, source, kind, |section, name| {
            read::read_inverter(section, name, 0.0)
        })
        .map(Equipment::Inverter),
        "drive" => read_equipment(book, source, kind, read::read_drive).map(Equipment::Drive),
        "motor" => read_equipment(book, source, kind, read::read_motor).map(Equipment::Motor),
        "pump" => read_equipment(book, source, kind, |section, name| {
            let water = booked(section, Water::at(WATER_C))?;
            read::read_pump(section, name, &water)
        })
        .map(Equipment::Pump),
        "battery" => read_equipment(book, source, kind, read::read_battery).map(Equipment::Battery),
        "generator" => read_equipment(book, source, kind, read::read_generator).map(Equipment::Generator),
        other => {
            let allowed = "module, inverter, drive, motor, pump, battery or generator";
            let fault = Fault::new("kind", "kind of equipment", other, allowed, "choose one of them");
            book.fault(fault, None);
            None
        }
    })
}
