//! The rows of a finished answer.
//!
//! Energies in kWh, volumes in m³, times in hours, money in the plant's currency. Every key is always present; a value
//! that does not apply is 0 or null.

use daylift_plant::Arrangement;
use daylift_supply::LossCause;
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::ser::SerializeMap;
use serde::{Serialize, Serializer};

use crate::by_id::by_id;

/// Weather of the year.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct WeatherSummary {
    /// Station and file.
    pub source: String,
    /// Global horizontal irradiation of the file, in kWh/m².
    pub ghi_kwh_m2: f64,
    /// Irradiation on the array's plane, before reflection and soiling, in kWh/m²; 0 without an array.
    pub plane_kwh_m2: f64,
}

/// One arrangement through the year.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Row {
    /// Name of the arrangement.
    #[serde(serialize_with = "by_id")]
    #[schemars(with = "String")]
    pub id: Arrangement,
    /// Where the array's energy went, in kWh.
    pub array_kwh: ArrayEnergy,
    /// Share of the array's energy, less conversion and cables, that was used or paid for; null without an array.
    pub array_use: Option<f64>,
    /// Energy at the utility's meter, in kWh.
    pub grid_kwh: GridEnergy,
    /// Energy at the pump motor's terminals by origin, in kWh.
    pub pump_kwh: PumpEnergy,
    /// Energy of the farm's other loads by origin, in kWh.
    pub load_kwh: LoadEnergy,
    /// Energy of the battery, in kWh.
    pub battery_kwh: BatteryEnergy,
    /// The generating set.
    pub generator: Generator,
    /// Water, in m³.
    pub water_m3: WaterVolume,
    /// Times, in h.
    pub hours: Hours,
    /// Money.
    pub money: Money,
    /// Worst imbalance of any step, as a fraction of the flow.
    pub worst_residual: WorstResidual,
}

/// Where the array's energy went, in kWh.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct ArrayEnergy {
    /// DC energy at the maximum-power point after the array's own losses, before cables.
    pub available: f64,
    /// To the pump, at the motor's terminals.
    pub to_pump: f64,
    /// To the farm's other loads.
    pub to_loads: f64,
    /// To the battery.
    pub to_battery: f64,
    /// Exported at a credit.
    pub exported_paid: f64,
    /// Exported without a credit.
    pub exported_unpaid: f64,
    /// Lost, by cause; with the uses above it adds up to what was available.
    pub lost: Lost,
}

/// Lost energy by cause, in kWh, in the order in which a cause has a kWh first.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lost(pub [f64; LossCause::COUNT]);

impl Lost {
    /// Energy lost to a cause, in kWh.
    #[must_use]
    pub fn of(&self, cause: LossCause) -> f64 {
        self.0[cause.index()]
    }
}

impl Serialize for Lost {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut map = serializer.serialize_map(Some(LossCause::COUNT))?;
        for cause in LossCause::ALL {
            map.serialize_entry(cause.id(), &self.of(cause))?;
        }
        map.end()
    }
}

impl JsonSchema for Lost {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "Lost".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        let properties: serde_json::Map<String, serde_json::Value> = LossCause::ALL
            .iter()
            .map(|c| {
                (
                    c.id().to_owned(),
                    serde_json::json!({"type": "number", "format": "double"}),
                )
            })
            .collect();
        let required: Vec<&str> = LossCause::ALL.iter().map(|c| c.id()).collect();
        json_schema!({
            "description": "Lost energy by cause [kWh], in the order in which a cause has a kWh first.",
            "type": "object",
            "properties": properties,
            "required": required,
        })
    }
}

/// Energy at the utility's meter, in kWh.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct GridEnergy {
    /// Taken from the utility; what goes to the pump and to the loads is less by the grid's share of the losses of motor
    /// cable and drive, and by what charges a battery.
    pub imported: f64,
    /// Given to the utility.
    pub exported: f64,
}

/// Energy at the pump motor's terminals by origin, in kWh.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct PumpEnergy {
    /// From the array.
    pub array: f64,
    /// From the grid.
    pub grid: f64,
    /// From the battery.
    pub battery: f64,
    /// From the generating set.
    pub generator: f64,
}

/// Energy of the farm's other loads by origin, in kWh.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct LoadEnergy {
    /// What the loads want.
    pub demand: f64,
    /// From the array.
    pub array: f64,
    /// From the grid.
    pub grid: f64,
    /// From the battery.
    pub battery: f64,
    /// From the generating set.
    pub generator: f64,
    /// Not served.
    pub unserved: f64,
}

/// Energy of the battery, in kWh.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, JsonSchema)]
pub struct BatteryEnergy {
    /// Charged from the array.
    pub from_array: f64,
    /// Charged from the grid.
    pub from_grid: f64,
    /// Discharged.
    pub discharged: f64,
    /// Content at the end less content at the start.
    pub stored_change: f64,
}

/// The generating set.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, JsonSchema)]
pub struct Generator {
    /// Energy made, in kWh.
    pub kwh: f64,
    /// Running hours, in h.
    pub hours: f64,
    /// Fuel, in l.
    pub fuel_l: f64,
}

/// Water, in m³.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct WaterVolume {
    /// Wanted by the farm.
    pub demand: f64,
    /// Pumped into the tank.
    pub pumped: f64,
    /// Rain into the tank.
    pub rain: f64,
    /// Delivered to the farm.
    pub delivered: f64,
    /// Demand not met.
    pub shortfall: f64,
    /// Lost over the tank's edge.
    pub overflow: f64,
    /// Lost to the air.
    pub evaporated: f64,
    /// Content at the end less content at the start.
    pub stored_change: f64,
}

/// Times, in h.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct Hours {
    /// Utility away.
    pub outage: f64,
    /// Flow in any pump set.
    pub pumping: f64,
    /// Of those, with the utility away.
    pub pumping_in_outage: f64,
}

/// Money, in the plant's currency.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Money {
    /// Currency.
    pub currency: String,
    /// Capital of the row.
    pub capital: f64,
    /// Utility bill of the first year.
    pub first_year_bill: f64,
    /// Capital beyond the reference over the first year's saving beyond the reference; null when it never pays.
    pub payback_years: Option<f64>,
    /// Net present value of the difference to the reference.
    pub npv: f64,
    /// Internal rate of return of the difference to the reference; null when there is none.
    pub irr: Option<f64>,
    /// Discounted cost, less what the farm's loads alone would be billed, over discounted delivered m³; null without
    /// water.
    pub cost_per_m3: Option<f64>,
}

/// Worst imbalance, as a fraction of the flow.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct WorstResidual {
    /// Energy at array, sources, loads or battery, in any piece of any step.
    pub energy: f64,
    /// Water at the tank, in any piece of any step and over the year.
    pub water: f64,
    /// Hours over the year.
    pub hours: f64,
}
