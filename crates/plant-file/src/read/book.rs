//! What reading a plant gathers on the way: faults, warnings, and where each value came from.

use std::cell::RefCell;
use std::collections::BTreeSet;
use std::sync::Arc;

use daylift_tables::known::{Kept, Known};
use daylift_tables::{Located, Place, Source};
use daylift_units::{Fault, Field, Warning};

use crate::files::Files;
use crate::provenance::{Origin, OriginValue, State, mark};

/// A key, and where it stands or would stand.
#[derive(Debug, Clone)]
pub(crate) struct KeyAt {
    /// With its section; equipment by its kind.
    pub(crate) path: String,
    /// The file.
    pub(crate) file: String,
    /// With its section within the file.
    pub(crate) keys: String,
}

/// Gathers while sections are read.
#[derive(Debug, Default)]
pub(crate) struct Book {
    files: Files,
    known: Option<Arc<Known>>,
    faults: RefCell<Vec<Located>>,
    warnings: RefCell<Vec<Warning>>,
    origins: RefCell<Vec<Origin>>,
    assumed: RefCell<Vec<String>>,
    documents: RefCell<Vec<Arc<Source>>>,
    /// Kind of file and path of every key that was asked for.
    asked: RefCell<BTreeSet<(String, String)>>,
}

/// What a [`Book`] holds at the end.
pub(crate) struct Gathered {
    pub(crate) faults: Vec<Located>,
    pub(crate) warnings: Vec<Warning>,
    pub(crate) origins: Vec<Origin>,
    pub(crate) documents: Vec<Arc<Source>>,
}

impl Book {
    /// An empty book of a plant that is read from these files, with what earlier readings found; what this one finds is
    /// added to it.
    pub(crate) fn of(files: Files, known: Option<Arc<Known>>) -> Self {
        Self {
            files,
            known,
            ..Self::default()
        }
    }

    /// What an earlier reading found under a key, with the warnings that it had; else it is found now, and known from then
    /// on when no fault was booked on the way.
    pub(crate) fn recall<T: Clone>(
        &self,
        kept: impl Fn(&Known) -> &Kept<T>,
        key: u64,
        find: impl FnOnce() -> Option<T>,
    ) -> Option<T> {
        let Some(kept) = self.known.as_deref().map(kept) else {
            return find();
        };
        if let Some((value, warnings)) = kept.look_up(key) {
            self.warnings(warnings);
            return Some(value);
        }
        let (faults, warnings) = (self.faults.borrow().len(), self.warnings.borrow().len());
        let value = find()?;
        if self.faults.borrow().len() == faults {
            let noticed = self.warnings.borrow().iter().skip(warnings).cloned().collect();
            kept.keep(key, (value.clone(), noticed));
        }
        Some(value)
    }

    /// Where files are read from.
    pub(crate) fn files(&self) -> &Files {
        &self.files
    }

    pub(crate) fn fault(&self, fault: Fault, place: Option<Place>) {
        let located = Located { fault, place };
        let mut faults = self.faults.borrow_mut();
        if !faults.contains(&located) {
            faults.push(located);
        }
    }

    pub(crate) fn warn(&self, subject: &str, text: impl Into<String>) {
        self.warnings.borrow_mut().push(Warning::new(subject, text));
    }

    pub(crate) fn warnings(&self, warnings: Vec<Warning>) {
        self.warnings.borrow_mut().extend(warnings);
    }

    fn origin(&self, origin: Origin) {
        let mut origins = self.origins.borrow_mut();
        if !origins.iter().any(|o| o.path == origin.path && o.file == origin.file) {
            origins.push(origin);
        }
    }

    /// Books a value that stands at a place.
    pub(crate) fn given(&self, at: KeyAt, value: OriginValue, unit: &'static str, place: &Place) {
        let source = format!("{}, line {}", place.source.file_name(), place.line());
        self.origin(Origin {
            path: at.path,
            file: at.file,
            keys: at.keys,
            state: State::Given,
            value,
            unit,
            source,
        });
    }

    /// Books a value that was not given, and why it holds.
    pub(crate) fn by_default(&self, at: KeyAt, value: OriginValue, unit: &'static str, source: &str) {
        self.origin(Origin {
            path: at.path,
            file: at.file,
            keys: at.keys,
            state: State::Default,
            value,
            unit,
            source: source.to_owned(),
        });
    }

    /// The same for a field with a preset.
    pub(crate) fn preset(&self, at: KeyAt, field: &Field) {
        if let Some(preset) = field.preset {
            self.by_default(at, OriginValue::Number(preset.value), field.unit.symbol, preset.source);
        }
    }

    /// Whether the path of any value so far answers a question.
    pub(crate) fn any_origin(&self, is: impl Fn(&str) -> bool) -> bool {
        self.origins.borrow().iter().any(|o| is(&o.path))
    }

    /// The same for the values that stand in a file.
    pub(crate) fn any_given(&self, is: impl Fn(&str) -> bool) -> bool {
        self.origins.borrow().iter().any(|o| o.state == State::Given && is(&o.path))
    }

    /// Keys, sections or `*` whose values are not confirmed.
    pub(crate) fn assume(&self, entries: Vec<String>) {
        self.assumed.borrow_mut().extend(entries);
    }

    /// Remembers a TOML file that is read.
    pub(crate) fn document(&self, source: &Arc<Source>) {
        let mut documents = self.documents.borrow_mut();
        if !documents.iter().any(|known| known.name == source.name) {
            documents.push(Arc::clone(source));
        }
    }

    /// Remembers that a key was asked for.
    pub(crate) fn ask(&self, kind: &str, path: String) {
        self.asked.borrow_mut().insert((kind.to_owned(), path));
    }

    #[cfg(test)]
    pub(crate) fn asked(&self) -> BTreeSet<(String, String)> {
        self.asked.borrow().clone()
    }

    pub(crate) fn close(self) -> Gathered {
        Gathered {
            faults: self.faults.into_inner(),
            warnings: self.warnings.into_inner(),
            origins: mark(self.origins.into_inner(), &self.assumed.into_inner()),
            documents: self.documents.into_inner(),
        }
    }
}
