//! A value beside its limit, in the answer.

use daylift_electrics::{Measure, Rule, Weight, device_name};
use daylift_plant::Plant;
use schemars::JsonSchema;
use serde::Serialize;

use crate::by_id::{by_id, maybe_by_id};

/// A value beside its limit.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct MeasureRow {
    /// Name of the rule.
    #[serde(serialize_with = "by_id")]
    #[schemars(with = "String")]
    pub rule: Rule,
    /// What it is about.
    pub about: String,
    /// The value, in the unit.
    pub value: f64,
    /// Its limit; null where nobody gave it.
    pub limit: Option<f64>,
    /// Unit of both; empty for a count.
    pub unit: String,
    /// By how much it is beyond the limit; 0 when it keeps it.
    pub beyond: f64,
    /// What a broken limit means: `forbids` or `warns`; null when it is kept or not known.
    #[serde(serialize_with = "maybe_by_id")]
    #[schemars(with = "Option<String>")]
    pub weight: Option<Weight>,
}

impl MeasureRow {
    pub(super) fn new(plant: &Plant, m: &Measure) -> Self {
        Self {
            rule: m.rule,
            about: device_name(plant, m.device),
            value: m.rule.printed_value(m.value),
            limit: m.limit.map(|limit| m.rule.printed_value(limit)),
            unit: m.rule.unit().to_owned(),
            beyond: m.rule.printed_value(m.beyond()),
            weight: m.breaks.then_some(m.rule.weight()),
        }
    }
}
