//! The finished answer on strings as other programs read it: `daylift.strings.1`.
//!
//! Voltages in V, currents in A, frequencies in Hz, powers of modules in kWp, energies in kWh, volumes in m³. Every key is
//! always present; a value that does not apply is null.

use daylift_electrics::{Change, Conditions, Extreme, Finding, Length, ModuleField, OperatingPoint, Refused, Weight};
use daylift_plant::{Arrangement, Array, Plant};
use daylift_plant_file::WrittenGroup;
use schemars::JsonSchema;
use serde::Serialize;

use super::layouts::LayoutRow;
use super::measure::MeasureRow;
use crate::by_id::maybe_by_id;

/// Name and version of the layout of [`StringsAnswer`].
pub const STRINGS_SCHEMA: &str = "daylift.strings.1";

/// Whether the strings can be built, and which layouts suit; findings and changes as facts, or as a reader puts them into
/// words.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct StringsAnswer<F = Finding, C = Changed> {
    /// Name and version of this layout.
    pub schema: String,
    /// Name of the plant.
    pub plant: String,
    /// Length of a step of the years, in s.
    pub step_s: u32,
    /// Arrangement whose year ranks the layouts; null where the plant has none with its array.
    #[serde(serialize_with = "maybe_by_id")]
    #[schemars(with = "Option<String>")]
    pub arrangement: Option<Arrangement>,
    /// The weather that strings are judged in.
    pub conditions: ConditionsRow,
    /// The verdict on the plant's own strings.
    pub can_be_built: CanBeBuilt,
    /// What is found of the plant's own strings, what weighs most first.
    pub findings: Vec<F>,
    /// Every rule that the plant's own strings were held against, kept or broken.
    pub measures: Vec<MeasureRow>,
    /// Inverters and drives that strings link, and the layouts of the modules between them.
    pub sub_arrays: Vec<SubArrayRow<C>>,
}

/// The verdict in a word.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Verdict {
    /// Something forbids it.
    Forbidden,
    /// Nothing forbids it, and something that it rests on is not confirmed.
    Assumed,
    /// Nothing forbids it, and what it rests on is confirmed.
    Good,
}

/// The verdict on a plant's own strings.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct CanBeBuilt {
    /// The verdict.
    pub verdict: Verdict,
    /// Findings that forbid.
    pub forbids: usize,
    /// Findings that warn.
    pub warns: usize,
    /// Values that it rests on and that nobody has confirmed, as keys with their section.
    pub unconfirmed: Vec<String>,
}

impl CanBeBuilt {
    /// From findings and what they rest on.
    pub(super) fn of(findings: &[Finding], unconfirmed: Vec<String>) -> Self {
        let count = |weight| findings.iter().filter(|finding| finding.weight == weight).count();
        let forbids = count(Weight::Forbids);
        Self {
            verdict: match (forbids, unconfirmed.is_empty()) {
                (0, true) => Verdict::Good,
                (0, false) => Verdict::Assumed,
                _ => Verdict::Forbidden,
            },
            forbids,
            warns: count(Weight::Warns),
            unconfirmed,
        }
    }
}

/// The weather that strings are judged in.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct ConditionsRow {
    /// The coldest air; the worse of weather file and record.
    pub coldest: ExtremeRow,
    /// The hottest air.
    pub hottest: ExtremeRow,
    /// Irradiance of a hot noon, in W/m².
    pub noon_w_m2: f64,
    /// Cells at a hot noon, in °C.
    pub noon_cell_c: f64,
    /// One module at open circuit on the coldest morning.
    pub module_cold_open_v: f64,
    /// One module at greatest power in cold sun.
    pub module_cold_max_power_v: f64,
    /// One module at open circuit at a hot noon.
    pub module_hot_open_v: f64,
    /// One module at greatest power at a hot noon.
    pub module_hot_max_power_v: f64,
}

/// An extreme of the air temperature, in °C.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct ExtremeRow {
    /// That which counts.
    pub air_c: f64,
    /// In the weather file.
    pub weather_c: f64,
    /// On record; null where the plant file does not say it.
    pub record_c: Option<f64>,
}

impl From<&Extreme> for ExtremeRow {
    fn from(extreme: &Extreme) -> Self {
        Self {
            air_c: extreme.air_c,
            weather_c: extreme.weather_c,
            record_c: extreme.record_c,
        }
    }
}

impl From<&Conditions> for ConditionsRow {
    fn from(c: &Conditions) -> Self {
        Self {
            coldest: (&c.coldest).into(),
            hottest: (&c.hottest).into(),
            noon_w_m2: c.noon_w_m2,
            noon_cell_c: c.noon_cell_c,
            module_cold_open_v: c.module.cold_open_v,
            module_cold_max_power_v: c.module.cold_max_power_v,
            module_hot_open_v: c.module.hot_open_v,
            module_hot_max_power_v: c.module.hot_max_power_v,
        }
    }
}

/// Inverters and drives that strings link.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct SubArrayRow<C = Changed> {
    /// Name.
    pub name: String,
    /// Its inverters.
    pub inverters: Vec<String>,
    /// The pump sets whose drives it feeds.
    pub drives: Vec<String>,
    /// The string groups of the plant file that it consists of.
    pub groups: Vec<String>,
    /// Its modules.
    pub fields: Vec<FieldRow>,
    /// Every length of string, and what it alone decides.
    pub lengths: Vec<LengthRow>,
    /// The layouts that suit, the best first.
    pub layouts: Vec<LayoutRow>,
    /// Why other layouts of suitable lengths do not.
    pub refused: Vec<RefusedRow>,
    /// Only every so many-th number of strings on a drive was looked at; 1: every one.
    pub every_nth: u32,
    /// When none suits: each limit that alone stands in the way.
    pub changes: Vec<C>,
    /// When several limits stand in every way: all that the layout breaks which breaks the fewest.
    pub nearest: Vec<MeasureRow>,
    /// Limits that no datasheet gave, and that the layouts were therefore not held against.
    pub not_checked: Vec<String>,
    /// Where the voltage of the plant's own strings stands, by sun and temperature.
    pub devices: Vec<DeviceStrings>,
}

impl StringsAnswer {
    /// The same with each finding and each change put into words.
    #[must_use]
    pub fn told<F, C>(&self, finding: impl Fn(&Finding) -> F, change: impl Fn(&Changed) -> C) -> StringsAnswer<F, C> {
        StringsAnswer {
            schema: self.schema.clone(),
            plant: self.plant.clone(),
            step_s: self.step_s,
            arrangement: self.arrangement,
            conditions: self.conditions.clone(),
            can_be_built: self.can_be_built.clone(),
            findings: self.findings.iter().map(finding).collect(),
            measures: self.measures.clone(),
            sub_arrays: self.sub_arrays.iter().map(|sub| sub.told(&change)).collect(),
        }
    }
}

impl SubArrayRow {
    fn told<C>(&self, change: impl Fn(&Changed) -> C) -> SubArrayRow<C> {
        SubArrayRow {
            name: self.name.clone(),
            inverters: self.inverters.clone(),
            drives: self.drives.clone(),
            groups: self.groups.clone(),
            fields: self.fields.clone(),
            lengths: self.lengths.clone(),
            layouts: self.layouts.clone(),
            refused: self.refused.clone(),
            every_nth: self.every_nth,
            changes: self.changes.iter().map(change).collect(),
            nearest: self.nearest.clone(),
            not_checked: self.not_checked.clone(),
            devices: self.devices.clone(),
        }
    }

    /// The string groups of a layout, as they would stand in the plant file in place of its own.
    #[must_use]
    pub fn as_groups(&self, layout: &LayoutRow) -> Vec<WrittenGroup> {
        let mut out = Vec::new();
        for shares in &layout.shares {
            let to_drives = shares.to_drives.iter().map(|to| (Some(to.drive.clone()), to.strings));
            for (drive, strings) in to_drives.chain([(None, shares.idle)]).filter(|(_, strings)| *strings > 0) {
                let to = drive.as_deref().unwrap_or("(idle)");
                let names = [shares.inverter.as_deref(), Some(to), Some(&shares.plane)];
                out.push(WrittenGroup {
                    name: names.into_iter().flatten().collect::<Vec<_>>().join(", "),
                    plane: shares.plane.clone(),
                    modules_per_string: layout.modules_per_string,
                    strings,
                    strings_per_input: layout
                        .strings_per_input
                        .filter(|_| shares.inverter.is_some())
                        .map(|per_input| per_input.min(strings)),
                    inverter: shares.inverter.clone(),
                    drive,
                });
            }
        }
        out
    }
}

/// The modules of one plane on one inverter, or on one drive without an inverter.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct FieldRow {
    /// The plane.
    pub plane: String,
    /// The inverter.
    pub inverter: Option<String>,
    /// How many they are.
    pub modules: u32,
}

impl FieldRow {
    pub(super) fn new(plant: &Plant, array: &Array, field: &ModuleField) -> Self {
        Self {
            plane: array.planes[field.plane].name.clone(),
            inverter: field.inverter.map(|i| plant.feeders[i].name.clone()),
            modules: field.modules,
        }
    }
}

/// A length of string and what it alone decides.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct LengthRow {
    /// Modules in series.
    pub modules_per_string: u32,
    /// Whether no rule forbids the length itself.
    pub suits: bool,
    /// Layouts of this length that suit.
    pub layouts: usize,
    /// The rules of length, and the speed that all strings of this length together would give each pump.
    pub measures: Vec<MeasureRow>,
}

impl LengthRow {
    pub(super) fn new(plant: &Plant, length: &Length) -> Self {
        Self {
            modules_per_string: length.series,
            suits: length.broken().next().is_none(),
            layouts: length.layouts,
            measures: length.measures.iter().map(|m| MeasureRow::new(plant, m)).collect(),
        }
    }
}

/// A rule that other layouts broke.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct RefusedRow {
    /// How many layouts broke it, perhaps beside other rules.
    pub layouts: usize,
    /// Modules in series of the one that came nearest to keeping it.
    pub modules_per_string: u32,
    /// Strings that the rule looked at in that one; 0 where their number does not count.
    pub strings: u32,
    /// How near it came.
    pub nearest: MeasureRow,
}

impl RefusedRow {
    pub(super) fn new(plant: &Plant, refused: &Refused) -> Self {
        Self {
            layouts: refused.layouts,
            modules_per_string: refused.nearest.series,
            strings: refused.nearest.strings,
            nearest: MeasureRow::new(plant, &refused.nearest),
        }
    }
}

/// A limit that alone stands in the way.
#[derive(Debug, Clone, PartialEq)]
pub struct Changed {
    /// What would have to change.
    pub change: Change,
    /// The value that would have to be allowed, beside today's limit.
    pub measure: MeasureRow,
}

impl Changed {
    pub(super) fn new(plant: &Plant, change: &Change) -> Self {
        Self {
            change: change.clone(),
            measure: MeasureRow::new(plant, &change.measure),
        }
    }
}

/// Strings of one length on an inverter, a drive, or both by turns.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct DeviceStrings {
    /// The inverter.
    pub inverter: Option<String>,
    /// The drive.
    pub drive: Option<String>,
    /// Modules in series.
    pub modules_per_string: u32,
    /// Strings on the drive, from wherever they come.
    pub strings_on_drive: u32,
    /// Lower edge of the inverter's MPPT window.
    pub mppt_min_v: Option<f64>,
    /// Upper edge of it.
    pub mppt_max_v: Option<f64>,
    /// Greatest DC voltage of the inverter, where it is known.
    pub inverter_greatest_dc_v: Option<f64>,
    /// Greatest DC voltage of the drive, where it is known.
    pub drive_greatest_dc_v: Option<f64>,
    /// Bus voltage that the drive needs for each Hz.
    pub bus_v_per_hz: Option<f64>,
    /// By cell temperature, then by sun.
    pub points: Vec<OperatingRow>,
}

/// Strings at one sun and cell temperature.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct OperatingRow {
    /// Irradiance on the array, in W/m².
    pub w_m2: f64,
    /// Cell temperature, in °C.
    pub cell_c: f64,
    /// At open circuit.
    pub open_circuit_v: f64,
    /// At greatest power.
    pub max_power_v: f64,
    /// On the inverter.
    pub on_inverter_v: Option<f64>,
    /// On the drive, while the pump takes what it can.
    pub on_drive_v: Option<f64>,
    /// Frequency of the pump then; 0 when it stands.
    pub on_drive_hz: Option<f64>,
}

impl From<&OperatingPoint> for OperatingRow {
    fn from(o: &OperatingPoint) -> Self {
        Self {
            w_m2: o.w_m2,
            cell_c: o.cell_c,
            open_circuit_v: o.open_circuit_v,
            max_power_v: o.max_power_v,
            on_inverter_v: o.on_inverter_v,
            on_drive_v: o.on_drive.map(|speed| speed.bus_v),
            on_drive_hz: o.on_drive.map(|speed| speed.hz),
        }
    }
}
