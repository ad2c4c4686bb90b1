//! Copies of the worked plants that a test may change, for the tests of several crates.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test fails by panicking")]

pub mod layouts;
pub mod meters;

use std::fs;
use std::path::{Path, PathBuf};

use tempfile::TempDir;

/// Folder of the worked example that most tests change.
#[must_use]
pub fn example() -> PathBuf {
    folder("examples/mulenga-ridge")
}

/// A folder of the repository, by its path from the root.
#[must_use]
pub fn folder(path: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..").join(path)
}

/// Folders of all worked examples, sorted by name.
#[must_use]
pub fn examples() -> Vec<PathBuf> {
    let mut plants: Vec<PathBuf> = fs::read_dir(folder("examples"))
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.is_dir())
        .collect();
    plants.sort();
    plants
}

/// A copy of a plant's folder, deleted when it is dropped.
#[derive(Debug)]
pub struct Plant(TempDir);

impl Plant {
    /// A copy of the worked example.
    #[must_use]
    pub fn new() -> Self {
        Self::of(&example())
    }

    /// A copy of a folder's files.
    #[must_use]
    pub fn of(plant: &Path) -> Self {
        let folder = TempDir::new().unwrap();
        for entry in fs::read_dir(plant).unwrap() {
            let path = entry.unwrap().path();
            fs::copy(&path, folder.path().join(path.file_name().unwrap())).unwrap();
        }
        Self(folder)
    }

    /// Path of the copy.
    #[must_use]
    pub fn path(&self) -> &Path {
        self.0.path()
    }

    /// Replaces the first occurrence of a text, which must be in the file.
    #[must_use]
    pub fn replace(self, file: &str, from: &str, to: &str) -> Self {
        let text = fs::read_to_string(self.path().join(file)).unwrap();
        assert!(text.contains(from), "{file} has no {from:?}");
        self.write(file, text.replacen(from, to, 1))
    }

    /// Writes a file.
    #[must_use]
    pub fn write(self, file: &str, content: impl AsRef<[u8]>) -> Self {
        fs::write(self.path().join(file), content).unwrap();
        self
    }

    /// Replaces a file's text by what a function makes of it.
    #[must_use]
    pub fn edit(self, file: &str, edit: impl FnOnce(String) -> String) -> Self {
        let text = fs::read_to_string(self.path().join(file)).unwrap();
        self.write(file, edit(text))
    }
}

impl Default for Plant {
    fn default() -> Self {
        Self::new()
    }
}
