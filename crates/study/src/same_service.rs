//! Whether a row serves the farm as today's way does: decided here, once, for every reader.

use daylift_supply::Flow;
use daylift_units::constants::KWH_J;
use schemars::JsonSchema;
use serde::Serialize;

use crate::year::ArrangementYear;

/// Water below the reference's by no more than this share counts as the same.
const LESS_WATER: f64 = 0.01;
/// Share of the reference's water below which the money is not that of the same service.
const LITTLE_WATER: f64 = 0.5;
/// Load left unserved beyond the reference's by no more than this share of the demand counts as the same.
const LESS_LOAD: f64 = 0.01;

/// A row delivers noticeably less water than today's way.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct LessWater {
    /// What it delivers as a share of what today's way delivers.
    pub share: f64,
    /// How much less a year, in m³.
    pub less_m3: f64,
    /// Whether it is so little that the money is not that of the same service.
    pub little: bool,
}

/// A row leaves noticeably more of the farm's loads in the dark than today's way.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct LessLoad {
    /// How much more a year, in kWh.
    pub darker_kwh: f64,
}

/// Whether a year delivers less water than the reference; `None` where it does not.
pub(crate) fn less_water(year: &ArrangementYear, reference: &ArrangementYear) -> Option<LessWater> {
    let (delivered, today) = (year.costs.delivered_m3, reference.costs.delivered_m3);
    (delivered < today * (1.0 - LESS_WATER)).then(|| LessWater {
        share: delivered / today,
        less_m3: today - delivered,
        little: delivered < today * LITTLE_WATER,
    })
}

/// Whether a year leaves more load in the dark than the reference; `None` where it does not.
pub(crate) fn less_load(year: &ArrangementYear, reference: &ArrangementYear) -> Option<LessLoad> {
    let sum = year.result.ledger.year();
    let darker_j = sum[Flow::Unserved] - reference.result.ledger.year()[Flow::Unserved];
    (darker_j > LESS_LOAD * sum[Flow::Load]).then(|| LessLoad {
        darker_kwh: darker_j / KWH_J,
    })
}
