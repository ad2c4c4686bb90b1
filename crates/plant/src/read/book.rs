//! What reading a plant gathers on the way: faults, warnings, and where each value came from.

use std::cell::RefCell;

use daylift_units::{Fault, Warning};

use crate::source::{Located, Place};

/// Where a value came from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Given {
    /// It stands in the plant file or an equipment file.
    InFile,
    /// A default: its value with unit, and its source.
    Default(String, &'static str),
}

/// A value and where it came from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Origin {
    /// Key with its section, `array.albedo`.
    pub path: String,
    /// Where the value came from.
    pub given: Given,
}

/// Gathers while sections are read.
#[derive(Debug, Default)]
pub(crate) struct Book {
    faults: RefCell<Vec<Located>>,
    warnings: RefCell<Vec<Warning>>,
    origins: RefCell<Vec<Origin>>,
}

/// What a [`Book`] holds at the end.
pub(crate) struct Gathered {
    pub(crate) faults: Vec<Located>,
    pub(crate) warnings: Vec<Warning>,
    pub(crate) origins: Vec<Origin>,
}

impl Book {
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

    pub(crate) fn origin(&self, path: &str, given: Given) {
        let mut origins = self.origins.borrow_mut();
        if !origins.iter().any(|o| o.path == path) {
            origins.push(Origin {
                path: path.to_owned(),
                given,
            });
        }
    }

    pub(crate) fn close(self) -> Gathered {
        Gathered {
            faults: self.faults.into_inner(),
            warnings: self.warnings.into_inner(),
            origins: self.origins.into_inner(),
        }
    }
}
