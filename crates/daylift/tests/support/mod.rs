//! Runs the program on copies of the worked example.

#![allow(dead_code, reason = "each test file uses its own part")]

pub(crate) mod weather;

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use serde_json::Value;
use tempfile::TempDir;

pub(crate) fn example() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples/mulenga-ridge")
}

/// Every worked example, by name.
pub(crate) fn examples() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples");
    let mut plants: Vec<PathBuf> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.is_dir())
        .collect();
    plants.sort();
    plants
}

/// A copy of an example that a test may spoil.
pub(crate) struct Plant(TempDir);

impl Plant {
    pub(crate) fn new() -> Self {
        Self::of(&example())
    }

    pub(crate) fn of(example: &Path) -> Self {
        let folder = TempDir::new().unwrap();
        for entry in fs::read_dir(example).unwrap() {
            let path = entry.unwrap().path();
            fs::copy(&path, folder.path().join(path.file_name().unwrap())).unwrap();
        }
        Self(folder)
    }

    pub(crate) fn path(&self) -> &Path {
        self.0.path()
    }

    /// Replaces a text that must be there.
    pub(crate) fn replace(self, file: &str, from: &str, to: &str) -> Self {
        let path = self.path().join(file);
        let text = fs::read_to_string(&path).unwrap();
        assert!(text.contains(from), "{file} has no {from:?}");
        fs::write(&path, text.replacen(from, to, 1)).unwrap();
        self
    }

    pub(crate) fn write(self, file: &str, content: impl AsRef<[u8]>) -> Self {
        fs::write(self.path().join(file), content).unwrap();
        self
    }

    pub(crate) fn edit(self, file: &str, edit: impl FnOnce(String) -> String) -> Self {
        let text = fs::read_to_string(self.path().join(file)).unwrap();
        self.write(file, edit(text))
    }

    pub(crate) fn run(&self, command: &str, more: &[&str]) -> Output {
        daylift(&[&[command, self.path().to_str().unwrap()], more].concat())
    }
}

pub(crate) fn daylift(args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_daylift"))
        .args(args)
        .env("NO_COLOR", "1")
        .output()
        .unwrap()
}

/// What `compare --json` answers.
pub(crate) fn compare_json(plant: &Path, more: &[&str]) -> Value {
    let output = daylift(&[&["compare", plant.to_str().unwrap(), "--json"], more].concat());
    assert_eq!(output.status.code(), Some(0), "{}", stderr(&output));
    serde_json::from_slice(&output.stdout).unwrap()
}

pub(crate) fn stderr(output: &Output) -> String {
    // The terminal's frame breaks long lines; a test looks for words, not for breaks.
    String::from_utf8_lossy(&output.stderr).split_whitespace().collect::<Vec<_>>().join(" ")
}

pub(crate) fn stdout(output: &Output) -> String {
    String::from_utf8_lossy(&output.stdout).into_owned()
}

/// Checks the spoilt plant: exit code 1, no output, and every fragment in the message.
#[expect(clippy::needless_pass_by_value, reason = "the spoilt copy ends with its test")]
pub(crate) fn refused(plant: Plant, fragments: &[&str]) {
    let output = plant.run("check", &[]);
    let said = stderr(&output);
    assert_eq!(output.status.code(), Some(1), "{said}");
    assert!(output.stdout.is_empty());
    for fragment in fragments {
        assert!(said.contains(fragment), "{fragment:?} is not in: {said}");
    }
}

/// Checks a plant without faults, whatever is found of its strings: every fragment is in the summary.
#[expect(clippy::needless_pass_by_value, reason = "the copy ends with its test")]
pub(crate) fn told(plant: Plant, fragments: &[&str]) {
    let output = plant.run("check", &[]);
    assert!(stdout(&output).contains("no faults"), "{}", stderr(&output));
    // Columns are as wide as their widest name; a test looks for words.
    let said = stdout(&output).split_whitespace().collect::<Vec<_>>().join(" ");
    for fragment in fragments {
        assert!(said.contains(fragment), "{fragment:?} is not in: {said}");
    }
}
