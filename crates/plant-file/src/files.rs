//! Where a plant's files are read from: the disk, or drafts in memory that replace some files.

use std::collections::BTreeMap;
use std::fs;
use std::io;
use std::path::{Component, Path, PathBuf};
use std::sync::Arc;

use daylift_tables::Source;
use daylift_units::Fault;

/// Largest file that is read \[bytes\]. A year of one-minute rows with a few columns takes about 40 MB.
const LARGEST_FILE_BYTES: u64 = 128 * 1024 * 1024;

/// Reads files from the disk, or from drafts in memory that replace some of them.
#[derive(Debug, Clone, Default)]
pub struct Files {
    within: Option<PathBuf>,
    /// By canonical path: the draft is found by whatever path the file is named.
    drafts: BTreeMap<PathBuf, String>,
}

impl Files {
    /// Only files below a folder: a path out of it, by `..` or by a link, is a fault.
    ///
    /// # Errors
    /// When the folder cannot be found.
    pub fn within(folder: &Path) -> io::Result<Self> {
        Ok(Self {
            within: Some(fs::canonicalize(folder)?),
            drafts: BTreeMap::new(),
        })
    }

    /// Adds a draft: this text is read instead of the file.
    ///
    /// # Errors
    /// When the file does not exist.
    pub fn with_draft(mut self, path: &Path, text: String) -> io::Result<Self> {
        self.drafts.insert(fs::canonicalize(path)?, text);
        Ok(self)
    }

    /// Reads a text file. `key` and `quantity` go into a fault: the key that names the file, and what the file is.
    ///
    /// # Errors
    /// A fault when it is missing, not a file, outside the folder, too large (above 128 MiB) or not UTF-8.
    pub fn read(&self, path: &Path, key: &str, quantity: &str) -> Result<Arc<Source>, Fault> {
        // A path that cannot be resolved cannot be read either: `read_text` says why.
        let real = fs::canonicalize(path).ok();
        if let (Some(within), Some(real)) = (&self.within, &real)
            && !real.starts_with(within)
        {
            return Err(Fault::new(
                key,
                quantity,
                format!("{}, which is outside", path.display()),
                format!("a file in {} or a folder below it", within.display()),
                "copy the file into the plant's folder and use the path of the copy",
            ));
        }
        match real.and_then(|real| self.drafts.get(&real)) {
            Some(draft) => Ok(Arc::new(Source::of_text(path.display().to_string(), draft.clone()))),
            None => read_text(path, key, quantity),
        }
    }
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
        return Err(fault(
            format!("{name} is not a file"),
            "a file",
            "give the path of the file itself",
        ));
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

/// Resolves a path as a file writes it, relative to the folder of that file.
///
/// # Errors
/// A fault when it is empty or absolute: a plant folder must work wherever it is moved.
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
            "copy the file into the plant's folder and write its path without a leading slash",
        ));
    }
    Ok(folder.join(path))
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
            assert!(fault.given.ends_with("which is outside"), "{name}: {fault}");
        }
        assert!(files.with_draft(&inside.join("d.toml"), String::new()).is_err());
    }
}
