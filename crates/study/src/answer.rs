//! The rows of a finished answer.
//!
//! Energies in kWh, volumes in m³, times in hours, money in the plant's currency. Every key is always present; a value
//! that does not apply is 0 or null.

use daylift_plant::{Arrangement, Plant};
use schemars::JsonSchema;
use serde::Serialize;

use crate::by_id::{all_by_id, by_id};
use crate::columns::Sums;
use crate::columns::groups::{
    ArrayEnergy, BatteryEnergy, Generator, GridEnergy, Hours, LoadEnergy, PumpEnergy, WaterVolume,
};
use crate::rules::{Found, FoundRule, RulePart};
use crate::service::Service;
use crate::shortage::Shortage;

/// Weather of the year.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct WeatherSummary {
    /// Station and file name.
    pub source: String,
    /// Global horizontal irradiation of the weather file, in kWh/m².
    pub ghi_kwh_m2: f64,
    /// Irradiation on the array's plane, before reflection and soiling, in kWh/m²; 0 without an array.
    pub plane_kwh_m2: f64,
}

/// One arrangement through the year.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Row {
    /// Id of the arrangement.
    #[serde(serialize_with = "by_id")]
    #[schemars(with = "String")]
    pub id: Arrangement,
    /// Where the array's energy went, in kWh.
    pub array_kwh: Sums<ArrayEnergy>,
    /// What `export-limit` took, in kWh at the bus: AC energy that could have been exported if the agreement had allowed it.
    pub export_limit_ac_kwh: f64,
    /// Share of the array's energy, minus conversion and cable losses, that was used or paid for; null without an array.
    pub array_use: Option<f64>,
    /// Energy at the utility's meter, in kWh.
    pub grid_kwh: Sums<GridEnergy>,
    /// Energy at the pump motor's terminals by source, in kWh.
    pub pump_kwh: Sums<PumpEnergy>,
    /// Energy of the farm's other loads by source, in kWh.
    pub load_kwh: Sums<LoadEnergy>,
    /// Energy of the battery, in kWh.
    pub battery_kwh: Sums<BatteryEnergy>,
    /// The generator.
    pub generator: Sums<Generator>,
    /// Water, in m³.
    pub water_m3: Sums<WaterVolume>,
    /// Shortage of water in days.
    pub shortage: Shortage,
    /// Times, in h.
    pub hours: Sums<Hours>,
    /// Starts of motors and drives, and cycles of the changeover.
    pub starts: Starts,
    /// What it delivers compared with the reference.
    pub service: Service,
    /// Rule by which its pumps run on mains and on any other bus; null where none ever does.
    pub rule: Option<Rule>,
    /// Money; to be compared only where `service.comparable` is true.
    pub money: Money,
    /// Largest imbalance of any step, as a fraction of the flow.
    pub worst_residual: WorstResidual,
}

/// Rule by which the pumps of a row run on mains and on any other bus.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Rule {
    /// Windows of civil hours in which the bus is open to the pumps, each from its first hour up to (excluding) its last.
    pub mains_hours: Vec<[u8; 2]>,
    /// Level at which the bus stops filling the tank, in per cent: one number, or one for each hour of the day.
    pub mains_fill_pct: Vec<f64>,
    /// Level below which pumps run on the bus at any hour, in per cent.
    pub low_mark_pct: f64,
    /// Share of the pumps' power that inverters must offer for the pumps to run while the bus is not open to them, in per
    /// cent; null if they do not run then.
    pub surplus_pct: Option<f64>,
    /// Where the rule came from: `as-written` (plant file and defaults), `best` (searched for), or `wettest` (searched
    /// for; no rule keeps today's water, this one delivers most).
    #[serde(serialize_with = "by_id")]
    #[schemars(with = "String")]
    pub found: Found,
    /// Keys of the parts that the plant file gives: the search has left these as they are.
    #[serde(serialize_with = "all_by_id")]
    #[schemars(with = "Vec<String>")]
    pub from_file: Vec<RulePart>,
}

impl Rule {
    /// The rule of a row for its reader.
    pub(crate) fn of(plant: &Plant, row: Arrangement, FoundRule { rule, found }: FoundRule) -> Self {
        let fill_pct: Vec<f64> = rule.fill.values().map(|level| percent(*level)).collect();
        let is_one = fill_pct.iter().all(|level| level.total_cmp(&fill_pct[0]).is_eq());
        Self {
            mains_hours: rule.hours.windows(),
            mains_fill_pct: if is_one { vec![fill_pct[0]] } else { fill_pct },
            low_mark_pct: percent(rule.low_mark),
            surplus_pct: rule.surplus.map(percent),
            found,
            from_file: RulePart::given(plant, row),
        }
    }
}

/// A share in per cent, without the rounding of the conversion.
fn percent(share: f64) -> f64 {
    (share * 1e8).round() / 1e6
}

/// Starts in the year: whole numbers, rounded where the low mark is held by fractions of the time.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct Starts {
    /// Motor starts on the bus, of all sets.
    pub motor: u32,
    /// The most starts that one motor makes in a civil day; starts on the sun are included where they are counted.
    pub most_in_a_day: u32,
    /// Motor starts on the drives, of all sets; null unless the step is one minute.
    pub on_sun: Option<u32>,
    /// How often drives get DC from their strings, or mains on their second input, after having had neither.
    pub drive_power_ups: u32,
    /// How often the changeover leaves the grid: each is one opening and one closing of every contact.
    pub changeover_cycles: usize,
}

/// Money, in the plant's currency.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Money {
    /// Currency; empty without any prices.
    pub currency: String,
    /// Capital of the arrangement; 0 without `[money]`.
    pub capital: f64,
    /// Utility bill of the first year; 0 without `[tariff]`.
    pub first_year_bill: f64,
    /// Capital beyond the reference ÷ first year's saving beyond the reference; null when it never pays back, and when
    /// `[money]` or the tariff of a farm with a grid is missing.
    pub payback_years: Option<f64>,
    /// Net present value of the difference to the reference; null when `[money]` or the tariff of a farm with a grid is
    /// missing.
    pub npv: Option<f64>,
    /// Internal rate of return of the difference to the reference; null when there is none, and when `[money]` or the
    /// tariff of a farm with a grid is missing.
    pub irr: Option<f64>,
    /// (Discounted cost − discounted bill of the farm's loads alone) ÷ discounted delivered m³; null without water. It is
    /// 0 when `[money]` or the tariff of a farm with a grid is missing: compare `npv`, which is then null.
    pub cost_per_m3: Option<f64>,
}

/// Largest imbalance, as a fraction of the flow.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct WorstResidual {
    /// Energy at array, sources, loads or battery, in any part of any step.
    pub energy: f64,
    /// Water at the tank, in any part of any step and over the year.
    pub water: f64,
    /// Hours over the year.
    pub hours: f64,
}
