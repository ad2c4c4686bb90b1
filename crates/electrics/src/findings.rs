//! What the rules say of a plan, in words that a person can act on.

use daylift_plant::{Facing, Group, Plant};

use crate::judge::{Device, Judge, Judged};
use crate::plan::PlannedGroup;
use crate::rule::{Rule, STRINGS_PER_INPUT, Subject, Weight};
use crate::words::Words;

/// Something to know before strings are built.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// Whether it forbids, warns or notes.
    pub weight: Weight,
    /// Name of the rule, or of what is noted.
    pub id: Subject,
    /// What it is about.
    pub about: String,
    /// What was found, in a sentence.
    pub says: String,
    /// The value, in the unit.
    pub value: Option<f64>,
    /// Its limit, in the unit.
    pub limit: Option<f64>,
    /// Unit of both; empty for a count.
    pub unit: &'static str,
    /// The rule and where it comes from.
    pub basis: &'static str,
    /// What would mend it; empty where nothing needs mending.
    pub remedy: String,
    /// Values that it rests on and that nobody has confirmed, as keys with their section.
    pub unconfirmed: Vec<String>,
}

/// Name of a device.
#[must_use]
pub fn device_name(plant: &Plant, device: Device) -> String {
    match device {
        Device::Module => "modules".to_owned(),
        Device::Inverter(i) => match plant.feeders[i].name.as_str() {
            name if name.starts_with("inverter") => name.to_owned(),
            name => format!("inverter \"{name}\""),
        },
        Device::Drive(set) => match plant.sets[set].name.as_str() {
            "pump" => "drive".to_owned(),
            name => format!("drive of \"{name}\""),
        },
    }
}

/// A value of a rule as printed: powers in kW.
#[must_use]
pub fn printed_value(rule: Rule, value: f64) -> f64 {
    match rule {
        Rule::PowerOnInverter | Rule::PowerOnDrive => value / 1e3,
        _ => value,
    }
}

/// A value of a rule with its unit, to a tenth; counts are whole.
#[must_use]
pub fn printed(rule: Rule, value: f64) -> String {
    let value = printed_value(rule, value);
    match rule.unit() {
        "" => format!("{value:.0}"),
        unit => format!("{value:.1} {unit}"),
    }
}

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
    let words = Words { judge, judged };
    let mut out: Vec<Finding> = judged.measures.iter().filter_map(|m| words.of_measure(m)).collect();
    out.extend(words.of_plant(groups));
    out.extend(words.notes(groups));
    for finding in &mut out {
        if let Subject::Rule(rule) = finding.id {
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
    let groups = plant.array.as_ref().map_or(&[][..], |array| &array.groups);
    let open = |g: &Group| g.inverter.is_some() && g.strings.parallel() > 1 && g.strings_per_input.is_none();
    !groups.iter().any(open)
}

/// Greatest angle between planes \[°\] at which one sun can give them all nearly the same: between two planes 45° apart it
/// gives each cos 22.5°, 92 %.
const TOGETHER_DEG: f64 = 45.0;

/// The greatest angle between the planes of a drive's strings \[°\], where it is too large for one noon to light them alike.
pub(crate) fn planes_apart(judge: &Judge<'_>, set: usize) -> Option<f64> {
    // At noon a tracker lies as its axis does.
    let normal = |group: &Group| {
        let (tilt_deg, azimuth_deg) = match judge.array().planes[group.plane].facing {
            Facing::Fixed { tilt_deg, azimuth_deg } => (tilt_deg, azimuth_deg),
            Facing::SingleAxis {
                axis_azimuth_deg,
                axis_tilt_deg,
            } => (axis_tilt_deg, axis_azimuth_deg),
        };
        let (tilt, azimuth) = (tilt_deg.to_radians(), azimuth_deg.to_radians());
        [tilt.sin() * azimuth.sin(), tilt.sin() * azimuth.cos(), tilt.cos()]
    };
    let normals: Vec<[f64; 3]> = judge.array().groups.iter().filter(|g| g.set == Some(set)).map(normal).collect();
    let angle_deg = |a: &[f64; 3], b: &[f64; 3]| {
        let cosine: f64 = a.iter().zip(b).map(|(x, y)| x * y).sum();
        cosine.clamp(-1.0, 1.0).acos().to_degrees()
    };
    let pairs = normals.iter().flat_map(|a| normals.iter().map(move |b| angle_deg(a, b)));
    Some(pairs.fold(0.0, f64::max)).filter(|apart_deg| *apart_deg > TOGETHER_DEG)
}
