//! Where a plant's files are read from: the disk, with drafts in place of some of them.

use std::collections::BTreeMap;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use daylift_units::Fault;

use crate::known::Known;
use crate::source::{Source, read_text};

/// Files as they are read: from the disk, unless a draft stands in a file's place.
#[derive(Debug, Clone, Default)]
pub struct Files {
    within: Option<PathBuf>,
    /// By the file itself: however a path leads to it, the draft is found.
    drafts: BTreeMap<PathBuf, String>,
    known: Option<Arc<Known>>,
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
            known: None,
        })
    }

    /// The same with what earlier readings found; what this one finds is added to it.
    #[must_use]
    pub fn knowing(mut self, known: Arc<Known>) -> Self {
        self.known = Some(known);
        self
    }

    /// What earlier readings found.
    pub(crate) fn known(&self) -> Option<&Known> {
        self.known.as_deref()
    }

    /// The same with a text in place of a file.
    ///
    /// # Errors
    /// When there is no such file.
    pub fn with_draft(mut self, path: &Path, text: String) -> io::Result<Self> {
        self.drafts.insert(fs::canonicalize(path)?, text);
        Ok(self)
    }

    /// Reads a text file; a fault has `key` and `quantity` as what names the file.
    ///
    /// # Errors
    /// A fault when it is missing, not a file, outside the folder, too large or not UTF-8.
    pub fn read(&self, path: &Path, key: &str, quantity: &str) -> Result<Arc<Source>, Fault> {
        // What cannot be followed to its end cannot be read either; reading it says why.
        let real = fs::canonicalize(path).ok();
        if let (Some(within), Some(real)) = (&self.within, &real)
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
        match real.and_then(|real| self.drafts.get(&real)) {
            Some(draft) => Ok(Arc::new(Source::of_text(path.display().to_string(), draft.clone()))),
            None => read_text(path, key, quantity),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[cfg(unix)]
    #[test]
    fn a_draft_is_found_by_any_path_and_nothing_outside_is_read() {
        let folder = tempfile::tempdir().unwrap();
        let (inside, outside) = (folder.path().join("in"), folder.path().join("out.toml"));
        fs::create_dir(&inside).unwrap();
        fs::write(&outside, "secret").unwrap();
        fs::write(inside.join("a.toml"), "old").unwrap();
        std::os::unix::fs::symlink("a.toml", inside.join("b.toml")).unwrap();
        std::os::unix::fs::symlink("../out.toml", inside.join("c.toml")).unwrap();
        let files = Files::within(&inside).unwrap();
        let files = files.with_draft(&inside.join("b.toml"), "new".to_owned()).unwrap();
        for name in ["a.toml", "b.toml", "../in/a.toml"] {
            let source = files.read(&inside.join(name), "file", "pump file").unwrap();
            assert_eq!(source.text, "new", "{name}");
            assert!(source.name.ends_with(name));
        }
        for name in ["../out.toml", "c.toml", "../in/../out.toml"] {
            let fault = files.read(&inside.join(name), "file", "pump file").unwrap_err();
            assert!(fault.given.ends_with("which lies elsewhere"), "{name}: {fault}");
        }
        assert!(files.with_draft(&inside.join("d.toml"), String::new()).is_err());
    }
}
