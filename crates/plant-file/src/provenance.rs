//! Where each value came from: given, assumed, or taken by default.
//!
//! Given: it stands in the plant file or a file that it names. Assumed: it stands there too, and the plant's list
//! `assumed` says that nobody has confirmed it on the farm yet. Default: nobody gave it.

use daylift_units::Warning;

/// Sections named in the warning about assumed values; the rest are counted.
const SECTIONS_TOLD: usize = 6;

/// The key of the list, at the top of the plant file.
pub(crate) const ASSUMED: &str = "assumed";

/// How far a value may be relied on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum State {
    /// It stands in a file.
    Given,
    /// It stands in a file and is not confirmed on the farm.
    Assumed,
    /// It was not given.
    Default,
}

impl State {
    /// Name in results.
    #[must_use]
    pub const fn id(self) -> &'static str {
        match self {
            Self::Given => "given",
            Self::Assumed => "assumed",
            Self::Default => "default",
        }
    }
}

/// A value in the unit of its file.
#[derive(Debug, Clone, PartialEq)]
pub enum OriginValue {
    /// A number.
    Number(f64),
    /// A list of numbers.
    Numbers(Vec<f64>),
    /// A word, or the path of a file.
    Text(String),
}

/// A value and where it came from.
#[derive(Debug, Clone, PartialEq)]
pub struct Origin {
    /// Key with its section, `array.albedo`; equipment by its kind, `motor.rated_power_kw`.
    pub path: String,
    /// File in which it stands, or would stand, as it is read.
    pub file: String,
    /// Key with its section within that file, `rated_power_kw`, `pipe[2].bore_mm`; numbers count from 1.
    pub keys: String,
    /// How far it may be relied on.
    pub state: State,
    /// The value.
    pub value: OriginValue,
    /// Its unit, empty for a pure number and for a text.
    pub unit: &'static str,
    /// File and line, or the source of a default.
    pub source: String,
}

/// How many values are given, assumed and taken by default.
#[must_use]
pub fn counts(origins: &[Origin]) -> [usize; 3] {
    [State::Given, State::Assumed, State::Default].map(|state| origins.iter().filter(|o| o.state == state).count())
}

/// Whether an entry of the list covers a path: the same key, or a section above it. An entry without numbers covers every
/// section of a list.
pub(crate) fn covers(entry: &str, path: &str) -> bool {
    if entry == "*" {
        return true;
    }
    let mut parts = path.split('.');
    entry.split('.').all(|e| parts.next().is_some_and(|p| p == e || unnumbered(p) == e))
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

/// Marks the values that the list covers.
pub(crate) fn mark(mut origins: Vec<Origin>, assumed: &[String]) -> Vec<Origin> {
    for origin in origins.iter_mut().filter(|o| o.state == State::Given) {
        if assumed.iter().any(|entry| covers(entry, &origin.path)) {
            origin.state = State::Assumed;
        }
    }
    origins
}

/// What the reader of a result must know of assumed values; `None` when all are confirmed.
pub(crate) fn warning(origins: &[Origin]) -> Option<Warning> {
    let assumed: Vec<&Origin> = origins.iter().filter(|o| o.state == State::Assumed).collect();
    let mut sections: Vec<&str> = Vec::new();
    for origin in &assumed {
        let section = unnumbered(origin.path.split('.').next().unwrap_or_default());
        if !sections.contains(&section) {
            sections.push(section);
        }
    }
    let values = match assumed.len() {
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
