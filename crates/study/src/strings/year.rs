//! Figures of the year with a layout.

use std::collections::BTreeMap;

use daylift_plant::{InverterId, SetId};
use schemars::JsonSchema;
use serde::Serialize;

/// The plant's year with a layout.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct LayoutYear {
    /// Water wanted, in m³.
    pub demand_m3: f64,
    /// Water delivered, in m³.
    pub delivered_m3: f64,
    /// Water that would be delivered if full flux needed no bus voltage, in m³. Only for the ten best layouts with the
    /// warning `useful-speed`, else null.
    pub delivered_without_voltage_limit_m3: Option<f64>,
    /// Water delivered while the grid was down, in m³.
    pub delivered_in_outages_m3: f64,
    /// Available energy of the array, in kWh.
    pub array_available_kwh: f64,
    /// Array energy used or paid for, in kWh.
    pub array_used_kwh: f64,
    /// Share of the array's energy, minus conversion and cable losses, that was used or paid for.
    pub array_use: Option<f64>,
}

/// What drives and inverters could do in the year with a layout.
#[derive(Debug, Clone, Default)]
pub(super) struct Devices {
    /// Water that each drive could pump in the outages if water were always wanted \[m³\], by pump set.
    pub(super) outage_water_m3: BTreeMap<SetId, f64>,
    /// Energy that each inverter could feed to the bus while the grid is on \[kWh\], by inverter.
    pub(super) feed_kwh: BTreeMap<InverterId, f64>,
}
