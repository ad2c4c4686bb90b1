//! Findings in words.

use daylift_array::ModuleSheet;
use daylift_lift::rectified_v;
use daylift_plant::{InputKind, Plant};

use crate::conditions::ModuleVolts;
use crate::findings::{Finding, device_name, planes_apart, printed, printed_value};
use crate::fuse::{Fuse, LEAST};
use crate::judge::{BRIGHT, Device, Judge, Judged, Measure};
use crate::layouts::Change;
use crate::plan::PlannedGroup;
use crate::rule::{Rule, Subject, Weight};
use crate::speed::SpeedLimit;

/// The words for one plan.
pub(crate) struct Words<'a> {
    pub(crate) judge: &'a Judge<'a>,
    pub(crate) judged: &'a Judged,
}

impl Words<'_> {
    fn sheet(&self) -> Option<&ModuleSheet> {
        Some(self.judge.array().groups.first()?.strings.module().sheet())
    }

    /// A broken rule, or one that cannot be judged.
    pub(crate) fn of_measure(&self, m: &Measure) -> Option<Finding> {
        let about = device_name(self.judge.plant(), m.device);
        let finding = |weight, says, remedy| Finding {
            weight,
            id: Subject::Rule(m.rule),
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
                "`{key}` is not given; judged against {}, {}",
                printed(m.rule, limit),
                if m.rule == Rule::ColdVoltageOnInverter {
                    "the upper edge of its MPPT window"
                } else {
                    "what such drives usually bear"
                }
            ),
            None => format!(
                "not checked: `{key}` is not given; it would have to be {} or {}",
                printed(m.rule, m.value),
                if m.rule.is_ceiling() { "more" } else { "less" }
            ),
        };
        Some(finding(Weight::Notes, says, format!("copy `{key}` from the datasheet")))
    }

    /// What the plant itself says and the rules cannot see.
    pub(crate) fn of_plant(&self, groups: &[PlannedGroup]) -> Vec<Finding> {
        let (plant, conditions) = (self.judge.plant(), self.judge.conditions());
        let mut out = Vec::new();
        for (extreme, key, more) in [
            (&conditions.coldest, "record_low_c", "colder"),
            (&conditions.hottest, "record_high_c", "hotter"),
        ] {
            if let Some(record_c) = extreme.record_c.filter(|_| extreme.record_is_beaten()) {
                let says = format!(
                    "the weather file is {more} ({:.1} °C) than what is given as the record ({record_c:.1} °C), which cannot be right",
                    extreme.weather_c
                );
                out.push(told(
                    Weight::Warns,
                    Subject::Record,
                    "site".to_owned(),
                    says,
                    format!("ask the nearest weather service, and correct `{key}`"),
                ));
            }
        }
        for (set, of) in plant.sets.iter().enumerate() {
            let device = device_name(plant, Device::Drive(set));
            if of.pump_set.drive().is_some() && !groups.iter().any(|g| g.set == Some(set)) {
                let says = "no strings go to it: its pump stands while the grid is away".to_owned();
                out.push(told(
                    Weight::Warns,
                    Subject::NoStrings,
                    device.clone(),
                    says,
                    "give it strings, or leave it out".to_owned(),
                ));
            }
            if let Some(apart_deg) = planes_apart(self.judge, set) {
                let says = format!(
                    "its strings lie on planes {apart_deg:.0}° apart; no sun lights both alike, and its speed was judged as if one did"
                );
                out.push(told(
                    Weight::Warns,
                    Subject::PlanesApart,
                    device,
                    says,
                    "judge its speed by the year (`daylift run`)".to_owned(),
                ));
            }
        }
        out
    }

    /// What is good to know of every plan.
    pub(crate) fn notes(&self, groups: &[PlannedGroup]) -> Vec<Finding> {
        let plant = self.judge.plant();
        let note = |id, about: &str, says| told(Weight::Notes, id, about.to_owned(), says, String::new());
        let mut out = Vec::new();
        for d in &self.judged.drives {
            let about = device_name(plant, Device::Drive(d.set));
            let ratio = format!(
                "it has {:.1} kWp in an outage, {:.2} times the {:.1} kW that the pump takes at its duty",
                d.dc_w / 1e3,
                d.dc_w / d.allowed.greatest_w,
                d.allowed.greatest_w / 1e3
            );
            out.push(note(Subject::ArrayOverPump, &about, ratio));
            let poles = match d.poles / 2 {
                0 => None,
                1 => Some("the strings of one MPPT input go to it in an outage: 2 poles are switched".to_owned()),
                inputs => Some(format!(
                    "the strings of {inputs} MPPT inputs go to it in an outage; plus and minus of each are cut off from the inverter, so that the inputs never meet there: {} poles are switched",
                    d.poles
                )),
            };
            out.extend(poles.map(|says| note(Subject::Poles, &about, says)));
            out.extend(self.fuse_text(&d.fuse, d.series).map(|says| note(Subject::StringFuses, &about, says)));
            out.extend(self.held_bus(d.set, d.series).map(|says| note(Subject::HeldBus, &about, says)));
        }
        for i in &self.judged.inverters {
            let about = device_name(plant, Device::Inverter(i.inverter));
            let ratio = format!(
                "it has {:.1} kWp, {:.2} times its rated output, on {}",
                i.dc_w / 1e3,
                i.dc_over_ac,
                counted(i.inputs, "MPPT input")
            );
            out.push(note(Subject::DcOverAc, &about, ratio));
            let longest = groups.iter().filter(|g| g.inverter == Some(i.inverter)).map(|g| g.strings.series()).max();
            let fuses = self.fuse_text(&i.fuse, longest.unwrap_or(0));
            out.extend(fuses.map(|says| note(Subject::StringFuses, &about, says)));
        }
        let idle: Vec<&str> = groups
            .iter()
            .filter(|g| g.inverter.is_some() && g.set.is_none())
            .map(|g| g.name.as_str())
            .collect();
        if !idle.is_empty() && !self.judged.drives.is_empty() {
            let says = format!(
                "{:.1} kWp go to no drive and stand idle in an outage",
                self.judged.idle_w / 1e3
            );
            out.push(note(Subject::IdleStrings, &idle.join(", "), says));
        }
        out
    }

    /// The fuse that each string needs.
    fn fuse_text(&self, fuse: &Fuse, series: u32) -> Option<String> {
        let rating_a = fuse.rating_a?;
        let volts = f64::from(series) * self.judge.conditions().module.cold_open_v;
        Some(format!(
            "if one of {} strings is faulty, the others push {:.1} A back through it, and modules bear {:.0} A: a fuse of {rating_a:.0} A for {:.0} V DC or more in each string",
            fuse.parallel,
            fuse.reverse_a,
            fuse.module_a,
            volts.ceil()
        ))
    }

    /// Strings beside mains that holds the drive's bus.
    fn held_bus(&self, set: usize, series: u32) -> Option<String> {
        let input = self.judge.plant().beside.second_input.as_ref()?;
        let InputKind::Blend { line_voltage_v } = input.kind else {
            return None;
        };
        self.judge.plant().sets[set].pump_set.drive()?;
        let held_v = rectified_v(line_voltage_v);
        let volts = &self.judge.conditions().module;
        let (open_v, best_v) = (
            f64::from(series) * volts.hot_open_v,
            f64::from(series) * volts.hot_max_power_v,
        );
        if open_v <= held_v {
            return Some(format!(
                "mains on its second input holds the bus at {held_v:.0} V; at a hot noon the strings reach {open_v:.0} V open and give nothing beside it"
            ));
        }
        (best_v < held_v).then(|| {
            format!(
                "mains on its second input holds the bus at {held_v:.0} V; at a hot noon the strings give most at {best_v:.0} V, and less beside it"
            )
        })
    }
}

fn told(weight: Weight, id: Subject, about: String, says: String, remedy: String) -> Finding {
    Finding {
        weight,
        id,
        about,
        says,
        value: None,
        limit: None,
        unit: "",
        basis: "",
        remedy,
        unconfirmed: Vec::new(),
    }
}

impl Change {
    /// What would have to change, in words.
    #[must_use]
    pub fn says(&self, plant: &Plant) -> String {
        let m = &self.measure;
        let (name, value) = (device_name(plant, m.device), printed(m.rule, m.value));
        let limit = m.limit.map_or_else(String::new, |limit| format!(", not {}", printed(m.rule, limit)));
        let then = format!("then strings of {} suit", self.series);
        match m.rule {
            Rule::ColdVoltageOnDrive | Rule::ColdVoltageOnInverter => {
                format!("{name}: one that bears {value} DC{limit}; {then}")
            }
            Rule::ColdVoltageOfModule => format!("modules for a system voltage of {value}{limit}; {then}"),
            Rule::MpptFloor => format!("{name}: one that tracks from {value}{limit}; {then}"),
            Rule::DriveStart => format!("{name}: one that starts from {value}{limit}; {then}"),
            Rule::PumpSpeed => match self.speed_limit {
                Some(SpeedLimit::Voltage) => format!(
                    "{name}: one with a boost stage, which makes the bus voltage that strings of {} lack (they bring the pump to {value}{limit}), or a motor of lower voltage",
                    self.series
                ),
                Some(SpeedLimit::Power) => format!(
                    "{name}: a smaller pump or more modules; all strings of {} bring the pump to {value}{limit}",
                    self.series
                ),
                _ => format!("{name}: a pump that reaches the lift at the frequency that is allowed"),
            },
            Rule::StringsOnInput => {
                format!("{name}: one whose MPPT inputs have room for {value} strings{limit}; {then}")
            }
            Rule::Inputs => format!("{name}: one with {value} MPPT inputs{limit}; {then}"),
            Rule::ShortCircuitOnInput | Rule::ShortCircuitOnDrive => {
                format!("{name}: one that bears a short-circuit current of {value}{limit}; {then}")
            }
            Rule::PowerOnInverter | Rule::PowerOnDrive => {
                format!("{name}: one to which {value} may be connected{limit}; {then}")
            }
            Rule::FuseOnInverter | Rule::FuseOnDrive => {
                format!(
                    "modules that bear a greater fuse in series than {:.0} A; {then}",
                    m.limit.unwrap_or(f64::NAN)
                )
            }
            Rule::MpptCeiling | Rule::CurrentOnInput | Rule::CurrentOnDrive => String::new(),
        }
    }
}

/// A value with its unit, with a figure more where it comes within a unit of its limit.
fn finely(rule: Rule, value: f64, m: &Measure) -> String {
    let close = rule.unit() != "" && m.breaks && printed_value(rule, m.beyond()) < 1.0;
    if close {
        format!("{:.2} {}", printed_value(rule, value), rule.unit())
    } else {
        printed(rule, value)
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
        finely(m.rule, m.value, m),
        finely(m.rule, limit, m),
        finely(m.rule, m.beyond(), m),
    );
    let (n, s) = (counted(m.series, "module"), counted(m.strings, "string"));
    match m.rule {
        Rule::ColdVoltageOnDrive | Rule::ColdVoltageOnInverter => format!(
            "{n} in series reach {value} at open circuit on the coldest morning; {} {limit_text}: {beyond} too much",
            if m.is_given {
                "it bears"
            } else {
                "`greatest_dc_v` is not given, and such a device usually bears"
            }
        ),
        Rule::ColdVoltageOfModule => format!(
            "{n} in series reach {value} at open circuit on the coldest morning; they bear {limit_text}: {beyond} too much"
        ),
        Rule::MpptFloor => format!(
            "{n} in series give their greatest power at {value} at a hot noon; it tracks from {limit_text}: {beyond} too little"
        ),
        Rule::MpptCeiling => format!(
            "{n} in series give their greatest power at {value} in cold sun; it tracks to {limit_text}: {beyond} too much, and some power is lost"
        ),
        Rule::DriveStart => format!(
            "{n} in series reach {value} at open circuit at a hot noon; it starts from {limit_text}: {beyond} too little"
        ),
        Rule::PumpSpeed if m.strings == 0 => "it gets no strings: the pump stands in an outage".to_owned(),
        Rule::PumpSpeed if m.value <= 0.0 => {
            format!("{s} of {n} cannot run the pump at a hot noon; {limit_text} is wanted")
        }
        Rule::PumpSpeed => {
            format!("{s} of {n} bring the pump to {value} at a hot noon; {limit_text} is wanted: {beyond} too little")
        }
        Rule::StringsOnInput => format!("{s} share an MPPT input that has room for {limit_text}"),
        Rule::Inputs => format!("the strings take {value} MPPT inputs; it has {limit_text}"),
        Rule::ShortCircuitOnInput => {
            format!(
                "1.25 times the short-circuit current of {s} on an input is {value}; it bears {limit_text}: {beyond} too much"
            )
        }
        Rule::ShortCircuitOnDrive => {
            format!("1.25 times the short-circuit current of {s} is {value}; it bears {limit_text}: {beyond} too much")
        }
        Rule::CurrentOnInput => {
            format!(
                "{s} on an input give {value} at greatest power; it draws {limit_text} at most: up to {beyond} are clipped"
            )
        }
        Rule::CurrentOnDrive => {
            format!("{s} give {value} at greatest power; it draws {limit_text} at most: up to {beyond} are clipped")
        }
        Rule::PowerOnInverter | Rule::PowerOnDrive => {
            format!("{value} of modules are on it; {limit_text} may be connected: {beyond} too much")
        }
        Rule::FuseOnInverter | Rule::FuseOnDrive => format!(
            "if one of {s} is faulty, the others push {value} back through it, and modules bear {limit_text}; no fuse size fits: it would have to be above 1.5 times the short-circuit current"
        ),
    }
}

/// What would mend a broken rule.
fn remedy(m: &Measure, words: &Words<'_>) -> String {
    let limit = m.limit.unwrap_or(f64::NAN);
    let volts: &ModuleVolts = &words.judge.conditions().module;
    let at_most = |per_module: f64| match (limit / per_module).floor() {
        none if none < 1.0 => "no string of these modules fits".to_owned(),
        most => format!("at most {most:.0} in series"),
    };
    let at_least = |per_module: f64| format!("at least {:.0} in series", (limit / per_module).ceil());
    let isc_a = words.sheet().map_or(f64::NAN, |sheet| sheet.short_circuit_a);
    let up = |value: f64| value.ceil();
    match m.rule {
        Rule::ColdVoltageOnDrive => format!(
            "{}, or a drive that bears {:.0} V",
            at_most(volts.cold_open_v),
            up(m.value)
        ),
        Rule::ColdVoltageOnInverter => format!(
            "{}, or an inverter that bears {:.0} V",
            at_most(volts.cold_open_v),
            up(m.value)
        ),
        Rule::ColdVoltageOfModule => format!("{}, or modules for a higher system voltage", at_most(volts.cold_open_v)),
        Rule::MpptFloor => format!(
            "{}, or an inverter that tracks from {:.0} V",
            at_least(volts.hot_max_power_v),
            m.value.floor()
        ),
        Rule::MpptCeiling => format!(
            "{}, or an inverter that tracks to {:.0} V",
            at_most(volts.cold_max_power_v),
            up(m.value)
        ),
        Rule::DriveStart => format!(
            "{}, or a drive that starts from {:.0} V",
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
            (limit / (BRIGHT * isc_a)).floor(),
            up(m.value)
        ),
        Rule::ShortCircuitOnDrive => format!(
            "at most {:.0} strings on the drive, or a drive that bears {:.0} A",
            (limit / (BRIGHT * isc_a)).floor(),
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
            LEAST * isc_a
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
        None => "connect strings to this drive",
    }
    .to_owned()
}
