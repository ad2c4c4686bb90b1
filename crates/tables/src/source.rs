//! A file's text, and places in it.

use std::ops::Range;
use std::path::Path;
use std::sync::Arc;

use daylift_units::Fault;

/// The text of one file and the name it is known by in messages.
#[derive(Debug, PartialEq, Eq)]
pub struct Source {
    /// Path as the user wrote it, joined to the plant's folder.
    pub name: String,
    /// The text.
    pub text: String,
}

impl Source {
    /// A text known by a name, without the byte order mark that some editors set before it.
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

    /// Name without the folders, `plant.toml`.
    #[must_use]
    pub fn file_name(&self) -> &str {
        Path::new(&self.name).file_name().and_then(|n| n.to_str()).unwrap_or(&self.name)
    }
}

/// A stretch of a source.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Place {
    /// The file.
    pub source: Arc<Source>,
    /// Bytes of it.
    pub span: Range<usize>,
}

impl Place {
    /// Line, counted from 1.
    #[must_use]
    pub fn line(&self) -> usize {
        let upto = self.span.start.min(self.source.text.len());
        self.source.text.as_bytes()[..upto].iter().filter(|&&b| b == b'\n').count() + 1
    }
}

/// A fault and where it stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Located {
    /// What is wrong.
    pub fault: Fault,
    /// Where, when it is in a file that could be read.
    pub place: Option<Place>,
}
