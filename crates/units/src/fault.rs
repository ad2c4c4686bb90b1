//! Faults in inputs and warnings, worded so that the person who typed the input can fix it.

use std::fmt;

/// One wrong value: what it is, the value given, what is allowed, and how to fix it.
///
/// A fault knows its key but not its file; the reader of the file adds the place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault {
    /// Key of the value in its section, e.g. `static_level_m`; empty when the fault is about the whole section.
    pub key: String,
    /// What the value is, in words.
    pub quantity: String,
    /// The value given, with its unit.
    pub given: String,
    /// What is allowed, and why; empty where nothing can be said.
    pub allowed: String,
    /// How to fix it.
    pub remedy: String,
}

impl Fault {
    /// A fault in the value under `key`.
    #[must_use]
    pub fn new(
        key: impl Into<String>,
        quantity: impl Into<String>,
        given: impl Into<String>,
        allowed: impl Into<String>,
        remedy: impl Into<String>,
    ) -> Self {
        Self {
            key: key.into(),
            quantity: quantity.into(),
            given: given.into(),
            allowed: allowed.into(),
            remedy: remedy.into(),
        }
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}; ", self.quantity, self.given)?;
        if !self.allowed.is_empty() {
            write!(f, "allowed: {}; ", self.allowed)?;
        }
        f.write_str(&self.remedy)
    }
}

/// Something that does not stop the calculation but that the reader of the result must know.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Warning {
    /// What the warning is about, in one or two words: `weather`, `well`, `tank` …
    pub subject: String,
    /// The warning, one sentence.
    pub text: String,
}

impl Warning {
    /// A warning about `subject`.
    #[must_use]
    pub fn new(subject: impl Into<String>, text: impl Into<String>) -> Self {
        Self {
            subject: subject.into(),
            text: text.into(),
        }
    }
}

impl fmt::Display for Warning {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}", self.subject, self.text)
    }
}
