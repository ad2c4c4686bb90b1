//! Where the values of a section came from, and lists of texts with a place for each.

use std::sync::Arc;

use daylift_tables::Place;
use daylift_units::Fault;
use toml::Spanned;
use toml::de::DeValue;

use super::{Section, as_number};
use crate::provenance::OriginValue;

/// Keys that name a thing or its kind and say nothing of it.
const NOT_VALUES: [&str; 4] = ["format", "kind", "name", "item"];

impl Section<'_> {
    /// Books where a value stands.
    pub(super) fn given(&self, key: &str, unit: &'static str, value: &Spanned<DeValue<'_>>) {
        if NOT_VALUES.contains(&key) {
            return;
        }
        if let Some(given) = as_value(value.get_ref()) {
            self.book.given(self.at(key), given, unit, &self.place(value));
        }
    }

    /// Where a value stands.
    pub(super) fn place(&self, value: &Spanned<DeValue<'_>>) -> Place {
        Place {
            source: Arc::clone(&self.source),
            span: value.span(),
        }
    }

    /// Books that a field of this section was not given and its preset holds.
    pub(crate) fn by_default(&self, key: &str, value: OriginValue, unit: &'static str, source: &str) {
        self.book.by_default(self.at(key), value, unit, source);
    }

    /// A list of texts; `None` when it is not there.
    pub(crate) fn texts(&self, key: &str, quantity: &str, allowed: &str) -> Option<Vec<String>> {
        let value = self.find(key)?;
        let items = value.get_ref().as_array();
        let texts: Option<Vec<String>> =
            items.and_then(|items| items.iter().map(|item| item.get_ref().as_str().map(str::to_owned)).collect());
        if texts.is_none() {
            self.wrong_type(
                key,
                quantity,
                value,
                format!("a list of {allowed}"),
                "write them in quotes, in square brackets",
            );
        }
        texts
    }

    /// Books a fault at an item of a list, counted from 0.
    pub(crate) fn fault_of_item(&self, key: &str, item: usize, fault: Fault) {
        let list = self.table.get(key).and_then(|value| value.get_ref().as_array());
        match list.and_then(|items| items.get(item)) {
            Some(item) => self.fault_at(fault, item.span()),
            None => self.fault(fault),
        }
    }
}

/// A number, a list of numbers or a text as it was given; `None` for anything else, which is a fault wherever it stands.
fn as_value(value: &DeValue<'_>) -> Option<OriginValue> {
    if let Some(text) = value.as_str() {
        return Some(OriginValue::Text(text.to_owned()));
    }
    match value.as_array() {
        Some(items) => {
            let numbers: Option<Vec<f64>> = items.iter().map(|item| as_number(item.get_ref())).collect();
            numbers.map(OriginValue::Numbers)
        }
        None => as_number(value).map(OriginValue::Number),
    }
}
