//! Where each value of the plant came from, for JSON answers.

use daylift_plant_file::{OriginValue, ValueOrigin};
use schemars::JsonSchema;
use serde::Serialize;

/// A value of the plant and where it came from.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct OriginRow {
    /// Key with its section; for equipment, the kind of equipment is the section.
    pub path: String,
    /// `default`, `generic`, `assumed`, `given` (in a file, unmarked), `datasheet`, `found` or `confirmed`.
    pub state: String,
    /// The value, in the unit of its file.
    pub value: PlainValue,
    /// Its unit; empty for a pure number and for a text.
    pub unit: String,
    /// File and line, or the source of a default.
    pub source: String,
    /// Day on which it was measured, copied or calculated, if the file gives it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub date: Option<String>,
    /// A note on how the value was obtained, if the file gives it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
}

/// A value as written in a file.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(untagged)]
pub enum PlainValue {
    /// A number.
    Number(f64),
    /// A list of numbers.
    Numbers(Vec<f64>),
    /// Several lists of numbers, such as two windows of hours.
    Lists(Vec<Vec<f64>>),
    /// A word, or the path of a file.
    Text(String),
}

impl From<&ValueOrigin> for OriginRow {
    fn from(origin: &ValueOrigin) -> Self {
        let mark = origin.mark.clone().unwrap_or_default();
        Self {
            path: origin.path.clone(),
            state: origin.origin.id().to_owned(),
            value: match &origin.value {
                OriginValue::Number(value) => PlainValue::Number(*value),
                OriginValue::Numbers(values) => PlainValue::Numbers(values.clone()),
                OriginValue::Lists(lists) => PlainValue::Lists(lists.clone()),
                OriginValue::Flag(flag) => PlainValue::Text(flag.to_string()),
                OriginValue::Text(text) => PlainValue::Text(text.clone()),
                OriginValue::Rule(words) => PlainValue::Text((*words).to_owned()),
            },
            unit: origin.unit.to_owned(),
            source: origin.source.clone(),
            date: mark.date.map(|date| date.to_string()),
            note: mark.note,
        }
    }
}
