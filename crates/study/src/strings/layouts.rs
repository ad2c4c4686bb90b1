//! Suitable layouts, in the answer.

use daylift_electrics::{Layout, Shares, SpeedLimit};
use daylift_plant::Plant;
use schemars::JsonSchema;
use serde::Serialize;

use super::measure::MeasureRow;
use super::year::{Devices, LayoutYear};
use crate::by_id::by_id;

/// A suitable layout.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct LayoutRow {
    /// Its rank; 1 is the best.
    pub rank: usize,
    /// Whether it is the layout of the plant file.
    pub is_present: bool,
    /// Modules in series.
    pub modules_per_string: u32,
    /// Strings on the fullest MPPT input; null without an inverter.
    pub strings_per_input: Option<u32>,
    /// How the strings of each field of modules are shared among drives.
    pub shares: Vec<SharesRow>,
    /// Modules left over: too few for one more string.
    pub left_over_modules: u32,
    /// Strings on the drives.
    pub drives: Vec<DriveStrings>,
    /// Strings on the inverters.
    pub inverters: Vec<InverterStrings>,
    /// Modules that are idle in an outage, in kWp.
    pub idle_kwp: f64,
    /// Poles that switch strings from inverters to drives.
    pub poles: u32,
    /// Violated rules that only warn.
    pub warns: Vec<MeasureRow>,
    /// The plant's year with this layout; null if the plant has no arrangement for it, or if there are too many layouts.
    pub year: Option<LayoutYear>,
}

/// How the strings of a field of modules are shared among drives.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct SharesRow {
    /// The plane.
    pub plane: String,
    /// The inverter.
    pub inverter: Option<String>,
    /// Strings that go to each drive in an outage.
    pub to_drives: Vec<ToDrive>,
    /// Strings that are idle in an outage.
    pub idle: u32,
}

/// Strings that go to a drive.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct ToDrive {
    /// The pump set.
    pub drive: String,
    /// Number of strings.
    pub strings: u32,
}

/// Strings on a drive.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct DriveStrings {
    /// The pump set.
    pub drive: String,
    /// Strings in parallel.
    pub strings: u32,
    /// Power of the modules, in kWp.
    pub kwp: f64,
    /// This power ÷ DC input power of the drive at the pump's maximum frequency.
    pub array_over_pump: f64,
    /// Frequency at a hot noon, in Hz.
    pub noon_hz: f64,
    /// Maximum frequency that pump, well and drive allow, in Hz.
    pub allowed_hz: f64,
    /// What limits the frequency at a hot noon: `nothing`, `power` or `voltage`.
    #[serde(serialize_with = "by_id")]
    #[schemars(with = "String")]
    pub noon_limit: SpeedLimit,
    /// Bus voltage at a hot noon.
    pub noon_bus_v: f64,
    /// Rating of the fuse that each string needs on the drive; null when it needs none.
    pub string_fuse_a: Option<f64>,
    /// Poles that switch its strings from inverters to the drive.
    pub poles: u32,
    /// Water that it could pump in the outages of the year if water were always wanted, in m³; null if no year was run.
    pub outage_water_m3: Option<f64>,
}

/// Strings on an inverter.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct InverterStrings {
    /// The inverter.
    pub inverter: String,
    /// Number of strings.
    pub strings: u32,
    /// Power of the modules, in kWp.
    pub kwp: f64,
    /// This power ÷ rated output of the inverter.
    pub dc_over_ac: f64,
    /// MPPT inputs taken.
    pub inputs: u32,
    /// Rating of the fuse that each string needs on the inverter; null when it needs none.
    pub string_fuse_a: Option<f64>,
    /// Energy that it could feed to the bus while the grid is on, in kWh; null if no year was run.
    pub feed_kwh: Option<f64>,
}

impl LayoutRow {
    pub(super) fn new(
        plant: &Plant,
        layout: &Layout,
        rank: usize,
        is_present: bool,
        year: Option<LayoutYear>,
        devices: &Devices,
    ) -> Self {
        let drives = layout.judged.drives.iter().map(|d| DriveStrings {
            drive: plant.sets[d.set].name.clone(),
            strings: d.strings,
            kwp: d.dc_w / 1e3,
            array_over_pump: d.dc_w / d.allowed.max_w,
            noon_hz: d.noon.hz,
            allowed_hz: d.allowed.max_hz,
            noon_limit: d.noon.limit,
            noon_bus_v: d.noon.bus_v,
            string_fuse_a: d.fuse.rating_a,
            poles: d.poles,
            outage_water_m3: devices.outage_water_m3.get(&d.set).copied(),
        });
        let inverters = layout.judged.inverters.iter().map(|i| InverterStrings {
            inverter: plant.feeders[i.inverter].name.clone(),
            strings: i.strings,
            kwp: i.dc_w / 1e3,
            dc_over_ac: i.dc_over_ac,
            inputs: i.inputs,
            string_fuse_a: i.fuse.rating_a,
            feed_kwh: devices.feed_kwh.get(&i.inverter).copied(),
        });
        let has_inverter = !layout.judged.inverters.is_empty();
        Self {
            rank,
            is_present,
            modules_per_string: layout.series,
            strings_per_input: has_inverter.then_some(layout.per_input),
            shares: layout.shares.iter().map(|shares| SharesRow::new(plant, shares)).collect(),
            left_over_modules: layout.left_over(),
            drives: drives.collect(),
            inverters: inverters.collect(),
            idle_kwp: layout.judged.idle_w / 1e3,
            poles: layout.poles(),
            warns: layout
                .judged
                .measures
                .iter()
                .filter(|m| m.breaks)
                .map(|m| MeasureRow::new(plant, m))
                .collect(),
            year,
        }
    }
}

impl SharesRow {
    fn new(plant: &Plant, shares: &Shares) -> Self {
        let plane = plant.array.as_ref().and_then(|array| array.planes.get(shares.plane));
        Self {
            plane: plane.map_or_else(String::new, |plane| plane.name.clone()),
            inverter: shares.inverter.map(|i| plant.feeders[i].name.clone()),
            to_drives: shares
                .to_drives
                .iter()
                .map(|(set, strings)| ToDrive {
                    drive: plant.sets[*set].name.clone(),
                    strings: *strings,
                })
                .collect(),
            idle: shares.idle,
        }
    }
}
