//! Copies of the worked plants that a test may spoil, for the tests of several crates.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test fails by panicking")]

pub mod layouts;
pub mod meters;

use std::fs;
use std::path::{Path, PathBuf};

use tempfile::TempDir;

/// Folder of the worked example that most tests spoil.
#[must_use]
pub fn example() -> PathBuf {
    folder("examples/mulenga-ridge")
}

/// A folder of the repository by its path from the top.
#[must_use]
pub fn folder(path: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..").join(path)
}

/// Every worked example, by name.
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

/// A copy of a plant's folder, gone when it is dropped.
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

    /// Where it lies.
    #[must_use]
    pub fn path(&self) -> &Path {
        self.0.path()
    }

    /// Replaces a text that must be there, the first time that it stands in the file.
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

    /// Makes another text of a file's.
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
