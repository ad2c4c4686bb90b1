//! Where a plant's files are read from: the disk, with drafts in place of some of them.

use std::collections::BTreeMap;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use daylift_units::Fault;

use crate::source::{Source, read_text};

/// Files as they are read: from the disk, unless a draft stands in a file's place.
#[derive(Debug, Clone, Default)]
pub struct Files {
    within: Option<PathBuf>,
    drafts: BTreeMap<PathBuf, Arc<Source>>,
}

impl Files {
    /// Files below a folder only: a path that leads out of it, by `..` or by a link, is a fault.
    ///
    /// # Errors
    /// When the folder cannot be found.
    pub fn within(folder: &Path) -> io::Result<Self> {
        Ok(Self {
            within: Some(fs::canonicalize(folder)?),
            drafts: BTreeMap::new(),
        })
    }

    /// The same with a text in place of a file; `path` as it is read, see [`Origin::file`](crate::Origin::file).
    #[must_use]
    pub fn with_draft(mut self, path: &Path, text: String) -> Self {
        let source = Source::of_text(path.display().to_string(), text);
        self.drafts.insert(path.to_owned(), Arc::new(source));
        self
    }

    /// Reads a text file.
    ///
    /// # Errors
    /// A fault when it is missing, not a file, outside the folder, too large or not UTF-8.
    pub(crate) fn read(&self, path: &Path, key: &str, quantity: &str) -> Result<Arc<Source>, Fault> {
        if let Some(within) = &self.within
            && let Ok(real) = fs::canonicalize(path)
            && !real.starts_with(within)
        {
            return Err(Fault::new(
                key,
                quantity,
                format!("{}, which lies elsewhere", path.display()),
                format!("a file below {}", within.display()),
                "copy the file into the plant's folder and name the copy",
            ));
        }
        match self.drafts.get(path) {
            Some(draft) => Ok(Arc::clone(draft)),
            None => read_text(path, key, quantity),
        }
    }
}
