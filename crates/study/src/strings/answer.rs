//! The finished answer on strings, for JSON: `daylift.strings.1`.
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

/// Whether the strings can be built, and which layouts are suitable. `F` and `C` are findings and changes: as facts here,
/// or in words.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct StringsAnswer<F = Finding, C = Changed> {
    /// Name and version of this layout.
    pub schema: String,
    /// Name of the plant.
    pub plant: String,
    /// Length of a step of the years, in s.
    pub step_s: u32,
    /// Arrangement whose year ranks the layouts; null where the plant has none of `dual-mode`, `solar-drive` and
    /// `grid-tied`.
    #[serde(serialize_with = "maybe_by_id")]
    #[schemars(with = "Option<String>")]
    pub arrangement: Option<Arrangement>,
    /// The temperatures and the sun at which strings are judged.
    pub conditions: ConditionsRow,
    /// The verdict on the strings of the plant file.
    pub can_be_built: CanBeBuilt,
    /// Findings on the strings of the plant file: violations first, then warnings, then notes.
    pub findings: Vec<F>,
    /// Every rule checked on the strings of the plant file, whether kept or violated.
    pub measures: Vec<MeasureRow>,
    /// Groups of inverters and drives that strings link, with the layouts of their modules.
    pub sub_arrays: Vec<SubArrayRow<C>>,
}

/// The verdict in one word.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Verdict {
    /// A rule is violated: do not build.
    Forbidden,
    /// No rule forbids it, but the verdict depends on unconfirmed values.
    Assumed,
    /// No rule forbids it, and all values that the verdict depends on are confirmed.
    Good,
}

/// The verdict on the strings of the plant file.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct CanBeBuilt {
    /// The verdict.
    pub verdict: Verdict,
    /// Number of violations.
    pub forbids: usize,
    /// Number of warnings.
    pub warns: usize,
    /// Unconfirmed values that the verdict depends on, as keys with their section.
    pub unconfirmed: Vec<String>,
}

impl CanBeBuilt {
    /// The verdict from findings and the unconfirmed values that they depend on.
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

/// The temperatures and the sun at which strings are judged.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct ConditionsRow {
    /// The coldest air: the lower of weather file and record; with a synthetic year, the record if one is given.
    pub coldest: ExtremeRow,
    /// The hottest air.
    pub hottest: ExtremeRow,
    /// Irradiance of a hot noon, in W/m².
    pub noon_w_m2: f64,
    /// Cell temperature at a hot noon, in °C.
    pub noon_cell_c: f64,
    /// Open-circuit voltage of one module on the coldest morning.
    pub module_cold_open_v: f64,
    /// Maximum-power voltage of one module in full sun and the coldest air.
    pub module_cold_max_power_v: f64,
    /// Open-circuit voltage of one module at a hot noon.
    pub module_hot_open_v: f64,
    /// Maximum-power voltage of one module at a hot noon.
    pub module_hot_max_power_v: f64,
}

/// The lowest or highest air temperature, in °C.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct ExtremeRow {
    /// The temperature that counts.
    pub air_c: f64,
    /// Extreme of the weather file.
    pub weather_c: f64,
    /// Record at the site; null if the plant file does not give it.
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

/// A sub-array: inverters and drives that string groups link, with the modules of these groups.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct SubArrayRow<C = Changed> {
    /// Name.
    pub name: String,
    /// Its inverters.
    pub inverters: Vec<String>,
    /// The pump sets whose drives it feeds.
    pub drives: Vec<String>,
    /// Its string groups in the plant file.
    pub groups: Vec<String>,
    /// Its modules.
    pub fields: Vec<FieldRow>,
    /// Every string length, with the rules that depend on it alone.
    pub lengths: Vec<LengthRow>,
    /// The suitable layouts, the best first.
    pub layouts: Vec<LayoutRow>,
    /// Why other layouts of suitable lengths are not suitable.
    pub refused: Vec<RefusedRow>,
    /// Step between the numbers of strings on a drive that were checked; 1: every number.
    pub every_nth: u32,
    /// If no layout is suitable: each limit that is the only obstacle of some layout.
    pub changes: Vec<C>,
    /// If no layout is suitable: all violations of the layout with the fewest.
    pub nearest: Vec<MeasureRow>,
    /// Limits that no datasheet gives: not checked, or checked only against a usual value.
    pub not_checked: Vec<String>,
    /// Operating voltages of the strings of the plant file, over irradiance and cell temperature.
    pub devices: Vec<DeviceStrings>,
}

impl StringsAnswer {
    /// The same answer with each finding and each change put into words.
    #[must_use]
    pub fn in_words<F, C>(
        &self,
        finding: impl Fn(&Finding) -> F,
        change: impl Fn(&Changed) -> C,
    ) -> StringsAnswer<F, C> {
        StringsAnswer {
            schema: self.schema.clone(),
            plant: self.plant.clone(),
            step_s: self.step_s,
            arrangement: self.arrangement,
            conditions: self.conditions.clone(),
            can_be_built: self.can_be_built.clone(),
            findings: self.findings.iter().map(finding).collect(),
            measures: self.measures.clone(),
            sub_arrays: self.sub_arrays.iter().map(|sub| sub.in_words(&change)).collect(),
        }
    }
}

impl SubArrayRow {
    fn in_words<C>(&self, change: impl Fn(&Changed) -> C) -> SubArrayRow<C> {
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

    /// The string groups of a layout, to replace those of the plant file.
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
    /// Number of modules.
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

/// A string length, with the rules that depend on it alone.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct LengthRow {
    /// Modules in series.
    pub modules_per_string: u32,
    /// Whether the length violates no rule by itself.
    pub suits: bool,
    /// Number of suitable layouts with this length.
    pub layouts: usize,
    /// The rules that depend on the length alone, and the speed of each pump with all strings of this length on its drive.
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

/// A rule that other layouts violate.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct RefusedRow {
    /// Number of layouts that violate it, alone or together with other rules.
    pub layouts: usize,
    /// Modules in series of the layout that is closest to the limit.
    pub modules_per_string: u32,
    /// Number of strings in question in that layout; 0 where the number does not matter.
    pub strings: u32,
    /// The value of that layout and the limit.
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

/// A change of one limit that would make some layout suitable.
#[derive(Debug, Clone, PartialEq)]
pub struct Changed {
    /// The change.
    pub change: Change,
    /// The value that the limit would have to allow, and today's limit.
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

/// Strings of one length on an inverter, a drive, or on both in turn.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct DeviceStrings {
    /// The inverter.
    pub inverter: Option<String>,
    /// The drive.
    pub drive: Option<String>,
    /// Modules in series.
    pub modules_per_string: u32,
    /// Strings on the drive, from all groups.
    pub strings_on_drive: u32,
    /// Lower edge of the inverter's MPPT window.
    pub mppt_min_v: Option<f64>,
    /// Upper edge of the inverter's MPPT window.
    pub mppt_max_v: Option<f64>,
    /// Maximum DC voltage of the inverter; null if not given.
    pub inverter_greatest_dc_v: Option<f64>,
    /// Maximum DC voltage of the drive; null if not given.
    pub drive_greatest_dc_v: Option<f64>,
    /// Bus voltage that the drive needs for each Hz.
    pub bus_v_per_hz: Option<f64>,
    /// By cell temperature, then by irradiance.
    pub points: Vec<OperatingRow>,
}

/// Strings at one irradiance and cell temperature.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct OperatingRow {
    /// Irradiance on the array, in W/m².
    pub w_m2: f64,
    /// Cell temperature, in °C.
    pub cell_c: f64,
    /// Open-circuit voltage.
    pub open_circuit_v: f64,
    /// Maximum-power voltage.
    pub max_power_v: f64,
    /// Voltage on the inverter.
    pub on_inverter_v: Option<f64>,
    /// Voltage on the drive, while the pump takes as much power as it can.
    pub on_drive_v: Option<f64>,
    /// Frequency of the pump then; 0 when it does not run.
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
