//! What the rules say of a plan, in words that a person can act on.

use daylift_array::ModuleSheet;
use daylift_plant::{Group, Plant};

use crate::conditions::ModuleVolts;
use crate::judge::{Device, Judge, Judged, Measure};
use crate::plan::PlannedGroup;
use crate::rule::{Rule, Weight};
use crate::speed::SpeedLimit;

/// Something to know before strings are built.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// Whether it forbids, warns or notes.
    pub weight: Weight,
    /// Name of the rule, or of what is noted.
    pub id: &'static str,
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

/// Everything to know of a plan, what weighs most first. `is_confirmed` knows which values are given and confirmed, by key
/// with section.
#[must_use]
pub fn findings(
    judge: &Judge<'_>,
    groups: &[PlannedGroup],
    judged: &Judged,
    is_confirmed: &dyn Fn(&str) -> bool,
) -> Vec<Finding> {
    let words = Words { judge, judged };
    let mut out: Vec<Finding> = judged.measures.iter().filter_map(|m| words.of_measure(m)).collect();
    out.extend(words.notes(groups));
    for finding in &mut out {
        let rule = Rule::ALL.iter().find(|rule| rule.id() == finding.id);
        finding.unconfirmed =
            rule.map_or_else(Vec::new, |rule| unconfirmed(judge.plant(), judged, *rule, is_confirmed));
    }
    out.sort_by_key(|finding| finding.weight);
    out
}

/// Values that the verdict on a plan rests on and that nobody has confirmed: keys with section, each once.
#[must_use]
pub fn rests_on_unconfirmed(plant: &Plant, judged: &Judged, is_confirmed: &dyn Fn(&str) -> bool) -> Vec<String> {
    let mut out: Vec<String> = Vec::new();
    for rule in judged.measures.iter().map(|m| m.rule) {
        for key in unconfirmed(plant, judged, rule, is_confirmed) {
            if !out.contains(&key) {
                out.push(key);
            }
        }
    }
    out
}

/// Of a rule in a plan: a limit that one device lacks counts, also where another has it.
fn unconfirmed(plant: &Plant, judged: &Judged, rule: Rule, is_confirmed: &dyn Fn(&str) -> bool) -> Vec<String> {
    let is_given = judged.measures.iter().filter(|m| m.rule == rule).all(|m| m.is_given);
    let is_limit = |key: &str| key.starts_with("inverter.") || key.starts_with("drive.");
    rule.rests_on()
        .iter()
        .filter(|key| match **key {
            "array.strings_per_input" => !inputs_are_said(plant),
            key => !is_confirmed(key) || (is_limit(key) && !is_given),
        })
        .map(|key| (*key).to_owned())
        .collect()
}

/// Whether the file says, of every group of several strings on an inverter, which share an input.
fn inputs_are_said(plant: &Plant) -> bool {
    let groups = plant.array.as_ref().map_or(&[][..], |array| &array.groups);
    let open = |g: &Group| g.inverter.is_some() && g.strings.parallel() > 1 && g.strings_per_input.is_none();
    !groups.iter().any(open)
}

/// The words for one plan.
struct Words<'a> {
    judge: &'a Judge<'a>,
    judged: &'a Judged,
}

impl Words<'_> {
    fn sheet(&self) -> Option<&ModuleSheet> {
        Some(self.judge.array().groups.first()?.strings.module().sheet())
    }

    /// A broken rule, or one that cannot be judged.
    fn of_measure(&self, m: &Measure) -> Option<Finding> {
        let about = device_name(self.judge.plant(), m.device);
        let finding = |weight, says, remedy| Finding {
            weight,
            id: m.rule.id(),
            about: about.clone(),
            says,
            value: Some(printed_value(m.rule, m.value)),
            limit: m.limit.map(|limit| printed_value(m.rule, limit)),
            unit: m.rule.unit(),
            basis: m.rule.basis(),
            remedy,
            unconfirmed: Vec::new(),
        };
        if m.breaks {
            return Some(finding(m.rule.weight(), says(m), remedy(m, self)));
        }
        if m.is_given {
            return None;
        }
        let key = m
            .rule
            .rests_on()
            .iter()
            .find(|key| key.starts_with("inverter.") || key.starts_with("drive."))?;
        let key = key.split_once('.').map_or(*key, |(_, key)| key);
        let says = match m.limit {
            Some(limit) => format!(
                "`{key}` is not given; judged against {} instead, {}",
                printed(m.rule, limit),
                if m.rule == Rule::ColdVoltageOnInverter {
                    "the upper edge of its MPPT window"
                } else {
                    "which is usual for such a motor"
                }
            ),
            None => format!(
                "`{key}` is not given; {} is not checked against it",
                printed(m.rule, m.value)
            ),
        };
        Some(finding(Weight::Notes, says, format!("copy `{key}` from the datasheet")))
    }

    /// What is good to know of every plan.
    fn notes(&self, groups: &[PlannedGroup]) -> Vec<Finding> {
        let note = |id, about: String, says: String| Finding {
            weight: Weight::Notes,
            id,
            about,
            says,
            value: None,
            limit: None,
            unit: "",
            basis: "",
            remedy: String::new(),
            unconfirmed: Vec::new(),
        };
        let plant = self.judge.plant();
        let mut out = Vec::new();
        for d in &self.judged.drives {
            let about = device_name(plant, Device::Drive(d.set));
            out.push(note(
                "array-over-pump",
                about.clone(),
                format!(
                    "it has {:.1} kWp in an outage, {:.2} times the {:.1} kW that the pump takes at its duty",
                    d.dc_w / 1e3,
                    d.dc_w / d.allowed.greatest_w,
                    d.allowed.greatest_w / 1e3
                ),
            ));
            if d.poles > 0 {
                out.push(note(
                    "poles",
                    about.clone(),
                    match d.poles / 2 {
                        1 => "one MPPT input is moved to it: 2 poles are switched".to_owned(),
                        inputs => {
                            format!(
                                "{inputs} MPPT inputs are moved to it, never joined: {} poles are switched",
                                d.poles
                            )
                        }
                    },
                ));
            }
            out.extend(d.fuse.rating_a.map(|rating_a| {
                note(
                    "string-fuses",
                    about,
                    format!(
                        "{} strings in parallel drive {:.1} A back through one, beyond the modules' {:.0} A: a fuse of {rating_a:.0} A for each string",
                        d.strings, d.fuse.reverse_a, d.fuse.module_a
                    ),
                )
            }));
        }
        for i in &self.judged.inverters {
            let about = device_name(plant, Device::Inverter(i.inverter));
            out.push(note(
                "dc-over-ac",
                about.clone(),
                format!(
                    "it has {:.1} kWp, {:.2} times its rated output, on {}",
                    i.dc_w / 1e3,
                    i.dc_over_ac,
                    counted(i.inputs, "MPPT input")
                ),
            ));
            out.extend(i.fuse.rating_a.map(|rating_a| {
                note(
                    "string-fuses",
                    about,
                    format!(
                        "{} strings on an input drive {:.1} A back through one, beyond the modules' {:.0} A: a fuse of {rating_a:.0} A for each string",
                        i.fuse.parallel, i.fuse.reverse_a, i.fuse.module_a
                    ),
                )
            }));
        }
        let idle: Vec<&str> = groups
            .iter()
            .filter(|g| g.inverter.is_some() && g.set.is_none())
            .map(|g| g.name.as_str())
            .collect();
        if !idle.is_empty() && !self.judged.drives.is_empty() {
            out.push(note(
                "idle-strings",
                idle.join(", "),
                format!(
                    "{:.1} kWp have no drive and stand idle in an outage",
                    self.judged.idle_w / 1e3
                ),
            ));
        }
        out
    }
}

/// So many of something.
fn counted(count: u32, what: &str) -> String {
    match count {
        1 => format!("one {what}"),
        n => format!("{n} {what}s"),
    }
}

/// What a broken rule found.
fn says(m: &Measure) -> String {
    let limit = m.limit.unwrap_or(f64::NAN);
    let (value, limit_text, beyond) = (
        printed(m.rule, m.value),
        printed(m.rule, limit),
        printed(m.rule, m.beyond()),
    );
    let (n, s) = (m.series, m.strings);
    match m.rule {
        Rule::ColdVoltageOnDrive | Rule::ColdVoltageOnInverter => format!(
            "{n} modules in series reach {value} at open circuit on the coldest morning; it bears {limit_text}: {beyond} too much"
        ),
        Rule::ColdVoltageOfModule => format!(
            "{n} in series reach {value} at open circuit on the coldest morning; they bear {limit_text}: {beyond} too much"
        ),
        Rule::MpptFloor => format!(
            "{n} modules in series give their greatest power at {value} at a hot noon; it tracks from {limit_text}: {beyond} too little"
        ),
        Rule::MpptCeiling => format!(
            "{n} modules in series give their greatest power at {value} in cold sun; it tracks to {limit_text}: {beyond} too much, and some power is left"
        ),
        Rule::DriveStart => format!(
            "{n} modules in series reach {value} at open circuit at a hot noon; it starts from {limit_text}: {beyond} too little"
        ),
        Rule::PumpSpeed if s == 0 => "it gets no strings: the pump stands in an outage".to_owned(),
        Rule::PumpSpeed if m.value <= 0.0 => {
            format!("{s} strings of {n} modules cannot run the pump at a hot noon; {limit_text} is wanted")
        }
        Rule::PumpSpeed => format!(
            "{s} strings of {n} modules bring the pump to {value} at a hot noon; {limit_text} is wanted: {beyond} too little"
        ),
        Rule::StringsOnInput => format!("{s} strings share an MPPT input that has room for {limit_text}"),
        Rule::Inputs => format!("the strings take {value} MPPT inputs; it has {limit_text}"),
        Rule::ShortCircuitOnInput => {
            format!(
                "1.25 times the short-circuit current of {s} strings on an input is {value}; it bears {limit_text}: {beyond} too much"
            )
        }
        Rule::ShortCircuitOnDrive => {
            format!(
                "1.25 times the short-circuit current of {s} strings is {value}; it bears {limit_text}: {beyond} too much"
            )
        }
        Rule::CurrentOnInput => {
            format!(
                "{s} strings on an input give {value} at greatest power; it draws {limit_text} at most: up to {beyond} are clipped"
            )
        }
        Rule::CurrentOnDrive => {
            format!(
                "{s} strings give {value} at greatest power; it draws {limit_text} at most: up to {beyond} are clipped"
            )
        }
        Rule::PowerOnInverter | Rule::PowerOnDrive => {
            format!("{value} of modules are on it; {limit_text} may be connected: {beyond} too much")
        }
        Rule::FuseOnInverter | Rule::FuseOnDrive => format!(
            "{s} strings in parallel drive {value} back through one, beyond the modules' {limit_text}, and no fuse is both above 1.5 times their short-circuit current and within what they bear"
        ),
    }
}

/// What would mend a broken rule.
fn remedy(m: &Measure, words: &Words<'_>) -> String {
    let limit = m.limit.unwrap_or(f64::NAN);
    let volts: &ModuleVolts = &words.judge.conditions().module;
    let at_most = |per_module: f64| (limit / per_module).floor();
    let at_least = |per_module: f64| (limit / per_module).ceil();
    let isc_a = words.sheet().map_or(f64::NAN, |sheet| sheet.short_circuit_a);
    let up = |value: f64| value.ceil();
    match m.rule {
        Rule::ColdVoltageOnDrive => format!(
            "at most {:.0} modules in series, or a drive that bears {:.0} V",
            at_most(volts.cold_open_v),
            up(m.value)
        ),
        Rule::ColdVoltageOnInverter => format!(
            "at most {:.0} modules in series, or an inverter that bears {:.0} V",
            at_most(volts.cold_open_v),
            up(m.value)
        ),
        Rule::ColdVoltageOfModule => format!(
            "at most {:.0} modules in series, or modules for a higher system voltage",
            at_most(volts.cold_open_v)
        ),
        Rule::MpptFloor => format!(
            "at least {:.0} modules in series, or an inverter that tracks from {:.0} V",
            at_least(volts.hot_max_power_v),
            m.value.floor()
        ),
        Rule::MpptCeiling => format!(
            "at most {:.0} modules in series, or an inverter that tracks to {:.0} V",
            at_most(volts.cold_max_power_v),
            up(m.value)
        ),
        Rule::DriveStart => format!(
            "at least {:.0} modules in series, or a drive that starts from {:.0} V",
            at_least(volts.hot_open_v),
            m.value.floor()
        ),
        Rule::PumpSpeed => speed_remedy(m, words.judged),
        Rule::StringsOnInput => format!("at most {limit:.0} strings on an input, on more inputs"),
        Rule::Inputs => format!(
            "more strings on an input (`strings_per_input`), or an inverter with {:.0} MPPT inputs",
            m.value
        ),
        Rule::ShortCircuitOnInput => format!(
            "at most {:.0} strings on an input, or an inverter whose inputs bear {:.0} A",
            (limit / (1.25 * isc_a)).floor(),
            up(m.value)
        ),
        Rule::ShortCircuitOnDrive => format!(
            "at most {:.0} strings on the drive, or a drive that bears {:.0} A",
            (limit / (1.25 * isc_a)).floor(),
            up(m.value)
        ),
        Rule::CurrentOnInput => {
            "fewer strings on an input, or bear the loss: the year's energy does not count it".to_owned()
        }
        Rule::CurrentOnDrive => {
            "fewer strings on the drive, or bear the loss: the year's energy does not count it".to_owned()
        }
        Rule::PowerOnInverter => "fewer modules on it, or a larger inverter".to_owned(),
        Rule::PowerOnDrive => "fewer strings on the drive, or a larger drive".to_owned(),
        Rule::FuseOnInverter | Rule::FuseOnDrive => format!(
            "at most {:.0} strings in parallel, or modules that bear a fuse above {:.1} A",
            1.0 + (limit / isc_a).floor(),
            1.5 * isc_a
        ),
    }
}

fn speed_remedy(m: &Measure, judged: &Judged) -> String {
    let on = judged.drives.iter().find(|d| Device::Drive(d.set) == m.device);
    match on.map(|d| d.noon.limit) {
        Some(SpeedLimit::Voltage) => {
            "the bus voltage is short: more modules in series, more strings on this drive, a drive with a boost stage, or a motor of lower voltage"
        }
        Some(SpeedLimit::Power) => "the sun's power is short: more strings on this drive, or a smaller pump",
        Some(SpeedLimit::Nothing) => "the pump does not reach the lift at the frequency that is allowed: see the duty",
        None => "give the drive strings",
    }
    .to_owned()
}
