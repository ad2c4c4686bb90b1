//! A file's text, and places in it.

use std::fs;
use std::ops::Range;
use std::path::{Component, Path, PathBuf};
use std::sync::Arc;

use daylift_units::Fault;

/// Largest file that is read \[bytes\]: a one-minute year with a few columns takes about 40 MB.
const LARGEST_FILE_BYTES: u64 = 128 * 1024 * 1024;

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

/// Reads a text file.
///
/// # Errors
/// A fault when it is missing, not a file, too large or not UTF-8.
pub(crate) fn read_text(path: &Path, key: &str, quantity: &str) -> Result<Arc<Source>, Fault> {
    let name = path.display().to_string();
    let fault = |given: String, allowed: &str, remedy: &str| Fault::new(key, quantity, given, allowed, remedy);
    let meta = fs::metadata(path).map_err(|e| {
        fault(
            format!("{name}: {}", io_words(&e)),
            "a file that can be read",
            if key.is_empty() {
                "give the folder of a plant, or its plant.toml"
            } else {
                "correct the path; it is relative to the file that names it"
            },
        )
    })?;
    if !meta.is_file() {
        return Err(fault(format!("{name} is not a file"), "a file", "name the file itself"));
    }
    if meta.len() > LARGEST_FILE_BYTES {
        return Err(fault(
            format!("{name} has {} MB", meta.len() / 1_000_000),
            "at most 128 MB",
            "check that it is the right file",
        ));
    }
    let bytes = fs::read(path).map_err(|e| {
        fault(
            format!("{name}: {}", io_words(&e)),
            "a file that can be read",
            "check its permissions",
        )
    })?;
    match String::from_utf8(bytes) {
        Ok(text) => Ok(Arc::new(Source::of_text(name, text))),
        Err(e) => {
            let at = e.utf8_error().valid_up_to();
            let line = e.as_bytes()[..at].iter().filter(|&&b| b == b'\n').count() + 1;
            Err(fault(
                format!("{name} is not UTF-8 text (line {line})"),
                "a text file in UTF-8",
                "save it as UTF-8, or check that it is the right file",
            ))
        }
    }
}

fn io_words(e: &std::io::Error) -> String {
    match e.kind() {
        std::io::ErrorKind::NotFound => "no such file".to_owned(),
        std::io::ErrorKind::PermissionDenied => "no permission to read it".to_owned(),
        _ => e.to_string(),
    }
}

/// A path written in a file, relative to the folder of that file.
///
/// # Errors
/// A fault when it is absolute: a plant folder must work wherever it is moved.
pub(crate) fn resolve(folder: &Path, written: &str, key: &str, quantity: &str) -> Result<PathBuf, Fault> {
    let path = Path::new(written);
    let absolute =
        path.is_absolute() || path.components().any(|c| matches!(c, Component::Prefix(_) | Component::RootDir));
    if written.is_empty() || absolute {
        return Err(Fault::new(
            key,
            quantity,
            format!("\"{written}\""),
            "a path relative to the file that names it",
            "copy the file into the plant's folder and name it without a leading slash",
        ));
    }
    Ok(folder.join(path))
}
