//! Where each value came from: given, assumed, or taken by default.
//!
//! Given: it stands in the plant file or a file that it names. Assumed: it stands there too, and the plant's list
//! `assumed` says that nobody has confirmed it on the farm yet. Default: nobody gave it.

use daylift_units::{Fault, Warning};

use crate::outline;
use crate::read::{Section, nearest};

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

/// Reads the list of assumed values, and books a fault for each that names nothing. To be called when the rest has been
/// read: a numbered section must be there.
pub(crate) fn read_assumed(root: &Section, entries: &[String]) {
    let quantity = "values that are not confirmed yet";
    let allowed = "keys with their section such as \"well.static_level_m\", whole sections such as \"well\", or \"*\"";
    for (i, entry) in entries.iter().enumerate() {
        if is_known(entry, root) {
            if entry != "*" && !root.book().any_given(|path| covers(entry, path)) {
                let text = format!("\"{entry}\" in the list covers no value that the files give; it marks nothing");
                root.book().warn(ASSUMED, text);
            }
            continue;
        }
        let known = outline::paths();
        let near = nearest(entry, known.iter().map(|(path, _)| path.as_str()));
        let remedy = near.map_or_else(|| "remove it".to_owned(), |n| format!("did you mean \"{n}\"?"));
        let fault = Fault::new(ASSUMED, quantity, format!("\"{entry}\""), allowed, remedy);
        root.fault_of_item(ASSUMED, i, fault);
    }
    root.book().assume(entries.to_vec());
}

fn is_known(entry: &str, root: &Section) -> bool {
    if entry == "*" {
        return true;
    }
    if entry.contains('[') {
        return root.book().any_origin(|path| covers(entry, path));
    }
    outline::paths().iter().any(|(path, _)| covers(entry, path))
}

/// Whether an entry of the list covers a path: the same key, or a section above it. An entry without numbers covers every
/// section of a list.
fn covers(entry: &str, path: &str) -> bool {
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
#[path = "provenance/tests.rs"]
mod tests;
