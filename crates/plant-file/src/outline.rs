//! The outline of the plant file and of the equipment files: the sections there are and the keys each may have.
//!
//! Declared once, for the reader, the JSON Schema, the list of origins and for forms. A declaration makes both the
//! [`Table`] and the record that a sound section is read into: a key that is not declared has no field to be read from.

mod equipment;
mod grid;
mod keys;
mod later;
mod money;
mod plant;
mod table;
mod told;
mod words;

pub(crate) use equipment::*;
pub(crate) use grid::*;
pub(crate) use keys::Typed;
pub(crate) use later::{Later, later_key};
pub(crate) use money::*;
pub(crate) use plant::*;
pub use table::{Key, Table, What};
pub(crate) use told::{Told, Usual, usual_of};
pub(crate) use words::{Word, ids};

use crate::read::Outlined;

/// Every kind of file with its outline: the plant file first.
pub const FILES: [(&str, &Table); 8] = [
    ("plant", PlantKeys::TABLE),
    ("module", ModuleFile::TABLE),
    ("inverter", InverterFile::TABLE),
    ("drive", DriveFile::TABLE),
    ("motor", MotorFile::TABLE),
    ("pump", PumpFile::TABLE),
    ("battery", BatteryFile::TABLE),
    ("generator", GeneratorFile::TABLE),
];

/// Every path of every file as it is listed: equipment by its kind, `motor.rated_power_kw`.
#[must_use]
pub fn paths() -> Vec<(String, &'static Key)> {
    let mut out = Vec::new();
    for (file, table) in FILES {
        let prefix = if file == "plant" {
            String::new()
        } else {
            format!("{file}.")
        };
        out.extend(table.walk().into_iter().map(|(path, key)| (format!("{prefix}{path}"), key)));
    }
    out
}

#[cfg(test)]
mod tests;
