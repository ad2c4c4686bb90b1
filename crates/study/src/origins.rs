//! Where each value of the plant came from, as other programs read it.

use daylift_plant_file::{Origin, OriginValue};
use schemars::JsonSchema;
use serde::Serialize;

/// A value of the plant and where it came from.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct OriginRow {
    /// Key with its section; equipment by its kind.
    pub path: String,
    /// `given`, `assumed` (given, and not confirmed on the farm) or `default`.
    pub state: String,
    /// The value in the unit of its file.
    pub value: PlainValue,
    /// Its unit; empty for a pure number and for a text.
    pub unit: String,
    /// File and line, or the source of a default.
    pub source: String,
}

/// A value as it stands in a file.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(untagged)]
pub enum PlainValue {
    /// A number.
    Number(f64),
    /// A list of numbers.
    Numbers(Vec<f64>),
    /// A word, or the path of a file.
    Text(String),
}

impl From<&Origin> for OriginRow {
    fn from(origin: &Origin) -> Self {
        Self {
            path: origin.path.clone(),
            state: origin.state.id().to_owned(),
            value: match &origin.value {
                OriginValue::Number(value) => PlainValue::Number(*value),
                OriginValue::Numbers(values) => PlainValue::Numbers(values.clone()),
                OriginValue::Text(text) => PlainValue::Text(text.clone()),
            },
            unit: origin.unit.to_owned(),
            source: origin.source.clone(),
        }
    }
}
