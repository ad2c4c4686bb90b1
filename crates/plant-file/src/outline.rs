//! The outline of the plant file and of the equipment files: the sections there are and the keys each may have.
//!
//! Declared once, for the JSON Schema, for the list of assumed values and for forms. A test holds the reader to it: every
//! key that the reader asks for is here, and the reader asks for every key here.

mod equipment;
mod plant;

use daylift_units::Field;

pub use equipment::{BATTERY, DRIVE, GENERATOR, INVERTER, MODULE, MOTOR, PUMP};
pub use plant::PLANT;

/// Every kind of file with its outline: the plant file first.
pub const FILES: [(&str, &Table); 8] = [
    ("plant", &PLANT),
    ("module", &MODULE),
    ("inverter", &INVERTER),
    ("drive", &DRIVE),
    ("motor", &MOTOR),
    ("pump", &PUMP),
    ("battery", &BATTERY),
    ("generator", &GENERATOR),
];

/// A table of a file: the file itself, a section, or one of a list of sections.
#[derive(Debug)]
pub struct Table {
    /// Every key that it may have, in the order in which a person writes them.
    pub keys: &'static [Key],
}

/// A key of a table.
#[derive(Debug, Clone, Copy)]
pub struct Key {
    /// As it stands in the file.
    pub name: &'static str,
    /// What it is, in words.
    pub quantity: &'static str,
    /// Whether the table is refused without it.
    pub needed: bool,
    /// What stands under it.
    pub what: What,
}

/// What stands under a key.
#[derive(Debug, Clone, Copy)]
pub enum What {
    /// A number.
    Number(&'static Field),
    /// A number for the whole year, or one for each month.
    Monthly(&'static Field),
    /// A list of numbers, of a stated length or of any from one up.
    Numbers(&'static Field, Option<usize>),
    /// A text that names a thing and has no effect.
    Name,
    /// A text.
    Text,
    /// A path relative to the file.
    Path,
    /// One of a few words.
    Choice(&'static [&'static str]),
    /// A list of one or more of a few words.
    Choices(&'static [&'static str]),
    /// `true` or `false`.
    Flag,
    /// A list of dotted keys.
    Keys,
    /// A section.
    Section(&'static Table),
    /// A list of one or more sections.
    Sections(&'static Table),
    /// A section, or a list of them.
    OneOrMany(&'static Table),
}

impl Key {
    const fn new(name: &'static str, quantity: &'static str, what: What) -> Self {
        Self {
            name,
            quantity,
            needed: true,
            what,
        }
    }

    /// The same key, which may be left out.
    const fn optional(mut self) -> Self {
        self.needed = false;
        self
    }

    /// The declaration of the number, or of the numbers, that stand under the key.
    #[must_use]
    pub const fn field(&self) -> Option<&'static Field> {
        match self.what {
            What::Number(field) | What::Monthly(field) | What::Numbers(field, _) => Some(field),
            _ => None,
        }
    }
}

/// A number; it may be left out when it has a default.
const fn number(field: &'static Field) -> Key {
    of_field(field, What::Number(field))
}

/// The same for a number that may be given by month.
const fn monthly(field: &'static Field) -> Key {
    of_field(field, What::Monthly(field))
}

/// A list of numbers.
const fn numbers(field: &'static Field, length: Option<usize>) -> Key {
    of_field(field, What::Numbers(field, length))
}

const fn of_field(field: &'static Field, what: What) -> Key {
    let key = Key::new(field.key, field.quantity, what);
    if field.preset.is_some() { key.optional() } else { key }
}

const fn named(quantity: &'static str) -> Key {
    Key::new("name", quantity, What::Name)
}

const fn text(name: &'static str, quantity: &'static str) -> Key {
    Key::new(name, quantity, What::Text)
}

const fn path(name: &'static str, quantity: &'static str) -> Key {
    Key::new(name, quantity, What::Path)
}

const fn choice(name: &'static str, quantity: &'static str, words: &'static [&'static str]) -> Key {
    Key::new(name, quantity, What::Choice(words))
}

const fn flag(name: &'static str, quantity: &'static str) -> Key {
    Key::new(name, quantity, What::Flag)
}

const fn section(name: &'static str, table: &'static Table) -> Key {
    Key::new(name, name, What::Section(table))
}

const fn sections(name: &'static str, table: &'static Table) -> Key {
    Key::new(name, name, What::Sections(table))
}

/// A section, or a list of them.
const fn one_or_many(name: &'static str, table: &'static Table) -> Key {
    Key::new(name, "section", What::OneOrMany(table))
}

impl Table {
    /// Every key of the table and of the tables below it with its dotted path, sections before what is in them.
    #[must_use]
    pub fn walk(&self) -> Vec<(String, &'static Key)> {
        let mut out = Vec::new();
        for key in self.keys {
            out.push((key.name.to_owned(), key));
            if let What::Section(table) | What::Sections(table) | What::OneOrMany(table) = key.what {
                out.extend(table.walk().into_iter().map(|(path, inner)| (format!("{}.{path}", key.name), inner)));
            }
        }
        out
    }
}

/// Every path of every file as it is told of: equipment by its kind, `motor.rated_power_kw`.
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
