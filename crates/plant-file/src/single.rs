//! Reads one equipment file without a plant.

use std::path::Path;
use std::rc::Rc;
use std::sync::Arc;

use daylift_array::{Inverter, Module};
use daylift_grid::{BatterySheet, Generator};
use daylift_lift::{Drive, Motor, Pump, Water};
use daylift_tables::{Noted, Outcome, Source};
use daylift_units::Fault;

use crate::files::Files;
use crate::read::{Book, read_equipment};
use crate::sections::equipment::{
    build_battery, build_drive, build_generator, build_inverter, build_module, build_motor, build_pump,
};

fn single<T>(read: impl FnOnce(&Rc<Book>) -> Option<T>) -> Outcome<T> {
    let book = Rc::new(Book::default());
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

/// The name of the plant in a plant file; `None` when the file cannot be read or has no name.
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
    /// A grid-tied inverter; the loss of its AC cable is taken as 0.
    Inverter(Inverter),
    /// A drive.
    Drive(Drive),
    /// A motor.
    Motor(Motor),
    /// A pump.
    Pump(Pump),
    /// A battery's datasheet, without the rules of its use.
    Battery(BatterySheet),
    /// A generator.
    Generator(Generator),
}

/// Water temperature for a pump that is read without a plant \[°C\] (usual practice).
const WATER_C: f64 = 20.0;

/// Reads an equipment file as one of a kind: `module`, `inverter`, `drive`, `motor`, `pump`, `battery`, `generator`.
///
/// # Errors
/// Every fault of the file, or one fault for an unknown kind.
pub fn equipment(source: &Arc<Source>, kind: &str) -> Outcome<Equipment> {
    single(|book| match kind {
        "module" => read_equipment(book, source).as_ref().and_then(build_module).map(Equipment::Module),
        "inverter" => {
            let file = read_equipment(book, source);
            file.and_then(|file| build_inverter(&file, 0.0)).map(Equipment::Inverter)
        }
        "drive" => read_equipment(book, source).as_ref().and_then(build_drive).map(Equipment::Drive),
        "motor" => read_equipment(book, source).as_ref().and_then(build_motor).map(Equipment::Motor),
        "pump" => {
            let file = read_equipment(book, source)?;
            let water = file.at.booked(Water::at(WATER_C))?;
            build_pump(&file, &water).map(Equipment::Pump)
        }
        "battery" => read_equipment(book, source).as_ref().and_then(build_battery).map(Equipment::Battery),
        "generator" => read_equipment(book, source).as_ref().and_then(build_generator).map(Equipment::Generator),
        other => {
            let allowed = "module, inverter, drive, motor, pump, battery or generator";
            let fault = Fault::new("kind", "kind of equipment", other, allowed, "choose one of them");
            book.fault(fault, None);
            None
        }
    })
}
