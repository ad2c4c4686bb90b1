//! The outline of the plant file and of the equipment files: which sections exist, and which keys each may have.
//!
//! It is declared once, for the reader, the JSON Schema, the list of origins and forms. A declaration makes both the
//! [`Table`] and the record that a valid section is read into: a key that is not declared has no field to read from.
//!
//! # How to add a key
//!
//! `restart_pct` of `[tank]` shows every place:
//!
//! 1. The quantity, in `TANK` of `daylift_units::fields`, with its unit, range, reason and default: `RESTART =
//!    Field::new("restart_pct", "level at which …", Unit::PERCENT, 1.0, 99.0, "of the capacity; …")`.
//! 2. The key, in `TankKeys` of `outline/plant.rs`: `restart_level: f64 = number(&tank::RESTART);`.
//! 3. The value (checked, in SI, or its default) goes into the plant, here in `sections/use_of_water.rs`:
//!    `restart_level: keys.restart_level`.
//! 4. Its effect: the field `restart_level` of `daylift_lift::TankSheet`, and the code that uses it.
//! 5. `cargo xtask schema` writes the JSON Schema and `docs/plant-file.md` again.

mod equipment;
mod grid;
mod keys;
mod later;
mod listed;
mod money;
mod plant;
mod table;
mod words;

pub(crate) use equipment::*;
pub(crate) use grid::*;
pub(crate) use keys::Typed;
pub(crate) use later::{Later, later_key};
pub(crate) use listed::{Listed, Usual, usual_of};
pub(crate) use money::*;
pub(crate) use plant::*;
pub use table::{Key, Table, What};
pub(crate) use words::{Word, ids};

use crate::read::Outlined;

/// Every kind of file with its outline; the plant file comes first.
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

/// Every key of every file by the path under which it is listed. Keys of equipment begin with its kind, such as
/// `motor.rated_power_kw`.
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
