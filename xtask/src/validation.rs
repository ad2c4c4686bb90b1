//! The checks against independent sources, and their reference results.

use crate::chore::{cargo, root, sh};
use crate::python::python;

/// Prints the summary of the validation suite.
pub(crate) fn run() -> Result<(), String> {
    sh(&cargo(), ["test", "--package", "daylift-validation", "--locked"])
}

/// Number of plants of the long run; an ordinary test run has a dozen.
const RANDOM_PLANTS: &str = "DAYLIFT_REFERENCE_PLANTS=200";

/// Compares the engine with the slow reference simulator on many random plants.
pub(crate) fn random() -> Result<(), String> {
    let cargo = cargo();
    let test = [
        "test",
        "--release",
        "--locked",
        "--package",
        "daylift-validation",
        "--test",
        "reference",
    ];
    let words = [RANDOM_PLANTS, &cargo].into_iter().chain(test).chain(["--", "--nocapture"]);
    sh("env", words)
}

/// Writes the effect of clouds within the hour into its page.
pub(crate) fn inside_the_hour() -> Result<(), String> {
    write_by_test("inside_the_hour")
}

/// Writes what the losses and limits of devices cost into the page of the model.
pub(crate) fn device_effects() -> Result<(), String> {
    write_by_test("device_effects")
}

/// Runs the ignored test of a test file, which writes a page.
fn write_by_test(file: &str) -> Result<(), String> {
    let test = [
        "test",
        "--release",
        "--locked",
        "--package",
        "daylift-validation",
        "--test",
        file,
    ];
    sh(&cargo(), test.into_iter().chain(["--", "--ignored"]))
}

/// Makes the reference results again, in a separate environment.
pub(crate) fn refresh() -> Result<(), String> {
    let refresh = root().join("validation").join("scripts").join("refresh.py");
    sh(&python()?.to_string_lossy(), [refresh])
}
