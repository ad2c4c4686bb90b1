//! A sub-array: its modules, its lengths of string, and why other layouts do not suit.

use daylift_study::strings::{LengthRow, MeasureRow, Rule, SubArrayRow, Weight};

use super::measures::broken;
use crate::findings::change;
use crate::say;

/// Rules that are named for a length that breaks several.
const RULES_TOLD: usize = 2;

/// Its name and its modules.
#[must_use]
pub fn head(sub: &SubArrayRow) -> String {
    let modules = |count: u32| say!("sub-modules", count = count);
    let fields: Vec<String> = match &sub.fields[..] {
        [one] => vec![modules(one.modules)],
        several => several
            .iter()
            .map(|f| {
                let modules = modules(f.modules);
                // With several inverters the plane alone does not say which modules are meant.
                match f.inverter.as_ref().filter(|_| sub.inverters.len() > 1) {
                    Some(of) => say!("sub-modules-on.of", modules = modules, plane = &f.plane, inverter = of),
                    None => say!("sub-modules-on", modules = modules, plane = &f.plane),
                }
            })
            .collect(),
    };
    format!("{}: {}", sub.name, fields.join(", "))
}

/// Modules in series, and their text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Lengths {
    /// A length, or a run of lengths.
    pub which: String,
    /// Their text.
    pub says: String,
}

/// The lengths that suit one by one; runs of others that break the same rules as one, with the nearest of them.
#[must_use]
pub fn lengths(sub: &SubArrayRow) -> Vec<Lengths> {
    let rules =
        |length: &LengthRow| -> Vec<(Rule, String)> { forbidding(length).map(|m| (m.rule, m.about.clone())).collect() };
    let runs = sub.lengths.chunk_by(|a, b| rules(a) == rules(b));
    runs.filter_map(of_run).collect()
}

fn of_run(run: &[LengthRow]) -> Option<Lengths> {
    let (first, last) = (run.first()?, run.last()?);
    let which = match (first.modules_per_string, last.modules_per_string) {
        (a, b) if a == b => a.to_string(),
        (a, b) => say!("lengths-range", least = a.to_string(), most = b.to_string()),
    };
    let says = if first.suits {
        let counts: Vec<String> = run.iter().map(|l| l.layouts.to_string()).collect();
        say!("lengths-suit", layouts = counts.join(", "))
    } else {
        nearest(run)
    };
    Some(Lengths { which, says })
}

fn forbidding(length: &LengthRow) -> impl Iterator<Item = &MeasureRow> {
    length.measures.iter().filter(|m| m.weight == Some(Weight::Forbids))
}

/// What the nearest of some lengths breaks, and by how much.
fn nearest(run: &[LengthRow]) -> String {
    let beyond = |l: &LengthRow| -> f64 { forbidding(l).map(|m| m.beyond).sum() };
    let Some(near) = run.iter().min_by(|a, b| beyond(a).total_cmp(&beyond(b))) else {
        return String::new();
    };
    let by_length = forbidding(near).any(|m| m.rule != Rule::PumpSpeed);
    // A pump that cannot run because of low voltage adds nothing.
    let told = forbidding(near).filter(|m| m.rule != Rule::PumpSpeed || !by_length);
    let words: Vec<String> = told.take(RULES_TOLD).map(broken).collect();
    let why = words.join("; ");
    if run.len() > 1 {
        say!(
            "lengths-nearest",
            series = near.modules_per_string.to_string(),
            why = why
        )
    } else {
        why
    }
}

/// Where none suits: what is said, then each change that alone would help, or what stands in the way of the nearest
/// layout.
#[must_use]
pub fn what_to_change(sub: &SubArrayRow) -> (String, Vec<String>) {
    if sub.changes.is_empty() {
        (say!("none-suits"), sub.nearest.iter().map(broken).collect())
    } else {
        (say!("none-suits.changes"), sub.changes.iter().map(change).collect())
    }
}

/// A rule that other layouts break.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Refused {
    /// The rule.
    pub rule: Rule,
    /// How many layouts break it.
    pub layouts: usize,
    /// The nearest of them.
    pub nearest: String,
}

/// What other layouts of these lengths break, and the nearest of them.
#[must_use]
pub fn refused(sub: &SubArrayRow) -> Vec<Refused> {
    let of = sub.refused.iter().map(|refused| {
        let (series, why) = (refused.modules_per_string.to_string(), broken(&refused.nearest));
        Refused {
            rule: refused.nearest.rule,
            layouts: refused.layouts,
            nearest: match refused.strings {
                0 => say!("refused-nearest", series = series, why = why),
                strings => say!("refused-nearest.strings", series = series, strings = strings, why = why),
            },
        }
    });
    of.collect()
}
