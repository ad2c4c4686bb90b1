//! JSON Schema of the plant file and of the equipment files, from the outline and the declared fields.
//!
//! A schema checks single values. Rules between values (two lists of the same length, a credit only when export is paid)
//! are checked by the reader only.

use daylift_units::Field;
use serde_json::{Map, Value, json};

use crate::outline::{FILES, Key, Table, What};

/// The kinds of file that have a schema: `plant` and the kinds of equipment.
#[must_use]
pub fn kinds() -> [&'static str; FILES.len()] {
    FILES.map(|(kind, _)| kind)
}

/// The schema of a kind of file; `None` for a kind that does not exist.
#[must_use]
pub fn schema(kind: &str) -> Option<Value> {
    let (_, table) = FILES.iter().find(|(name, _)| *name == kind)?;
    let mut out = Map::new();
    out.insert("$schema".into(), json!("https://json-schema.org/draft/2020-12/schema"));
    out.insert("title".into(), json!(format!("Daylift {kind} file, format 1")));
    out.extend(object(table));
    Some(Value::Object(out))
}

fn object(table: &Table) -> Map<String, Value> {
    let properties: Map<String, Value> = table
        .keys()
        .iter()
        .map(|key| (key.name.to_owned(), Value::Object(property(key))))
        .collect();
    let required: Vec<&str> = table.keys().iter().filter(|key| key.needed).map(|key| key.name).collect();
    let mut out = Map::new();
    out.insert("type".into(), json!("object"));
    out.insert("properties".into(), Value::Object(properties));
    if !required.is_empty() {
        out.insert("required".into(), json!(required));
    }
    out.insert("additionalProperties".into(), json!(false));
    out
}

fn property(key: &Key) -> Map<String, Value> {
    let mut out = Map::new();
    out.insert("title".into(), json!(key.quantity));
    if let Some(field) = key.field() {
        describe(field, &mut out);
    }
    out.extend(match key.what {
        What::Number(field) => number(field),
        What::Monthly(field) => map(json!({ "anyOf": [number(field), list(&number(field), Some(12))] })),
        What::Hourly(field) => map(json!({ "anyOf": [number(field), list(&number(field), Some(24))] })),
        What::Windows(field) => windows(field),
        What::Numbers(field, length) => list(&number(field), length),
        What::Name | What::Text | What::Path => text(),
        What::Choice(words) => map(json!({ "enum": words() })),
        What::Choices(words) => list(&map(json!({ "enum": words() })), None),
        What::Word(word) => map(json!({ "enum": [word] })),
        What::Keys => map(json!({ "type": "array", "items": text() })),
        What::Day => map(json!({ "type": "string", "format": "date" })),
        What::Flag => map(json!({ "type": "boolean" })),
        What::Section(table) | What::Group(table) => object(table),
        What::Sections(table) => list(&object(table), None),
        What::OneOrMany(table) => map(json!({ "anyOf": [object(table), list(&object(table), None)] })),
    });
    out
}

/// Adds the description of a field. `x-unit` and `x-source` are for forms; validators ignore them.
fn describe(field: &Field, out: &mut Map<String, Value>) {
    out.insert("description".into(), json!(format!("allowed: {}", field.allowed())));
    if !field.unit.symbol.is_empty() {
        out.insert("x-unit".into(), json!(field.unit.symbol));
    }
    if let Some(preset) = field.preset {
        out.insert("default".into(), plain(preset.value));
        out.insert("x-source".into(), json!(preset.source));
    }
}

fn number(field: &Field) -> Map<String, Value> {
    map(json!({
        "type": if field.whole { "integer" } else { "number" },
        "minimum": plain(field.least),
        "maximum": plain(field.greatest),
    }))
}

fn list(items: &Map<String, Value>, length: Option<usize>) -> Map<String, Value> {
    let mut out = map(json!({ "type": "array", "items": items, "minItems": length.unwrap_or(1) }));
    if let Some(most) = length {
        out.insert("maxItems".into(), json!(most));
    }
    out
}

/// Two hours, or one or two windows of two hours.
fn windows(field: &Field) -> Map<String, Value> {
    let window = list(&number(field), Some(2));
    let mut several = list(&window, None);
    several.insert("maxItems".into(), json!(2));
    map(json!({ "anyOf": [window, several] }))
}

fn text() -> Map<String, Value> {
    map(json!({ "type": "string", "minLength": 1 }))
}

/// A whole number without a decimal point: 24, not 24.0.
fn plain(value: f64) -> Value {
    #[expect(clippy::cast_possible_truncation, reason = "whole and within the exact range")]
    if value.fract() == 0.0 && value.abs() < 1e15 {
        json!(value as i64)
    } else {
        json!(value)
    }
}

fn map(value: Value) -> Map<String, Value> {
    match value {
        Value::Object(map) => map,
        _ => Map::new(),
    }
}

#[cfg(test)]
mod tests;
