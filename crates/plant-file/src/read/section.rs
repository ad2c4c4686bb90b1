//! One table of a TOML file as a place to book faults at: its title, its keys, and their positions in the text.

pub(super) mod names;

use std::cell::RefCell;
use std::ops::Range;
use std::path::Path;
use std::rc::Rc;
use std::sync::Arc;

use daylift_tables::{Place, Source, nearest};
use daylift_units::{Fault, Field};
use toml::de::DeTable;

use super::book::{Book, KeyAt};
use crate::files::resolve;
use crate::outline::{Key, Listed, Table};
use crate::provenance::OriginValue;

/// A table of a TOML file.
#[derive(Debug)]
pub(crate) struct Section {
    book: Rc<Book>,
    source: Arc<Source>,
    folder: Arc<Path>,
    /// Title with the sections above it; in an equipment file it begins with the kind.
    title: String,
    /// Kind of the file, as in the outline.
    kind: &'static str,
    outline: &'static Table,
    /// Position of its values in the list of values.
    order: Vec<usize>,
    span: Range<usize>,
    key_spans: Vec<KeySpan>,
    /// Missing keys that a misspelt key probably means: they are not reported as missing too.
    meant: RefCell<Vec<String>>,
}

/// A key in a table, with the position of its value.
#[derive(Debug)]
struct KeySpan {
    key: String,
    span: Range<usize>,
    /// Positions of the items, if the value is a list.
    items: Vec<Range<usize>>,
}

impl Section {
    /// A whole file, before its span and keys are known.
    pub(super) fn of_file(
        book: &Rc<Book>,
        source: &Arc<Source>,
        folder: Arc<Path>,
        kind: &'static str,
        outline: &'static Table,
    ) -> Self {
        let title = if kind == "plant" { "" } else { kind };
        Self {
            book: Rc::clone(book),
            source: Arc::clone(source),
            folder,
            title: title.to_owned(),
            kind,
            outline,
            order: Vec::new(),
            span: 0..0,
            key_spans: Vec::new(),
            meant: RefCell::default(),
        }
    }

    /// A table of the same file, before its span and keys are known.
    pub(super) fn below(&self, title: String, order: Vec<usize>, outline: &'static Table) -> Self {
        Self {
            title,
            order,
            outline,
            ..Self::of_file(
                &self.book,
                &self.source,
                Arc::clone(&self.folder),
                self.kind,
                self.outline,
            )
        }
    }

    /// The same, for a file named by a key at position `order`.
    pub(super) fn ordered(mut self, order: Vec<usize>) -> Self {
        self.order = order;
        self
    }

    /// The same, with the span and the keys of its table.
    pub(super) fn holding(mut self, table: &DeTable<'_>, span: Range<usize>) -> Self {
        self.span = span;
        self.key_spans = table
            .iter()
            .map(|(key, value)| KeySpan {
                key: key.get_ref().to_string(),
                span: value.span(),
                items: value
                    .get_ref()
                    .as_array()
                    .map(|items| items.iter().map(toml::Spanned::span).collect())
                    .unwrap_or_default(),
            })
            .collect();
        self
    }

    /// The book that collects faults.
    pub(crate) fn book(&self) -> &Book {
        &self.book
    }

    pub(super) fn shared_book(&self) -> &Rc<Book> {
        &self.book
    }

    pub(super) fn source(&self) -> &Arc<Source> {
        &self.source
    }

    pub(super) fn folder(&self) -> &Arc<Path> {
        &self.folder
    }

    pub(super) fn outline(&self) -> &'static Table {
        self.outline
    }

    pub(super) fn title(&self) -> &str {
        &self.title
    }

    fn find(&self, key: &str) -> Option<&KeySpan> {
        self.key_spans.iter().find(|known| known.key == key)
    }

    /// Whether the table has a key.
    pub(crate) fn has(&self, key: &str) -> bool {
        self.find(key).is_some()
    }

    pub(super) fn path(&self, key: &str) -> String {
        match (self.title.as_str(), key) {
            ("", key) => key.to_owned(),
            (title, "") => title.to_owned(),
            (title, key) => format!("{title}.{key}"),
        }
    }

    pub(super) fn is_whole_file(&self) -> bool {
        self.title.is_empty() || self.title == self.kind && self.kind != "plant"
    }

    /// A key of this section, and where it is or would be in the file; it may be dotted.
    pub(crate) fn at(&self, key: &str) -> KeyAt {
        let path = self.path(key);
        // The title of an equipment file begins with its kind.
        let inside = if self.kind == "plant" {
            None
        } else {
            path.strip_prefix(self.kind).and_then(|rest| rest.strip_prefix('.'))
        };
        let order = [self.order.as_slice(), &self.outline.order_of(key)].concat();
        KeyAt {
            keys: inside.unwrap_or(&path).to_owned(),
            file: self.source.name.clone(),
            path,
            order,
        }
    }

    /// Books a fault at the value of its key, or at the table when the key is not there.
    pub(crate) fn fault(&self, fault: Fault) {
        let span = self.find(&fault.key).map_or(self.span.clone(), |known| known.span.clone());
        self.fault_at(fault, span);
    }

    pub(crate) fn faults(&self, faults: Vec<Fault>) {
        for fault in faults {
            self.fault(fault);
        }
    }

    /// The result of a constructor; its faults are booked here.
    pub(crate) fn booked<T>(&self, made: Result<T, Vec<Fault>>) -> Option<T> {
        made.map_err(|faults| self.faults(faults)).ok()
    }

    pub(super) fn fault_at(&self, mut fault: Fault, span: Range<usize>) {
        fault.key = self.path(&fault.key);
        self.book.fault(
            fault,
            Some(Place {
                source: Arc::clone(&self.source),
                span,
            }),
        );
    }

    /// Books a fault at an item of a list, counted from 0.
    pub(crate) fn fault_of_item(&self, key: &str, item: usize, fault: Fault) {
        match self.find(key).and_then(|known| known.items.get(item)) {
            Some(span) => self.fault_at(fault, span.clone()),
            None => self.fault(fault),
        }
    }

    /// Remembers that a misspelt key probably means this missing key.
    pub(super) fn meant(&self, key: String) {
        self.meant.borrow_mut().push(key);
    }

    /// Books a fault for a missing key, unless a misspelt key probably means it.
    pub(crate) fn missing(&self, key: &str, quantity: &str, allowed: &str) {
        if !self.meant.borrow().iter().any(|meant| meant == key) {
            self.fault(self.missing_fault(key, quantity, allowed));
        }
    }

    pub(super) fn missing_fault(&self, key: &str, quantity: &str, allowed: &str) -> Fault {
        let place = if self.is_whole_file() {
            String::new()
        } else {
            format!(" to [{}]", self.title)
        };
        Fault::new(key, quantity, "not given", allowed, format!("add `{key}`{place}"))
    }

    /// A value that another value makes necessary: books a fault when it is missing.
    pub(crate) fn needed<T>(&self, field: &Field, value: Option<T>) -> Option<T> {
        if value.is_none() {
            self.missing(field.key, field.quantity, &allowed(field));
        }
        value
    }

    /// The same for a list.
    pub(crate) fn needed_list<T>(&self, field: &Field, length: Option<usize>, value: Option<T>) -> Option<T> {
        if value.is_none() {
            self.missing(field.key, field.quantity, &allowed_list(field, length));
        }
        value
    }

    /// Books a fault for a missing text that another value makes necessary.
    pub(crate) fn missing_text(&self, key: &Key) {
        self.missing(key.name, key.quantity, key.allowed);
    }

    /// Books a fault for a missing section.
    pub(crate) fn no_section(&self, key: &str) {
        let title = self.path(key);
        let fault = Fault::new(
            "",
            key,
            format!("no [{title}]"),
            format!("a table [{title}]"),
            format!("add [{title}]"),
        );
        self.fault(fault);
    }

    /// Books the default of a key that was not given, and its source; the key may be dotted.
    pub(crate) fn by_default(&self, key: &str, listed: Listed, source: &str) {
        let (value, unit) = listed.value();
        self.book.by_default(self.at(key), value, unit, source);
    }

    /// The same for a list of numbers, in the unit of their field.
    pub(crate) fn by_default_numbers(&self, field: &Field, values: &[f64], source: &str) {
        let value = OriginValue::Numbers(values.to_vec());
        self.book.by_default(self.at(field.key), value, field.unit.symbol, source);
    }

    /// Reads a file that the section names; a fault is booked at the key.
    pub(crate) fn load(&self, key: &str, quantity: &str, written: &str) -> Option<Arc<Source>> {
        resolve(&self.folder, written, key, quantity)
            .and_then(|path| self.book.files().read(&path, key, quantity))
            .map_err(|fault| self.fault(fault))
            .ok()
    }
}

/// What a number may be, in words.
pub(super) fn allowed(field: &Field) -> String {
    format!(
        "a number from {} to {}",
        daylift_units::field::number(field.least),
        field.print(field.greatest)
    )
}

/// What a list of numbers must be, in words.
pub(super) fn wanted_list(length: Option<usize>) -> String {
    length.map_or_else(|| "a list of numbers".to_owned(), |n| format!("a list of {n} numbers"))
}

pub(super) fn allowed_list(field: &Field, length: Option<usize>) -> String {
    format!(
        "{}, each {} to {}",
        wanted_list(length),
        field.least,
        field.print(field.greatest)
    )
}
