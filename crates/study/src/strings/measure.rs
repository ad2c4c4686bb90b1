//! A value and its limit, in the answer.

use daylift_electrics::{Measure, Rule, Weight, device_name};
use daylift_plant::Plant;
use schemars::JsonSchema;
use serde::Serialize;

use crate::by_id::{by_id, maybe_by_id};

/// A value and its limit.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct MeasureRow {
    /// Id of the rule.
    #[serde(serialize_with = "by_id")]
    #[schemars(with = "String")]
    pub rule: Rule,
    /// The device or modules concerned.
    pub about: String,
    /// The value, in `unit`.
    pub value: f64,
    /// Its limit; null where it is not given and has no substitute.
    pub limit: Option<f64>,
    /// Unit of both; empty for a count.
    pub unit: String,
    /// By how much the value is beyond the limit; 0 when the rule is kept.
    pub beyond: f64,
    /// Weight of a violation: `forbids` or `warns`; null when the rule is kept or the limit is not known.
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
