//! One table of a TOML file, read value by value.
//!
//! Every key that is asked for is remembered; what was never asked for is unknown.

mod origin;

use std::cell::RefCell;
use std::ops::Range;
use std::sync::Arc;

use daylift_tables::{Place, Source, nearest};
use daylift_units::{Fault, Field};
use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::book::{Book, KeyAt};
use crate::provenance::without_numbers;

mod choice;

/// A table of a TOML file being read.
pub(crate) struct Section<'a> {
    book: &'a Book,
    source: Arc<Source>,
    title: String,
    /// Kind of the file, as in the outline.
    kind: String,
    table: &'a DeTable<'a>,
    span: Range<usize>,
    asked: RefCell<Vec<String>>,
    /// Faults of keys that are not there, held back until the unknown keys are known: a misspelt key is one fault.
    missing: RefCell<Vec<(String, Fault)>>,
    is_whole_file: bool,
}

impl<'a> Section<'a> {
    pub(crate) fn new(
        book: &'a Book,
        source: &Arc<Source>,
        title: &str,
        table: &'a DeTable<'a>,
        span: Range<usize>,
    ) -> Self {
        Self {
            book,
            source: Arc::clone(source),
            title: title.to_owned(),
            kind: "plant".to_owned(),
            table,
            span,
            asked: RefCell::new(Vec::new()),
            missing: RefCell::new(Vec::new()),
            is_whole_file: false,
        }
    }

    /// The same section known by another name in messages: an equipment file by its kind.
    pub(crate) fn called(mut self, title: &str) -> Self {
        self.title = title.to_owned();
        self.kind = title.to_owned();
        self.is_whole_file = true;
        self
    }

    /// A table of the same file.
    fn inner(&self, title: &str, table: &'a DeTable<'a>, span: Range<usize>) -> Self {
        let mut inner = Section::new(self.book, &self.source, title, table, span);
        inner.kind.clone_from(&self.kind);
        inner
    }

    fn find(&self, key: &str) -> Option<&'a Spanned<DeValue<'a>>> {
        let mut asked = self.asked.borrow_mut();
        if !asked.iter().any(|a| a == key) {
            asked.push(key.to_owned());
            self.book.ask(&self.kind, without_numbers(&self.path(key)));
        }
        self.table.get(key)
    }

    /// Whether the key stands in the table.
    pub(crate) fn has(&self, key: &str) -> bool {
        self.find(key).is_some()
    }

    fn path(&self, key: &str) -> String {
        match (self.title.as_str(), key) {
            ("", key) => key.to_owned(),
            (title, "") => title.to_owned(),
            (title, key) => format!("{title}.{key}"),
        }
    }

    /// A key of this section and where it stands or would stand; it may be dotted.
    pub(crate) fn at(&self, key: &str) -> KeyAt {
        let path = self.path(key);
        // The title of an equipment file begins with its kind.
        let inside = if self.kind == "plant" {
            None
        } else {
            path.strip_prefix(&self.kind).and_then(|rest| rest.strip_prefix('.'))
        };
        KeyAt {
            keys: inside.unwrap_or(&path).to_owned(),
            file: self.source.name.clone(),
            path,
        }
    }

    /// Books a fault at the value of its key, or at the table when the key is not there.
    pub(crate) fn fault(&self, fault: Fault) {
        let span = self.table.get(fault.key.as_str()).map_or(self.span.clone(), Spanned::span);
        self.fault_at(fault, span);
    }

    pub(crate) fn faults(&self, faults: Vec<Fault>) {
        for fault in faults {
            self.fault(fault);
        }
    }

    fn fault_at(&self, mut fault: Fault, span: Range<usize>) {
        fault.key = self.path(&fault.key);
        self.book.fault(
            fault,
            Some(Place {
                source: Arc::clone(&self.source),
                span,
            }),
        );
    }

    fn missing(&self, key: &str, quantity: &str, allowed: &str) {
        let place = if self.title.is_empty() || self.is_whole_file {
            String::new()
        } else {
            format!(" to [{}]", self.title)
        };
        let fault = Fault::new(key, quantity, "nothing", allowed, format!("add `{key}`{place}"));
        self.missing.borrow_mut().push((key.to_owned(), fault));
    }

    fn wrong_type(&self, key: &str, quantity: &str, value: &Spanned<DeValue<'_>>, allowed: String, remedy: &str) {
        let text = self.source.text.get(value.span()).unwrap_or("").chars().take(40).collect::<String>();
        let given = format!("{text} ({})", value.get_ref().type_str());
        self.fault_at(Fault::new(key, quantity, given, allowed, remedy), value.span());
    }

    fn allowed(field: &Field) -> String {
        format!(
            "a number from {} to {}",
            daylift_units::field::number(field.least),
            field.print(field.greatest)
        )
    }

    fn one(&self, field: &Field, value: &Spanned<DeValue<'_>>) -> Option<f64> {
        let Some(number) = as_number(value.get_ref()) else {
            let remedy = match field.unit.symbol {
                "" => "write a plain number".to_owned(),
                symbol => format!("write a plain number; the unit ({symbol}) is in the key"),
            };
            self.wrong_type(field.key, field.quantity, value, Self::allowed(field), &remedy);
            return None;
        };
        field.check(number).map_err(|fault| self.fault_at(fault, value.span())).ok()
    }

    /// A number in SI; its default when it is not given; a fault and `None` when it is wrong, or missing without a
    /// default.
    pub(crate) fn number(&self, field: &Field) -> Option<f64> {
        match self.find(field.key) {
            Some(value) => {
                self.given(field.key, field.unit.symbol, value);
                self.one(field, value)
            }
            None => match (field.preset, field.preset_si()) {
                (Some(_), Some(si)) => {
                    self.book.preset(self.at(field.key), field);
                    Some(si)
                }
                _ => {
                    self.missing(field.key, field.quantity, &Self::allowed(field));
                    None
                }
            },
        }
    }

    /// A number in SI that may be left out.
    pub(crate) fn optional(&self, field: &Field) -> Option<f64> {
        let value = self.find(field.key)?;
        self.given(field.key, field.unit.symbol, value);
        self.one(field, value)
    }

    /// A whole number.
    pub(crate) fn count(&self, field: &Field) -> Option<u32> {
        self.number(field).map(whole)
    }

    /// A whole number that may be left out.
    pub(crate) fn optional_count(&self, field: &Field) -> Option<u32> {
        self.optional(field).map(whole)
    }

    /// A list of numbers in SI with a stated length (`None`: any, at least one).
    pub(crate) fn list(&self, field: &Field, length: Option<usize>) -> Option<Vec<f64>> {
        let wanted = length.map_or_else(|| "a list of numbers".to_owned(), |n| format!("a list of {n} numbers"));
        let Some(value) = self.find(field.key) else {
            self.missing(
                field.key,
                field.quantity,
                &format!("{wanted}, each {} to {}", field.least, field.print(field.greatest)),
            );
            return None;
        };
        self.given(field.key, field.unit.symbol, value);
        let Some(items) = value.get_ref().as_array() else {
            self.wrong_type(
                field.key,
                field.quantity,
                value,
                wanted,
                "write the numbers in square brackets",
            );
            return None;
        };
        if length.is_some_and(|n| n != items.len()) || items.is_empty() {
            let given = format!("{} numbers", items.len());
            let remedy = match length {
                Some(12) => "give one number for each month, January first",
                Some(24) => "give one number for each hour, from 0:00 on",
                _ => "give as many numbers as are wanted",
            };
            let fault = Fault::new(field.key, field.quantity, given, wanted, remedy);
            self.fault_at(fault, value.span());
            return None;
        }
        let numbers: Vec<Option<f64>> = items.iter().map(|item| self.one(field, item)).collect();
        numbers.into_iter().collect()
    }

    /// A list of percentages, which some write as fractions: that is one fault, not one for each.
    pub(crate) fn percentages(&self, field: &Field) -> Option<Vec<f64>> {
        let items = self.find(field.key).and_then(|value| value.get_ref().as_array());
        let raw: Option<Vec<f64>> = items.and_then(|items| items.iter().map(|i| as_number(i.get_ref())).collect());
        let si: Vec<f64> = raw.unwrap_or_default().iter().map(|v| v * field.unit.factor).collect();
        if let Some(fault) = field.given_as_fractions(&si, 0.01) {
            self.fault(fault);
            return None;
        }
        self.list(field, None)
    }

    /// Twelve numbers, or one that holds in every month.
    pub(crate) fn monthly(&self, field: &Field) -> Option<[f64; 12]> {
        match self.find(field.key) {
            Some(value) if value.get_ref().is_array() => self.list(field, Some(12))?.try_into().ok(),
            _ => self.number(field).map(|v| [v; 12]),
        }
    }

    /// The same, that may be left out; the outer `None` when it is there with faults.
    pub(crate) fn optional_monthly(&self, field: &Field) -> Option<Option<[f64; 12]>> {
        if self.has(field.key) {
            self.monthly(field).map(Some)
        } else {
            Some(None)
        }
    }

    /// A text that must be given.
    pub(crate) fn text(&self, key: &str, quantity: &str, allowed: &str) -> Option<String> {
        let Some(value) = self.find(key) else {
            self.missing(key, quantity, allowed);
            return None;
        };
        match value.get_ref().as_str() {
            Some(text) if text.trim().is_empty() => {
                let fault = Fault::new(
                    key,
                    quantity,
                    "an empty text",
                    allowed,
                    "write something between the quotes",
                );
                self.fault_at(fault, value.span());
                None
            }
            Some(text) if text.chars().any(char::is_control) => {
                let given = format!("{} (with control characters)", text.escape_debug());
                self.fault_at(Fault::new(key, quantity, given, allowed, "remove them"), value.span());
                None
            }
            Some(text) => {
                self.given(key, "", value);
                Some(text.to_owned())
            }
            None => {
                self.wrong_type(key, quantity, value, allowed.to_owned(), "write it in quotes");
                None
            }
        }
    }

    /// A list of texts, each one of a few.
    pub(crate) fn choices<T: Copy>(&self, key: &str, quantity: &str, choices: &[(&str, T)]) -> Option<Vec<T>> {
        let allowed = choices.iter().map(|(name, _)| format!("\"{name}\"")).collect::<Vec<_>>().join(", ");
        let Some(value) = self.find(key) else {
            self.missing(key, quantity, &format!("a list of {allowed}"));
            return None;
        };
        let Some(items) = value.get_ref().as_array() else {
            self.wrong_type(
                key,
                quantity,
                value,
                format!("a list of {allowed}"),
                "write the names in square brackets",
            );
            return None;
        };
        if items.is_empty() {
            let fault = Fault::new(
                key,
                quantity,
                "an empty list",
                format!("one or more of {allowed}"),
                "name them, or remove the entry",
            );
            self.fault_at(fault, value.span());
            return None;
        }
        let mut out = Vec::new();
        for item in items.iter() {
            match item.get_ref().as_str().and_then(|s| choices.iter().find(|(name, _)| *name == s)) {
                Some((_, t)) => out.push(*t),
                None => self.wrong_type(key, quantity, item, allowed.clone(), "choose from the list"),
            }
        }
        (out.len() == items.len()).then_some(out)
    }

    /// A table below this one; `None` when it is not there.
    pub(crate) fn table(&self, key: &str, quantity: &str) -> Option<Section<'a>> {
        let value = self.find(key)?;
        match value.get_ref().as_table() {
            Some(table) => Some(self.inner(&self.path(key), table, value.span())),
            None => {
                self.wrong_type(
                    key,
                    quantity,
                    value,
                    format!("a table [{}]", self.path(key)),
                    "write it as a table",
                );
                None
            }
        }
    }

    /// What `read` makes of a table below this one that may be absent: the inner `None` is one that is not there, the outer
    /// one that has faults.
    pub(crate) fn optional_table<T>(
        &self,
        key: &str,
        quantity: &str,
        read: impl FnOnce(&Section<'a>) -> Option<T>,
    ) -> Option<Option<T>> {
        let Some(section) = self.table(key, quantity) else {
            return (!self.has(key)).then_some(None);
        };
        let out = read(&section);
        section.finish();
        out.map(Some)
    }

    /// A table below this one that must be there.
    pub(crate) fn required_table(&self, key: &str, quantity: &str) -> Option<Section<'a>> {
        if !self.has(key) {
            let fault = Fault::new(
                "",
                quantity,
                format!("no [{}]", self.path(key)),
                format!("a table [{}]", self.path(key)),
                format!("add [{}]", self.path(key)),
            );
            self.fault(fault);
            return None;
        }
        self.table(key, quantity)
    }

    /// The tables of a list `[[key]]`; empty when it is not there.
    pub(crate) fn tables(&self, key: &str, quantity: &str) -> Vec<Section<'a>> {
        let Some(value) = self.find(key) else { return Vec::new() };
        let path = self.path(key);
        let allowed = format!("one or more tables [[{path}]]");
        let Some(items) = value.get_ref().as_array() else {
            self.wrong_type(key, quantity, value, allowed, &format!("write it as [[{path}]]"));
            return Vec::new();
        };
        let mut out = Vec::new();
        for (i, item) in items.iter().enumerate() {
            match item.get_ref().as_table() {
                Some(table) => out.push(self.inner(&format!("{path}[{}]", i + 1), table, item.span())),
                None => self.wrong_type(key, quantity, item, allowed.clone(), &format!("write it as [[{path}]]")),
            }
        }
        out
    }

    /// The tables under a key that may be one table or a list of them, and whether it is a list.
    pub(crate) fn one_or_many(&self, key: &str, quantity: &str) -> (Vec<Section<'a>>, bool) {
        let many = self.find(key).is_some_and(|value| value.get_ref().is_array());
        if many {
            (self.tables(key, quantity), true)
        } else {
            (self.table(key, quantity).into_iter().collect(), false)
        }
    }

    /// The collector of faults.
    pub(crate) fn book(&self) -> &'a Book {
        self.book
    }

    /// Says that a key is known without reading it.
    pub(crate) fn know(&self, key: &str) {
        self.find(key);
    }

    /// Books a fault for every key that nobody asked for, with the nearest known one, and for every key that was wanted
    /// and is not there, unless a misspelt one stands in its place.
    pub(crate) fn finish(self) {
        let asked = self.asked.borrow();
        let mut missing = self.missing.take();
        for (key, _) in self.table.iter() {
            let name: &str = key.get_ref();
            if asked.iter().any(|a| a == name) {
                continue;
            }
            let near = nearest(name, missing.iter().map(|(key, _)| key.as_str())).or_else(|| {
                nearest(
                    name,
                    asked.iter().map(String::as_str).filter(|a| self.table.get(*a).is_none()),
                )
            });
            let near = near.map(str::to_owned);
            let known = asked.iter().map(|a| format!("`{a}`")).collect::<Vec<_>>().join(", ");
            let remedy = near.as_ref().map_or_else(|| "remove it".to_owned(), |n| format!("did you mean `{n}`?"));
            let place = if self.title.is_empty() || self.is_whole_file {
                "this file".to_owned()
            } else {
                format!("[{}]", self.title)
            };
            let fault = Fault::new(
                "",
                "unknown key",
                format!("`{name}`"),
                format!("in {place}: {known}"),
                remedy,
            );
            self.fault_at(fault, key.span());
            missing.retain(|(key, _)| near.as_ref() != Some(key));
        }
        for (_, fault) in missing {
            self.fault(fault);
        }
    }
}

fn as_number(value: &DeValue<'_>) -> Option<f64> {
    match value {
        DeValue::Integer(i) => i64::from_str_radix(&i.as_str().replace('_', ""), i.radix()).ok().map(whole_as_f64),
        DeValue::Float(f) => f.as_str().replace('_', "").parse().ok(),
        _ => None,
    }
}

#[expect(
    clippy::cast_precision_loss,
    reason = "integers beyond 2^53 are outside every field's range"
)]
fn whole_as_f64(i: i64) -> f64 {
    i as f64
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "checked whole and within the field's range"
)]
fn whole(value: f64) -> u32 {
    value as u32
}
