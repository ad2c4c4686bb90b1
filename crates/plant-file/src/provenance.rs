//! Where each value came from, and how reliable it is.

mod first;
mod marks;

use daylift_units::{Id, Warning};
use jiff::civil::Date;

pub use first::confirm_first;
pub(crate) use marks::{Entry, covers, mark, narrowness};

/// Most sections named in the warning about assumed or generic values; the others are counted.
const MOST_SECTIONS: usize = 6;

/// Where a value came from, from the least to the most reliable.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Origin {
    /// Not in any file: the field's default applies.
    Default,
    /// In a file, typical of such equipment, but not of a certain make.
    Generic,
    /// In a file, but not confirmed on the farm.
    Assumed,
    /// In a file without a mark, or marked so as an exception to a wider mark.
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

    /// Those that a file can mark. An unmarked value is [`Given`](Self::Given) anyway, so that mark is useful only as an
    /// exception to a wider one. A value that is not given is a [`Default`](Self::Default).
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

    /// Whether the value is in a file, with a mark that says it is assumed or generic.
    #[must_use]
    pub const fn is_assumed_or_generic(self) -> bool {
        matches!(self, Self::Generic | Self::Assumed)
    }

    /// Whether nobody has confirmed the value: it is a default, assumed or generic.
    #[must_use]
    pub const fn is_not_confirmed(self) -> bool {
        matches!(self, Self::Default) || self.is_assumed_or_generic()
    }
}

/// What a file says about a value besides its origin.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Mark {
    /// Date on which it was measured, copied or calculated.
    pub date: Option<Date>,
    /// How that was done, in words.
    pub note: Option<String>,
}

/// A value in the unit of its file.
#[derive(Debug, Clone, PartialEq)]
pub enum OriginValue {
    /// A number.
    Number(f64),
    /// A list of numbers.
    Numbers(Vec<f64>),
    /// Several lists of numbers, such as two windows of hours.
    Lists(Vec<Vec<f64>>),
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
    /// Key with its section, `array.albedo`; that of equipment begins with its kind, `motor.rated_power_kw`.
    pub path: String,
    /// Path of the file in which it is or would be.
    pub file: String,
    /// Key with its section within that file, such as `rated_power_kw` or `pipe[2].bore_mm`; numbers count from 1.
    pub keys: String,
    /// Where it came from.
    pub origin: Origin,
    /// What the file says about it; `None` if no entry marks it.
    pub mark: Option<Mark>,
    /// The value.
    pub value: OriginValue,
    /// Its unit, empty for a pure number and for a text.
    pub unit: &'static str,
    /// File and line, or the source of a default.
    pub source: String,
}

/// The number of values of each origin, in the order of [`Origin::ALL`].
#[must_use]
pub fn counts(origins: &[ValueOrigin]) -> [(Origin, usize); Origin::ALL.len()] {
    Origin::ALL.map(|origin| (origin, origins.iter().filter(|o| o.origin == origin).count()))
}

/// The number of values that nobody has confirmed: defaults, and assumed or generic values.
#[must_use]
pub fn not_confirmed(origins: &[ValueOrigin]) -> usize {
    origins.iter().filter(|o| o.origin.is_not_confirmed()).count()
}

/// A part of a path without its number: `pipe` for `pipe[2]`.
fn unnumbered(part: &str) -> &str {
    part.split_once('[').map_or(part, |(name, _)| name)
}

/// A path without numbers: `tariff.season.months` for `tariff.season[1].months`.
#[must_use]
pub fn without_numbers(path: &str) -> String {
    path.split('.').map(unnumbered).collect::<Vec<_>>().join(".")
}

/// The warning about values marked as assumed or generic; `None` when there are none.
pub(crate) fn warning(origins: &[ValueOrigin]) -> Option<Warning> {
    let marked: Vec<&ValueOrigin> = origins.iter().filter(|o| o.origin.is_assumed_or_generic()).collect();
    let mut sections: Vec<&str> = Vec::new();
    for origin in &marked {
        let section = unnumbered(origin.path.split('.').next().unwrap_or_default());
        if !sections.contains(&section) {
            sections.push(section);
        }
    }
    let values = match marked.len() {
        0 => return None,
        1 => "1 value is".to_owned(),
        n => format!("{n} values are"),
    };
    let named = sections[..sections.len().min(MOST_SECTIONS)].join(", ");
    let more = match sections.len().saturating_sub(MOST_SECTIONS) {
        0 => String::new(),
        n => format!(" and {n} more"),
    };
    Some(Warning::new(
        "assumed",
        format!("{values} assumed or generic: {named}{more}"),
    ))
}

#[cfg(test)]
mod tests;
