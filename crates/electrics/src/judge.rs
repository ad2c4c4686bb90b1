//! Checks a string plan against every rule.

use std::cell::RefCell;
use std::collections::HashMap;
use std::rc::Rc;

use daylift_array::{Module, OnBus};
use daylift_plant::{Array, BySet, InverterId, Plant, Set, SetId};

use crate::conditions::Conditions;
use crate::fuse::Fuse;
use crate::plan::PlannedGroup;
use crate::rule::{Rule, Weight};
use crate::speed::{Allowed, Speed, speed};
use crate::tally::{InverterTally, Tally};

/// Factor on the datasheet's short-circuit current (IEC 62548, from memory).
pub(crate) const SHORT_CIRCUIT_FACTOR: f64 = 1.25;
/// Maximum DC voltage of a drive whose datasheet does not give it: (motor voltage up to \[V\], drive's DC voltage \[V\]).
/// Usual practice: the low end of what drives of the 230 V and the 400 V class state.
const USUAL_DRIVE_LIMITS_V: [(f64, f64); 2] = [(240.0, 400.0), (500.0, 800.0)];

/// What a measure is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Device {
    /// The modules.
    Module,
    /// An inverter.
    Inverter(InverterId),
    /// The drive of a pump set.
    Drive(SetId),
}

/// A value and its limit, in V, A, Hz, W or a count.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Measure {
    /// The rule.
    pub rule: Rule,
    /// What it is about.
    pub device: Device,
    /// Modules in series of the strings in question.
    pub series: u32,
    /// Number of strings in question; 0 where the number does not matter.
    pub strings: u32,
    /// The value.
    pub value: f64,
    /// Its limit; `None` where it is not given and has no substitute.
    pub limit: Option<f64>,
    /// Whether the limit is given; otherwise `limit` is a substitute or `None`.
    pub is_given: bool,
    /// Whether the rule is violated.
    pub breaks: bool,
}

impl Measure {
    /// By how much the value is beyond its limit; 0 where the rule is kept.
    #[must_use]
    pub fn beyond(&self) -> f64 {
        match self.limit {
            Some(limit) if self.breaks => (self.value - limit).abs(),
            _ => 0.0,
        }
    }

    /// Whether the violation means: do not build.
    #[must_use]
    pub fn forbids(&self) -> bool {
        self.breaks && self.rule.weight() == Weight::Forbids
    }
}

/// Strings while they are on a drive.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OnDrive {
    /// The pump set.
    pub set: SetId,
    /// Modules in series.
    pub series: u32,
    /// Strings in parallel.
    pub strings: u32,
    /// Power of the modules at standard test conditions \[W\].
    pub dc_w: f64,
    /// What pump, well and drive allow.
    pub allowed: Allowed,
    /// Speed of the pump at a hot noon.
    pub noon: Speed,
    /// String fuses.
    pub fuse: Fuse,
    /// Poles that switch the strings from inverter to drive: two for each MPPT input.
    pub poles: u32,
}

/// Strings while they are on an inverter.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OnInverter {
    /// The inverter.
    pub inverter: InverterId,
    /// Number of strings.
    pub strings: u32,
    /// Power of the modules at standard test conditions \[W\].
    pub dc_w: f64,
    /// This power ÷ rated AC power.
    pub dc_over_ac: f64,
    /// MPPT inputs taken.
    pub inputs: u32,
    /// String fuses for the fullest input.
    pub fuse: Fuse,
}

/// A plan checked against the rules.
#[derive(Debug, Clone, PartialEq)]
pub struct Judged {
    /// One measure for each rule that applies and each device, in the order of the rules.
    pub measures: Vec<Measure>,
    /// Strings on each drive.
    pub drives: Vec<OnDrive>,
    /// Strings on each inverter.
    pub inverters: Vec<OnInverter>,
    /// Power at standard test conditions \[W\] of the strings that have no drive: they are idle in an outage.
    pub idle_w: f64,
}

impl Judged {
    /// Whether no rule forbids it.
    #[must_use]
    pub fn suits(&self) -> bool {
        !self.measures.iter().any(Measure::forbids)
    }
}

/// Checks string plans of one plant.
#[derive(Debug)]
pub struct Judge<'p> {
    plant: &'p Plant,
    array: &'p Array,
    conditions: Conditions,
    allowed: BySet<Option<Allowed>>,
    /// Results already calculated for strings on drives.
    on_drives: RefCell<DriveCases>,
}

/// By pump set, modules in series and number of strings.
type DriveCases = HashMap<(SetId, u32, u32), Option<Rc<DriveCase>>>;

/// Strings on a drive, checked; the poles are added in [`Judge::judge_tally`].
#[derive(Debug)]
struct DriveCase {
    measures: Vec<Measure>,
    on: OnDrive,
}

impl<'p> Judge<'p> {
    /// Prepares the checks for a plant and its array.
    #[must_use]
    pub fn new(plant: &'p Plant, array: &'p Array) -> Self {
        let conditions = Conditions::of(plant, array);
        let allowed = |set: &Set| Allowed::of(&set.pump_set, conditions.hottest.air_c);
        Self {
            plant,
            array,
            allowed: plant.sets.iter().map(allowed).collect(),
            conditions,
            on_drives: RefCell::default(),
        }
    }

    /// The plant.
    #[must_use]
    pub fn plant(&self) -> &'p Plant {
        self.plant
    }

    /// Its array.
    #[must_use]
    pub fn array(&self) -> &'p Array {
        self.array
    }

    /// The temperatures and the sun at which it judges.
    #[must_use]
    pub fn conditions(&self) -> &Conditions {
        &self.conditions
    }

    /// Checks string groups against every rule.
    #[must_use]
    pub fn judge(&self, groups: &[PlannedGroup]) -> Judged {
        self.judge_tally(&Tally::of(groups))
    }

    /// The same, for the numbers of strings on each device.
    pub(crate) fn judge_tally(&self, tally: &Tally) -> Judged {
        let mut out = Judged {
            measures: Vec::new(),
            drives: Vec::new(),
            inverters: Vec::new(),
            idle_w: f64::from(tally.idle_modules) * self.module_w(),
        };
        out.measures.extend(tally.longest().map(|longest| self.module_in_the_cold(longest)));
        for drive in &tally.drives {
            if let Some(case) = self.on_drive(drive.set, drive.series, drive.strings) {
                out.measures.extend_from_slice(&case.measures);
                out.drives.push(OnDrive {
                    poles: 2 * drive.inputs,
                    ..case.on
                });
            }
        }
        for inverter in &tally.inverters {
            self.judge_inverter(inverter, &mut out);
        }
        out.drives.sort_by_key(|d| d.set);
        out.inverters.sort_by_key(|i| i.inverter);
        out.measures.sort_by_key(|m| (m.rule, m.device));
        out
    }

    /// The rules that depend only on the number of modules in series, for the given inverters and drives.
    #[must_use]
    pub fn judge_length(&self, series: u32, inverters: &[InverterId], sets: &[SetId]) -> Vec<Measure> {
        let mut out = vec![self.module_in_the_cold(series)];
        for set in sets {
            self.push_length_on_drive(*set, series, &mut out);
        }
        for inverter in inverters {
            self.push_length_on_inverter(*inverter, (series, series), &mut out);
        }
        out.sort_by_key(|m| (m.rule, m.device));
        out
    }

    /// Minimum frequency at which a pump set can run at a hot noon \[Hz\]; `None` without a drive.
    #[must_use]
    pub fn start_hz(&self, set: SetId) -> Option<f64> {
        Some(self.allowed[set].as_ref()?.start_hz)
    }

    /// Minimum frequency that is useful at a hot noon \[Hz\]; `None` without a drive.
    #[must_use]
    pub fn useful_hz(&self, set: SetId) -> Option<f64> {
        let allowed = self.allowed[set].as_ref()?;
        Some((self.plant.design.strings.useful_speed * allowed.max_hz).max(allowed.start_hz))
    }

    /// Speed of a pump set on strings of one length, at an irradiance \[W/m²\] and a cell temperature \[°C\]. `None` without
    /// a drive.
    #[must_use]
    pub fn speed_at(&self, set: SetId, series: u32, strings: u32, w_m2: f64, cell_c: f64) -> Option<Speed> {
        let bus = self.on_bus(series, strings, w_m2, cell_c)?;
        speed(&self.plant.sets[set].pump_set, self.allowed[set].as_ref()?, &[bus])
    }

    /// Strings of one length at an irradiance \[W/m²\] and a cell temperature \[°C\], with the soiling of the dirtiest month.
    /// `None` where such strings are not possible.
    #[must_use]
    pub fn on_bus(&self, series: u32, strings: u32, w_m2: f64, cell_c: f64) -> Option<OnBus> {
        let any = &self.array.groups.first()?.strings;
        let group = any.in_strings(series, strings).ok()?;
        let curve = group.curve(w_m2, cell_c, self.conditions.dirtiest_month);
        Some(OnBus::new(curve, group.cable()))
    }

    fn module_in_the_cold(&self, series: u32) -> Measure {
        let limits = self.module().map(|module| *module.limits()).unwrap_or_default();
        let value = f64::from(series) * self.conditions.module.cold_open_v;
        Strings::of(Device::Module, series).at(Rule::ColdVoltageOfModule, value, Some(limits.system_v))
    }

    fn push_length_on_drive(&self, set: SetId, series: u32, out: &mut Vec<Measure>) {
        let pump_set = &self.plant.sets[set].pump_set;
        let Some(drive) = pump_set.drive() else { return };
        let (n, volts, strings) = (
            f64::from(series),
            &self.conditions.module,
            Strings::of(Device::Drive(set), series),
        );
        let motor_v = pump_set.motor().rated_voltage_v();
        let usual_v = USUAL_DRIVE_LIMITS_V
            .iter()
            .find(|(up_to_v, _)| motor_v <= *up_to_v)
            .map(|(_, dc_v)| *dc_v);
        let cold_v = n * volts.cold_open_v;
        out.push(strings.at_or_usual(Rule::ColdVoltageOnDrive, cold_v, drive.limits().greatest_dc_v, usual_v));
        out.push(strings.at(Rule::DriveStart, n * volts.hot_open_v, drive.limits().start_dc_v));
    }

    /// `lengths`: modules in series of the shortest and the longest string on the inverter.
    fn push_length_on_inverter(&self, inverter: InverterId, lengths: (u32, u32), out: &mut Vec<Measure>) {
        let inverter_of = &self.plant.feeders[inverter].inverter;
        let (sheet, volts) = (inverter_of.sheet(), &self.conditions.module);
        let short = Strings::of(Device::Inverter(inverter), lengths.0);
        let long = Strings::of(Device::Inverter(inverter), lengths.1);
        let (least, most) = (f64::from(lengths.0), f64::from(lengths.1));
        let cold_v = most * volts.cold_open_v;
        let limit_v = inverter_of.limits().greatest_dc_v;
        out.push(long.at_or_usual(Rule::ColdVoltageOnInverter, cold_v, limit_v, Some(sheet.mppt_max_v)));
        out.push(short.at(Rule::MpptFloor, least * volts.hot_max_power_v, Some(sheet.mppt_min_v)));
        out.push(long.at(Rule::MpptCeiling, most * volts.cold_max_power_v, Some(sheet.mppt_max_v)));
    }

    /// Strings on a drive, checked once for each length and number of strings; `None` without a drive.
    fn on_drive(&self, set: SetId, series: u32, strings: u32) -> Option<Rc<DriveCase>> {
        let key = (set, series, strings);
        if let Some(known) = self.on_drives.borrow().get(&key) {
            return known.clone();
        }
        let made = self.drive_case(set, series, strings).map(Rc::new);
        self.on_drives.borrow_mut().insert(key, made.clone());
        made
    }

    fn drive_case(&self, set: SetId, series: u32, count: u32) -> Option<DriveCase> {
        let limits = self.plant.sets[set].pump_set.drive()?.limits();
        let allowed = self.allowed[set]?;
        let module = self.module()?;
        let noon = self.speed_at(
            set,
            series,
            count,
            self.conditions.noon_w_m2,
            self.conditions.noon_cell_c,
        )?;
        let mut measures = Vec::new();
        self.push_length_on_drive(set, series, &mut measures);
        let parallel = f64::from(count);
        let strings = Strings {
            strings: count,
            ..Strings::of(Device::Drive(set), series)
        };
        let dc_w = parallel * f64::from(series) * self.module_w();
        let fuse = Fuse::of(count, module.sheet().short_circuit_a, module.limits().greatest_fuse_a);
        let short_circuit_a = SHORT_CIRCUIT_FACTOR * parallel * module.sheet().short_circuit_a;
        let current_a = parallel * module.sheet().max_power_a;
        measures.extend([
            strings.at(Rule::PumpSpeed, noon.hz, self.start_hz(set)),
            strings.at(Rule::UsefulSpeed, noon.hz, self.useful_hz(set)),
            strings.at(Rule::ShortCircuitOnDrive, short_circuit_a, limits.dc_short_circuit_a),
            strings.at(Rule::CurrentOnDrive, current_a, limits.dc_current_a),
            strings.at(Rule::PowerOnDrive, dc_w, limits.greatest_dc_w),
            strings.fused(Rule::FuseOnDrive, &fuse),
        ]);
        let on = OnDrive {
            set,
            series,
            strings: count,
            dc_w,
            allowed,
            noon,
            fuse,
            poles: 0,
        };
        Some(DriveCase { measures, on })
    }

    fn judge_inverter(&self, tally: &InverterTally, out: &mut Judged) {
        let Some(module) = self.module() else { return };
        self.push_length_on_inverter(tally.inverter, (tally.shortest, tally.longest), &mut out.measures);
        let inverter_of = &self.plant.feeders[tally.inverter].inverter;
        let limits = inverter_of.limits();
        let dc_w = f64::from(tally.modules) * self.module_w();
        let fuse = Fuse::of(
            tally.on_input,
            module.sheet().short_circuit_a,
            module.limits().greatest_fuse_a,
        );
        let sharing = f64::from(tally.on_input);
        let whole = Strings::of(Device::Inverter(tally.inverter), tally.longest);
        let input = Strings {
            strings: tally.on_input,
            ..whole
        };
        let short_circuit_a = SHORT_CIRCUIT_FACTOR * sharing * module.sheet().short_circuit_a;
        let current_a = sharing * module.sheet().max_power_a;
        out.measures.extend([
            input.at(Rule::StringsOnInput, sharing, limits.strings_per_input.map(f64::from)),
            whole.at(Rule::Inputs, f64::from(tally.inputs), limits.inputs.map(f64::from)),
            input.at(Rule::ShortCircuitOnInput, short_circuit_a, limits.input_short_circuit_a),
            input.at(Rule::CurrentOnInput, current_a, limits.input_current_a),
            whole.at(Rule::PowerOnInverter, dc_w, limits.greatest_dc_w),
            input.fused(Rule::FuseOnInverter, &fuse),
        ]);
        out.inverters.push(OnInverter {
            inverter: tally.inverter,
            strings: tally.strings,
            dc_w,
            dc_over_ac: dc_w / inverter_of.rated_w(),
            inputs: tally.inputs,
            fuse,
        });
    }

    /// The module; all groups have the same.
    fn module(&self) -> Option<&'p Module> {
        self.array.groups.first().map(|group| group.strings.module())
    }

    /// Its power at standard test conditions \[W\].
    fn module_w(&self) -> f64 {
        self.module().map_or(0.0, |module| module.sheet().max_power_w())
    }
}

/// The strings that a rule looks at.
#[derive(Debug, Clone, Copy)]
struct Strings {
    device: Device,
    series: u32,
    strings: u32,
}

impl Strings {
    fn of(device: Device, series: u32) -> Self {
        Self {
            device,
            series,
            strings: 0,
        }
    }

    /// A value and its limit, if there is one.
    fn at(self, rule: Rule, value: f64, limit: Option<f64>) -> Measure {
        let breaks = limit.is_some_and(|limit| {
            if rule.is_ceiling() {
                value > limit
            } else {
                value < limit
            }
        });
        Measure {
            rule,
            device: self.device,
            series: self.series,
            strings: self.strings,
            value,
            limit,
            is_given: limit.is_some(),
            breaks,
        }
    }

    /// The same, with a substitute for a limit that is not given.
    fn at_or_usual(self, rule: Rule, value: f64, limit: Option<f64>, usual: Option<f64>) -> Measure {
        Measure {
            is_given: limit.is_some(),
            ..self.at(rule, value, limit.or(usual))
        }
    }

    /// The reverse current and the module's maximum fuse rating. The rule is violated only where a fuse is needed and no
    /// rating is suitable.
    fn fused(self, rule: Rule, fuse: &Fuse) -> Measure {
        Measure {
            breaks: fuse.is_impossible(),
            ..self.at(rule, fuse.reverse_a, Some(fuse.module_a))
        }
    }
}
