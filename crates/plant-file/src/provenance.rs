//! Where each value came from, and how far it may be relied on.

mod first;
mod marks;

use daylift_units::{Id, Warning};
use jiff::civil::Date;

pub use first::confirm_first;
pub(crate) use marks::{Entry, covers, mark, narrowness};

/// Sections named in the warning about values that are not confirmed; the rest are counted.
const SECTIONS_TOLD: usize = 6;

/// Where a value came from, from the least to be relied on to the most.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Origin {
    /// Nobody gave it: the field's own default holds.
    Default,
    /// In a file, of equipment of the usual kind, not of a make.
    Generic,
    /// In a file, and nobody has confirmed it on the farm.
    Assumed,
    /// In a file, unmarked, or marked so beside a wider mark.
    Given,
    /// Copied from the maker's datasheet.
    Datasheet,
    /// Calculated by this program and written into the file.
    Found,
    /// Measured or checked on the farm.
    Confirmed,
}

impl Id for Origin {
    const ALL: &'static [Self] = &Self::ALL;

    fn id(self) -> &'static str {
        self.id()
    }
}

impl Origin {
    /// All of them.
    pub const ALL: [Self; 7] = [
        Self::Default,
        Self::Generic,
        Self::Assumed,
        Self::Given,
        Self::Datasheet,
        Self::Found,
        Self::Confirmed,
    ];

    /// Those that a file marks. What is not marked is given, so that `given` is a mark only beside a wider one; what is not
    /// given is a default.
    pub const MARKS: [Self; 6] = [
        Self::Generic,
        Self::Assumed,
        Self::Given,
        Self::Datasheet,
        Self::Found,
        Self::Confirmed,
    ];

    /// Name in files and in results.
    #[must_use]
    pub const fn id(self) -> &'static str {
        match self {
            Self::Default => "default",
            Self::Generic => "generic",
            Self::Assumed => "assumed",
            Self::Given => "given",
            Self::Datasheet => "datasheet",
            Self::Found => "found",
            Self::Confirmed => "confirmed",
        }
    }

    /// Whether it stands in a file and is marked as not confirmed on the farm.
    #[must_use]
    pub const fn is_unconfirmed(self) -> bool {
        matches!(self, Self::Generic | Self::Assumed)
    }

    /// Whether somebody stands for it: it is neither a default nor unconfirmed.
    #[must_use]
    pub const fn is_relied_on(self) -> bool {
        !matches!(self, Self::Default) && !self.is_unconfirmed()
    }
}

/// What a file says of a value beside its origin.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Mark {
    /// When it was measured, copied or found.
    pub date: Option<Date>,
    /// How, in words.
    pub note: Option<String>,
}

/// A value in the unit of its file.
#[derive(Debug, Clone, PartialEq)]
pub enum OriginValue {
    /// A number.
    Number(f64),
    /// A list of numbers.
    Numbers(Vec<f64>),
    /// `true` or `false`.
    Flag(bool),
    /// A word, or the path of a file.
    Text(String),
    /// No value of its own: a rule decides, here in words.
    Rule(&'static str),
}

/// A value and where it came from.
#[derive(Debug, Clone, PartialEq)]
pub struct ValueOrigin {
    /// Key with its section, `array.albedo`; equipment by its kind, `motor.rated_power_kw`.
    pub path: String,
    /// File in which it stands, or would stand, as it is read.
    pub file: String,
    /// Key with its section within that file, `rated_power_kw`, `pipe[2].bore_mm`; numbers count from 1.
    pub keys: String,
    /// Where it came from.
    pub origin: Origin,
    /// What the file says of it; `None` where no entry marks it.
    pub mark: Option<Mark>,
    /// The value.
    pub value: OriginValue,
    /// Its unit, empty for a pure number and for a text.
    pub unit: &'static str,
    /// File and line, or the source of a default.
    pub source: String,
}

/// How many values there are of each origin, in the order of [`Origin::ALL`].
#[must_use]
pub fn counts(origins: &[ValueOrigin]) -> [(Origin, usize); Origin::ALL.len()] {
    Origin::ALL.map(|origin| (origin, origins.iter().filter(|o| o.origin == origin).count()))
}

/// A part of a path without its number: `pipe` of `pipe[2]`.
fn unnumbered(part: &str) -> &str {
    part.split_once('[').map_or(part, |(name, _)| name)
}

/// A path without numbers: `tariff.season.months` of `tariff.season[1].months`.
#[must_use]
pub fn without_numbers(path: &str) -> String {
    path.split('.').map(unnumbered).collect::<Vec<_>>().join(".")
}

/// What the reader of a result must know of values that are not confirmed; `None` when all are.
pub(crate) fn warning(origins: &[ValueOrigin]) -> Option<Warning> {
    let unconfirmed: Vec<&ValueOrigin> = origins.iter().filter(|o| o.origin.is_unconfirmed()).collect();
    let mut sections: Vec<&str> = Vec::new();
    for origin in &unconfirmed {
        let section = unnumbered(origin.path.split('.').next().unwrap_or_default());
        if !sections.contains(&section) {
            sections.push(section);
        }
    }
    let values = match unconfirmed.len() {
        0 => return None,
        1 => "1 value is".to_owned(),
        n => format!("{n} values are"),
    };
    let told = sections[..sections.len().min(SECTIONS_TOLD)].join(", ");
    let more = match sections.len().saturating_sub(SECTIONS_TOLD) {
        0 => String::new(),
        n => format!(" and {n} more"),
    };
    Some(Warning::new(
        "assumed",
        format!("{values} not confirmed on the farm: {told}{more}"),
    ))
}

#[cfg(test)]
mod tests;
