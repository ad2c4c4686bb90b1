//! All findings on a string plan, with the unconfirmed values that they depend on. The words are in `present`.

use daylift_plant::{Group, Plant};

use crate::found::{Facts, Finding};
use crate::judge::{Judge, Judged};
use crate::plan::PlannedGroup;
use crate::planes::planes_apart;
use crate::rule::{Rule, STRINGS_PER_INPUT, Subject};

/// Which of the plant's values are given and confirmed.
pub trait Confirmed {
    /// Whether a value is given and confirmed everywhere the key occurs. `key` includes its section.
    fn is_given(&self, key: &str) -> bool;
    /// Whether some value of a section is marked as `assumed` or `generic`.
    fn is_assumed(&self, section: &str) -> bool;
}

/// All findings on a plan: violations first, then warnings, then notes.
#[must_use]
pub fn findings(
    judge: &Judge<'_>,
    groups: &[PlannedGroup],
    judged: &Judged,
    confirmed: &dyn Confirmed,
) -> Vec<Finding> {
    let facts = Facts { judge, judged };
    let mut out: Vec<Finding> = judged.measures.iter().filter_map(|m| facts.of_measure(m)).collect();
    out.extend(facts.of_plant(groups));
    out.extend(facts.notes(groups));
    for finding in &mut out {
        if let Subject::Rule(rule) = finding.id() {
            finding.unconfirmed = unconfirmed(judge, judged, rule, confirmed);
        }
    }
    out.sort_by_key(|finding| finding.weight);
    out
}

/// Unconfirmed values that the verdict on a plan depends on: keys with section, or sections, each once.
#[must_use]
pub fn rests_on_unconfirmed(judge: &Judge<'_>, judged: &Judged, confirmed: &dyn Confirmed) -> Vec<String> {
    let mut out: Vec<String> = Vec::new();
    for rule in judged.measures.iter().map(|m| m.rule) {
        for key in unconfirmed(judge, judged, rule, confirmed) {
            if !out.contains(&key) {
                out.push(key);
            }
        }
    }
    if judged.drives.iter().any(|drive| planes_apart(judge, drive.set).is_some()) {
        out.push("array.plane".to_owned());
    }
    out
}

/// Unconfirmed values of one rule. A limit counts as unconfirmed if any device lacks it, even where another has it.
fn unconfirmed(judge: &Judge<'_>, judged: &Judged, rule: Rule, confirmed: &dyn Confirmed) -> Vec<String> {
    let is_given = judged.measures.iter().filter(|m| m.rule == rule).all(|m| m.is_given);
    let is_limit = |key: &str| key.starts_with("inverter.") || key.starts_with("drive.");
    let conditions = judge.conditions();
    let assumed: Vec<&str> = rule
        .required_sections()
        .iter()
        .copied()
        .filter(|section| confirmed.is_assumed(section))
        .collect();
    let keys = rule.required_keys().iter().filter(|key| match **key {
        STRINGS_PER_INPUT => !strings_per_input_is_given(judge.plant()),
        "site.record_low_c" if conditions.coldest.record_is_exceeded() => true,
        "site.record_high_c" if conditions.hottest.record_is_exceeded() => true,
        key => !confirmed.is_given(key) || (is_limit(key) && !is_given),
    });
    // The keys of a section that is reported as assumed are not repeated.
    let reported = keys.filter(|key| !assumed.iter().any(|section| key.starts_with(&format!("{section}."))));
    reported.chain(&assumed).map(|key| (*key).to_owned()).collect()
}

/// Whether the file gives `strings_per_input` for every group of several strings on an inverter.
fn strings_per_input_is_given(plant: &Plant) -> bool {
    let lacks = |g: &Group| g.inverter.is_some() && g.strings.parallel() > 1 && g.strings_per_input.is_none();
    !plant.groups().iter().any(lacks)
}
