//! A file's text, and places in it.

use std::ops::Range;
use std::path::Path;
use std::sync::Arc;

use daylift_units::Fault;

/// The text of one file, and its name in messages.
#[derive(Debug, PartialEq, Eq)]
pub struct Source {
    /// Path as written by the user, joined to the plant's folder.
    pub name: String,
    /// The text.
    pub text: String,
}

impl Source {
    /// A text with a name, without the byte order mark that some editors add at its start.
    #[must_use]
    pub fn of_text(name: impl Into<String>, mut text: String) -> Self {
        if text.starts_with('\u{feff}') {
            text.drain(..'\u{feff}'.len_utf8());
        }
        Self {
            name: name.into(),
            text,
        }
    }

    /// Name without folders, e.g. `plant.toml`.
    #[must_use]
    pub fn file_name(&self) -> &str {
        Path::new(&self.name).file_name().and_then(|n| n.to_str()).unwrap_or(&self.name)
    }
}

/// A range of text in a source.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Place {
    /// The file.
    pub source: Arc<Source>,
    /// Byte range.
    pub span: Range<usize>,
}

impl Place {
    /// Line number, from 1.
    #[must_use]
    pub fn line(&self) -> usize {
        let upto = self.span.start.min(self.source.text.len());
        self.source.text.as_bytes()[..upto].iter().filter(|&&b| b == b'\n').count() + 1
    }
}

/// A fault and its place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Located {
    /// The fault.
    pub fault: Fault,
    /// Its place, if it is in a file that could be read.
    pub place: Option<Place>,
}
