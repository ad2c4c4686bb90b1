//! Collects faults, warnings and the origin of each value while a plant is read.

use std::cell::RefCell;
use std::sync::Arc;

use daylift_tables::{Located, Place, Source, known::Kept, known::Known};
use daylift_units::{Fault, Field, Warning};

use crate::files::Files;
use crate::provenance::{Entry, Origin, OriginValue, ValueOrigin, mark};

/// A key, and where it is or would be in a file.
#[derive(Debug, Clone)]
pub(crate) struct KeyAt {
    /// Key with its section; that of equipment begins with its kind.
    pub(crate) path: String,
    /// The file.
    pub(crate) file: String,
    /// Key with its section, as within the file.
    pub(crate) keys: String,
    /// Its position in the list of values.
    pub(crate) order: Vec<usize>,
}

/// Collects while sections are read.
#[derive(Debug, Default)]
pub(crate) struct Book {
    files: Files,
    known: Option<Arc<Known>>,
    faults: RefCell<Vec<Located>>,
    warnings: RefCell<Vec<Warning>>,
    /// Each with its position in the list of values.
    origins: RefCell<Vec<(Vec<usize>, ValueOrigin)>>,
    marks: RefCell<Vec<Entry>>,
    documents: RefCell<Vec<Arc<Source>>>,
}

/// What a [`Book`] holds at the end.
pub(crate) struct Gathered {
    pub(crate) faults: Vec<Located>,
    pub(crate) warnings: Vec<Warning>,
    pub(crate) origins: Vec<ValueOrigin>,
    pub(crate) documents: Vec<Arc<Source>>,
}

impl Book {
    /// An empty book for a plant read from `files`. `known` remembers results of earlier readings and takes those of this one.
    pub(crate) fn of(files: Files, known: Option<Arc<Known>>) -> Self {
        Self {
            files,
            known,
            ..Self::default()
        }
    }

    /// Returns what an earlier reading found under `key`, and books its warnings again. Otherwise finds it now, and remembers
    /// it unless a fault was booked meanwhile.
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

    /// Books warnings about a file that several parts of the plant may use: each only once.
    pub(crate) fn warn_once(&self, warnings: impl IntoIterator<Item = Warning>) {
        let mut booked = self.warnings.borrow_mut();
        for warning in warnings {
            if !booked.contains(&warning) {
                booked.push(warning);
            }
        }
    }

    fn origin(&self, order: Vec<usize>, origin: ValueOrigin) {
        let mut origins = self.origins.borrow_mut();
        if !origins.iter().any(|(_, o)| o.path == origin.path && o.file == origin.file) {
            origins.push((order, origin));
        }
    }

    /// Books a value given at a place.
    pub(crate) fn given(&self, at: KeyAt, value: OriginValue, unit: &'static str, place: &Place) {
        let source = format!("{}, line {}", place.source.file_name(), place.line());
        self.origin(
            at.order,
            ValueOrigin {
                path: at.path,
                file: at.file,
                keys: at.keys,
                origin: Origin::Given,
                mark: None,
                value,
                unit,
                source,
            },
        );
    }

    /// Books a value that was not given, with the source of its default.
    pub(crate) fn by_default(&self, at: KeyAt, value: OriginValue, unit: &'static str, source: &str) {
        self.origin(
            at.order,
            ValueOrigin {
                path: at.path,
                file: at.file,
                keys: at.keys,
                origin: Origin::Default,
                mark: None,
                value,
                unit,
                source: source.to_owned(),
            },
        );
    }

    /// As [`by_default`](Self::by_default), for a field with a preset.
    pub(crate) fn preset(&self, at: KeyAt, field: &Field) {
        if let Some(preset) = field.preset {
            self.by_default(at, OriginValue::Number(preset.value), field.unit.symbol, preset.source);
        }
    }

    /// Whether `is` holds for the path of any value so far.
    pub(crate) fn any_origin(&self, is: impl Fn(&str) -> bool) -> bool {
        self.origins.borrow().iter().any(|(_, o)| is(&o.path))
    }

    /// Whether `is` holds for the path of any value given in a file so far.
    pub(crate) fn any_given(&self, is: impl Fn(&str) -> bool) -> bool {
        self.origins.borrow().iter().any(|(_, o)| o.origin == Origin::Given && is(&o.path))
    }

    /// Marks the values that an entry covers.
    pub(crate) fn mark(&self, entry: Entry) {
        self.marks.borrow_mut().push(entry);
    }

    /// Remembers a TOML file that is read.
    pub(crate) fn document(&self, source: &Arc<Source>) {
        let mut documents = self.documents.borrow_mut();
        if !documents.iter().any(|known| known.name == source.name) {
            documents.push(Arc::clone(source));
        }
    }

    /// Returns all that was collected, with the marks applied and the values in the order of the outline.
    pub(crate) fn close(&self) -> Gathered {
        let mut origins = self.origins.take();
        origins.sort_by(|(a, _), (b, _)| a.cmp(b));
        let origins = origins.into_iter().map(|(_, origin)| origin).collect();
        Gathered {
            faults: self.faults.take(),
            warnings: self.warnings.take(),
            origins: mark(origins, &self.marks.take()),
            documents: self.documents.take(),
        }
    }
}
