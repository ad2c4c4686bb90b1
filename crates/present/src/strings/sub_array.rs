//! A sub-array: its modules, its string lengths, and why other layouts are not suitable.

use daylift_study::strings::{LengthRow, MeasureRow, Rule, SubArrayRow, Weight};

use super::measures::broken;
use crate::findings::change;
use crate::say;

/// Maximum number of rules named for a length that violates several.
const RULES_SHOWN: usize = 2;

/// Name and modules of the sub-array.
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

/// One or several string lengths, and their text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Lengths {
    /// A length, or a run of lengths.
    pub which: String,
    /// Their text.
    pub says: String,
}

/// Runs of adjacent lengths that violate the same rules, or none. For a violation, the text is about the length that is
/// closest to the limits.
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

/// Which rules the closest of some lengths violates, and by how much.
fn nearest(run: &[LengthRow]) -> String {
    let beyond = |l: &LengthRow| -> f64 { forbidding(l).map(|m| m.beyond).sum() };
    let Some(near) = run.iter().min_by(|a, b| beyond(a).total_cmp(&beyond(b))) else {
        return String::new();
    };
    let by_length = forbidding(near).any(|m| m.rule != Rule::PumpSpeed);
    // If the length itself is not suitable, the pump's speed with it adds nothing.
    let shown = forbidding(near).filter(|m| m.rule != Rule::PumpSpeed || !by_length);
    let words: Vec<String> = shown.take(RULES_SHOWN).map(broken).collect();
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

/// Where no layout is suitable: a heading, then each change that alone would make one suitable. If there is no such
/// change: the violations of the closest layout.
#[must_use]
pub fn what_to_change(sub: &SubArrayRow) -> (String, Vec<String>) {
    if sub.changes.is_empty() {
        (say!("none-suits"), sub.nearest.iter().map(broken).collect())
    } else {
        (say!("none-suits.changes"), sub.changes.iter().map(change).collect())
    }
}

/// A rule that other layouts violate.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Refused {
    /// The rule.
    pub rule: Rule,
    /// Number of layouts that violate it.
    pub layouts: usize,
    /// Text about the layout that is closest to the limit.
    pub nearest: String,
}

/// Rules that other layouts of suitable lengths violate.
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
