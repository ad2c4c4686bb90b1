//! What is found of a plan: facts and figures that a reader puts into words.

use daylift_plant::{Group, Plant};

use crate::found::{Facts, Finding};
use crate::judge::{Judge, Judged};
use crate::plan::PlannedGroup;
use crate::planes::planes_apart;
use crate::rule::{Rule, STRINGS_PER_INPUT, Subject};

/// What is known of the plant's values.
pub trait Confirmed {
    /// Whether a value is given and confirmed wherever it stands, by its key with section.
    fn is_given(&self, key: &str) -> bool;
    /// Whether some value of a section is marked as not confirmed: assumed, or of equipment of the usual kind.
    fn is_assumed(&self, section: &str) -> bool;
}

/// Everything to know of a plan, what weighs most first.
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

/// Values that the verdict on a plan rests on and that nobody has confirmed: keys with section, or sections, each once.
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

/// Of a rule in a plan: a limit that one device lacks counts, also where another has it.
fn unconfirmed(judge: &Judge<'_>, judged: &Judged, rule: Rule, confirmed: &dyn Confirmed) -> Vec<String> {
    let is_given = judged.measures.iter().filter(|m| m.rule == rule).all(|m| m.is_given);
    let is_limit = |key: &str| key.starts_with("inverter.") || key.starts_with("drive.");
    let conditions = judge.conditions();
    let assumed: Vec<&str> = rule.leans_on().iter().copied().filter(|section| confirmed.is_assumed(section)).collect();
    let keys = rule.rests_on().iter().filter(|key| match **key {
        STRINGS_PER_INPUT => !inputs_are_said(judge.plant()),
        "site.record_low_c" if conditions.coldest.record_is_beaten() => true,
        "site.record_high_c" if conditions.hottest.record_is_beaten() => true,
        key => !confirmed.is_given(key) || (is_limit(key) && !is_given),
    });
    // A section that is assumed says enough of its keys.
    let told = keys.filter(|key| !assumed.iter().any(|section| key.starts_with(&format!("{section}."))));
    told.chain(&assumed).map(|key| (*key).to_owned()).collect()
}

/// Whether the file says, of every group of several strings on an inverter, which share an input.
fn inputs_are_said(plant: &Plant) -> bool {
    let open = |g: &Group| g.inverter.is_some() && g.strings.parallel() > 1 && g.strings_per_input.is_none();
    !plant.groups().iter().any(open)
}
