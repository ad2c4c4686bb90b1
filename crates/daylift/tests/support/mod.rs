//! Runs the program on copies of the worked example.

#![allow(dead_code, reason = "each test file uses its own part")]

use std::path::Path;
use std::process::{Command, Output};

use daylift_testing::Plant;
use serde_json::Value;

/// Runs a command on a copy.
pub(crate) trait Run {
    fn run(&self, command: &str, more: &[&str]) -> Output;
}

impl Run for Plant {
    fn run(&self, command: &str, more: &[&str]) -> Output {
        daylift(&[&[command, self.path().to_str().unwrap()], more].concat())
    }
}

pub(crate) fn daylift(args: &[&str]) -> Output {
    daylift_in(Path::new("."), args)
}

/// The same in a folder.
pub(crate) fn daylift_in(folder: &Path, args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_daylift"))
        .args(args)
        .current_dir(folder)
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
pub(crate) fn summary_has(plant: Plant, fragments: &[&str]) {
    let output = plant.run("check", &[]);
    assert!(stdout(&output).contains("no faults"), "{}", stderr(&output));
    // Columns are as wide as their widest name; a test looks for words.
    let said = stdout(&output).split_whitespace().collect::<Vec<_>>().join(" ");
    for fragment in fragments {
        assert!(said.contains(fragment), "{fragment:?} is not in: {said}");
    }
}
