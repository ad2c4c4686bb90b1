//! Findings on a string plan: violated rules with their remedies, contradictions in the plant, and notes.

use daylift_array::ModuleSheet;
use daylift_lift::rectified_v;
use daylift_plant::{InputKind, SetId};

use crate::conditions::ModuleVolts;
use crate::device::device_name;
use crate::fuse::{Fuse, MIN_RATING_FACTOR};
use crate::judge::{Device, Judge, Judged, Measure, SHORT_CIRCUIT_FACTOR};
use crate::plan::PlannedGroup;
use crate::planes::planes_apart;
use crate::rule::{Rule, Subject, Weight};
use crate::speed::SpeedLimit;

/// Array power over inverter rating above which most of the noon is clipped (usual practice stays below 1.5).
const GREATEST_DC_TO_AC: f64 = 2.0;

/// Something to know before the strings are built.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// Whether it is a violation, a warning or a note.
    pub weight: Weight,
    /// Name of what it concerns: a device, `site`, or string groups.
    pub about: String,
    /// What was found.
    pub found: Found,
    /// Unconfirmed values that it depends on, as keys with their section.
    pub unconfirmed: Vec<String>,
}

/// What was found, with its figures.
#[derive(Debug, Clone, PartialEq)]
pub enum Found {
    /// A rule is violated.
    Broken {
        /// The value and its limit.
        measure: Measure,
        /// What would fix it.
        remedy: Remedy,
    },
    /// A limit is not given by any datasheet.
    NotGiven {
        /// The value, and the substitute for the limit if there is one.
        measure: Measure,
        /// The key that is missing, without its section.
        key: &'static str,
    },
    /// The weather file goes beyond the record given in the plant file.
    RecordExceeded {
        /// True for the coldest air, false for the hottest.
        coldest: bool,
        /// Extreme of the weather file \[°C\].
        weather_c: f64,
        /// Record given in the plant file \[°C\].
        record_c: f64,
    },
    /// No strings go to a drive.
    NoStrings,
    /// No strings feed the inverter.
    NoStringsOnInverter,
    /// A drive's strings are on planes so far apart that the sun never lights them nearly equally.
    PlanesApart {
        /// The angle between them \[°\].
        apart_deg: f64,
    },
    /// The modules on a drive in an outage, compared with its pump.
    ArrayOverPump {
        /// Power of the modules at standard test conditions \[W\].
        dc_w: f64,
        /// DC input power of the drive at the pump's maximum frequency \[W\].
        pump_w: f64,
    },
    /// Poles to switch between inverter and drive.
    Poles {
        /// Number of poles: two for each MPPT input.
        poles: u32,
    },
    /// The fuse that each string needs.
    StringFuses {
        /// The strings in parallel.
        fuse: Fuse,
        /// Rating of the fuse \[A\].
        rating_a: f64,
        /// DC voltage that the fuse must interrupt \[V\].
        interrupts_v: f64,
    },
    /// Mains on the drive's second input holds its bus.
    HeldBus {
        /// The bus voltage that mains holds \[V\].
        held_v: f64,
        /// Open-circuit voltage of the strings at a hot noon \[V\].
        open_v: f64,
        /// Maximum-power voltage of the strings then \[V\].
        max_power_v: f64,
    },
    /// The modules on an inverter, compared with its rated output.
    DcOverAc {
        /// Power of the modules at standard test conditions \[W\].
        dc_w: f64,
        /// This power ÷ rated output.
        ratio: f64,
        /// MPPT inputs taken.
        inputs: u32,
        /// Whether it is so much that most of the noon is clipped.
        clips_noon: bool,
    },
    /// Modules that go to no drive in an outage.
    Idle {
        /// Their power at standard test conditions \[W\].
        idle_w: f64,
    },
}

/// What would fix a violated rule.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Remedy {
    /// Another number of modules in series or of strings, or another device.
    CountOrDevice {
        /// The number: a maximum or a minimum, depending on the rule.
        count: f64,
        /// What the device must withstand, track or start at: V, A or a count, depending on the rule.
        device: f64,
    },
    /// More speed for the pump, with what limits it; `None` where the drive has no strings.
    Speed(Option<SpeedLimit>),
    /// Fewer strings or modules, depending on the rule.
    Fewer,
}

impl Finding {
    /// The rule, or the subject of a finding that is not about a rule.
    #[must_use]
    pub fn id(&self) -> Subject {
        match &self.found {
            Found::Broken { measure, .. } | Found::NotGiven { measure, .. } => Subject::Rule(measure.rule),
            Found::RecordExceeded { .. } => Subject::Record,
            Found::NoStrings | Found::NoStringsOnInverter => Subject::NoStrings,
            Found::PlanesApart { .. } => Subject::PlanesApart,
            Found::ArrayOverPump { .. } => Subject::ArrayOverPump,
            Found::Poles { .. } => Subject::Poles,
            Found::StringFuses { .. } => Subject::StringFuses,
            Found::HeldBus { .. } => Subject::HeldBus,
            Found::DcOverAc { .. } => Subject::DcOverAc,
            Found::Idle { .. } => Subject::IdleStrings,
        }
    }

    /// The value and its limit, for a finding about a rule.
    #[must_use]
    pub fn measure(&self) -> Option<&Measure> {
        match &self.found {
            Found::Broken { measure, .. } | Found::NotGiven { measure, .. } => Some(measure),
            _ => None,
        }
    }

    fn new(weight: Weight, about: &str, found: Found) -> Self {
        Self {
            weight,
            about: about.to_owned(),
            found,
            unconfirmed: Vec::new(),
        }
    }
}

/// Makes the findings on one plan.
pub(crate) struct Facts<'a> {
    pub(crate) judge: &'a Judge<'a>,
    pub(crate) judged: &'a Judged,
}

impl Facts<'_> {
    fn sheet(&self) -> Option<&ModuleSheet> {
        Some(self.judge.array().groups.first()?.strings.module().sheet())
    }

    /// The finding on one measure: a violated rule, or a rule without a limit from a datasheet. `None` if all is well.
    pub(crate) fn of_measure(&self, m: &Measure) -> Option<Finding> {
        let about = device_name(self.judge.plant(), m.device);
        if m.breaks {
            let (measure, remedy) = (*m, self.remedy(m));
            return Some(Finding::new(m.rule.weight(), &about, Found::Broken { measure, remedy }));
        }
        if m.is_given {
            return None;
        }
        let is_limit = |key: &&&str| key.starts_with("inverter.") || key.starts_with("drive.");
        let key: &'static str = m.rule.required_keys().iter().find(is_limit)?;
        let key = key.split_once('.').map_or(key, |(_, key)| key);
        let found = Found::NotGiven { measure: *m, key };
        Some(Finding::new(Weight::Notes, &about, found))
    }

    /// Problems in the plant that no rule covers: exceeded records, drives without strings, planes far apart.
    pub(crate) fn of_plant(&self, groups: &[PlannedGroup]) -> Vec<Finding> {
        let (plant, conditions) = (self.judge.plant(), self.judge.conditions());
        let mut out = Vec::new();
        for (extreme, coldest) in [(&conditions.coldest, true), (&conditions.hottest, false)] {
            if let Some(record_c) = extreme.record_c.filter(|_| extreme.record_is_exceeded()) {
                let weather_c = extreme.weather_c;
                let found = Found::RecordExceeded {
                    coldest,
                    weather_c,
                    record_c,
                };
                out.push(Finding::new(Weight::Warns, "site", found));
            }
        }
        for (inverter, _) in plant.feeders.iter_enumerated() {
            if !groups.iter().any(|g| g.inverter == Some(inverter)) {
                let device = device_name(plant, Device::Inverter(inverter));
                out.push(Finding::new(Weight::Warns, &device, Found::NoStringsOnInverter));
            }
        }
        for (set, of) in plant.sets.iter_enumerated() {
            let device = device_name(plant, Device::Drive(set));
            if of.pump_set.drive().is_some() && !groups.iter().any(|g| g.set == Some(set)) {
                out.push(Finding::new(Weight::Warns, &device, Found::NoStrings));
            }
            let apart = planes_apart(self.judge, set).map(|apart_deg| Found::PlanesApart { apart_deg });
            out.extend(apart.map(|found| Finding::new(Weight::Warns, &device, found)));
        }
        out
    }

    /// Notes, for every plan.
    pub(crate) fn notes(&self, groups: &[PlannedGroup]) -> Vec<Finding> {
        let mut out = Vec::new();
        self.notes_of_drives(&mut out);
        self.notes_of_inverters(groups, &mut out);
        let idle: Vec<&str> = groups
            .iter()
            .filter(|g| g.inverter.is_some() && g.set.is_none())
            .map(|g| g.name.as_str())
            .collect();
        if !idle.is_empty() && !self.judged.drives.is_empty() {
            let idle_w = self.judged.idle_w;
            out.push(Finding::new(Weight::Notes, &idle.join(", "), Found::Idle { idle_w }));
        }
        out
    }

    fn notes_of_drives(&self, out: &mut Vec<Finding>) {
        for d in &self.judged.drives {
            let about = device_name(self.judge.plant(), Device::Drive(d.set));
            let ratio = Found::ArrayOverPump {
                dc_w: d.dc_w,
                pump_w: d.allowed.max_w,
            };
            let poles = (d.poles > 1).then_some(Found::Poles { poles: d.poles });
            let fuses = self.string_fuses(&d.fuse, d.series);
            let notes = [Some(ratio), poles, fuses];
            out.extend(notes.into_iter().flatten().map(|found| Finding::new(Weight::Notes, &about, found)));
            let held = self.held_bus(d.set, d.series);
            out.extend(held.map(|(weight, found)| Finding::new(weight, &about, found)));
        }
    }

    fn notes_of_inverters(&self, groups: &[PlannedGroup], out: &mut Vec<Finding>) {
        for i in &self.judged.inverters {
            let about = device_name(self.judge.plant(), Device::Inverter(i.inverter));
            let clips_noon = i.dc_over_ac > GREATEST_DC_TO_AC;
            let ratio = Found::DcOverAc {
                dc_w: i.dc_w,
                ratio: i.dc_over_ac,
                inputs: i.inputs,
                clips_noon,
            };
            let weight = if clips_noon { Weight::Warns } else { Weight::Notes };
            out.push(Finding::new(weight, &about, ratio));
            let longest = groups.iter().filter(|g| g.inverter == Some(i.inverter)).map(|g| g.strings.series()).max();
            let fuses = self.string_fuses(&i.fuse, longest.unwrap_or(0));
            out.extend(fuses.map(|found| Finding::new(Weight::Notes, &about, found)));
        }
    }

    /// The fuse that each string needs; `None` where none is needed or none fits.
    fn string_fuses(&self, fuse: &Fuse, series: u32) -> Option<Found> {
        let volts = f64::from(series) * self.judge.conditions().module.cold_open_v;
        Some(Found::StringFuses {
            fuse: *fuse,
            rating_a: fuse.rating_a?,
            interrupts_v: volts.ceil(),
        })
    }

    /// Strings on a drive whose bus is held by mains, where they give less because of it. It warns where they give nothing
    /// at a hot noon, or do not reach their maximum power point even at standard test conditions.
    fn held_bus(&self, set: SetId, series: u32) -> Option<(Weight, Found)> {
        let input = self.judge.plant().beside.second_input.as_ref()?;
        let InputKind::Blend { line_voltage_v } = input.kind else {
            return None;
        };
        self.judge.plant().sets[set].pump_set.drive()?;
        let held_v = rectified_v(line_voltage_v);
        let volts = &self.judge.conditions().module;
        let (open_v, max_power_v) = (
            f64::from(series) * volts.hot_open_v,
            f64::from(series) * volts.hot_max_power_v,
        );
        let standard_v = f64::from(series) * self.sheet()?.max_power_v;
        let weight = if open_v <= held_v || standard_v < held_v {
            Weight::Warns
        } else {
            Weight::Notes
        };
        (open_v <= held_v || max_power_v < held_v).then_some((
            weight,
            Found::HeldBus {
                held_v,
                open_v,
                max_power_v,
            },
        ))
    }

    /// What would fix a violated rule.
    fn remedy(&self, m: &Measure) -> Remedy {
        let limit = m.limit.unwrap_or(f64::NAN);
        let volts: &ModuleVolts = &self.judge.conditions().module;
        let at_most = |per_module: f64| (limit / per_module).floor();
        let at_least = |per_module: f64| (limit / per_module).ceil();
        let isc_a = self.sheet().map_or(f64::NAN, |sheet| sheet.short_circuit_a);
        let (count, device) = match m.rule {
            Rule::ColdVoltageOnDrive | Rule::ColdVoltageOnInverter | Rule::ColdVoltageOfModule => {
                (at_most(volts.cold_open_v), m.value.ceil())
            }
            Rule::MpptFloor => (at_least(volts.hot_max_power_v), m.value.floor()),
            Rule::MpptCeiling => (at_most(volts.cold_max_power_v), m.value.ceil()),
            Rule::DriveStart => (at_least(volts.hot_open_v), m.value.floor()),
            Rule::PumpSpeed | Rule::UsefulSpeed => return Remedy::Speed(self.speed_limit(m)),
            Rule::StringsOnInput => (limit, m.value),
            Rule::Inputs => (limit, m.value),
            Rule::ShortCircuitOnInput | Rule::ShortCircuitOnDrive => {
                (at_most(SHORT_CIRCUIT_FACTOR * isc_a), m.value.ceil())
            }
            Rule::FuseOnInverter | Rule::FuseOnDrive => (1.0 + at_most(isc_a), MIN_RATING_FACTOR * isc_a),
            Rule::CurrentOnInput | Rule::CurrentOnDrive | Rule::PowerOnInverter | Rule::PowerOnDrive => {
                return Remedy::Fewer;
            }
        };
        Remedy::CountOrDevice { count, device }
    }

    /// What limits the speed of a drive's pump; `None` where the drive has no strings.
    fn speed_limit(&self, m: &Measure) -> Option<SpeedLimit> {
        let on = self.judged.drives.iter().find(|d| Device::Drive(d.set) == m.device);
        on.map(|d| d.noon.limit)
    }
}
