//! Whether a row serves the farm as well as the reference. The thresholds are only here, for all readers.

use daylift_supply::Flow;
use daylift_units::constants::KWH_J;
use schemars::JsonSchema;
use serde::Serialize;

use crate::year::ArrangementYear;

/// Water counts as the same if it is less than the reference's by at most this share.
const LESS_WATER: f64 = 0.01;
/// Below this share of the reference's water, the money is not comparable.
const LITTLE_WATER: f64 = 0.5;
/// Unserved load counts as the same if it exceeds the reference's by at most this share of the load.
const LESS_LOAD: f64 = 0.01;

/// A row delivers less water than the reference, by more than the tolerance.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct LessWater {
    /// Water delivered ÷ water delivered with the reference.
    pub share: f64,
    /// How much less in a year, in m³.
    pub less_m3: f64,
    /// Whether it is so little that the money is not comparable.
    pub little: bool,
}

/// A row leaves more of the farm's loads unserved than the reference, by more than the tolerance.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct LessLoad {
    /// How much more in a year, in kWh.
    pub darker_kwh: f64,
}

/// How much less water a year delivers than the reference; `None` if it does not.
pub(crate) fn less_water(year: &ArrangementYear, reference: &ArrangementYear) -> Option<LessWater> {
    let (delivered, today) = (year.costs.delivered_m3, reference.costs.delivered_m3);
    (delivered < today * (1.0 - LESS_WATER)).then(|| LessWater {
        share: delivered / today,
        less_m3: today - delivered,
        little: delivered < today * LITTLE_WATER,
    })
}

/// How much more load a year leaves unserved than the reference; `None` if it does not.
pub(crate) fn less_load(year: &ArrangementYear, reference: &ArrangementYear) -> Option<LessLoad> {
    let sum = year.result.ledger.year();
    let darker_j = sum[Flow::Unserved] - reference.result.ledger.year()[Flow::Unserved];
    (darker_j > LESS_LOAD * sum[Flow::Load]).then(|| LessLoad {
        darker_kwh: darker_j / KWH_J,
    })
}
