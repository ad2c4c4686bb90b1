//! The checks against the outside, and their reference results.

use crate::chore::{cargo, root, sh};

/// Prints the summary of the validation suite.
pub(crate) fn run() -> Result<(), String> {
    sh(&cargo(), ["test", "--package", "daylift-validation", "--locked"])
}

/// Plants of the run at leisure; an ordinary test run has a dozen.
const RANDOM_PLANTS: &str = "DAYLIFT_REFERENCE_PLANTS=200";

/// Holds the engine against the slow reference simulator on many random plants.
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

/// Makes the reference results anew in an environment of their own.
pub(crate) fn refresh() -> Result<(), String> {
    let folder = root().join("validation");
    let venv = folder.join(".venv");
    let python = venv.join("bin").join("python");
    let scripts = folder.join("scripts");
    if !python.exists() {
        sh("python3", ["-m".as_ref(), "venv".as_ref(), venv.as_os_str()])?;
    }
    let python = python.to_string_lossy().into_owned();
    let requirements = scripts.join("requirements.txt");
    sh(
        &python,
        [
            "-m".as_ref(),
            "pip".as_ref(),
            "install".as_ref(),
            "--quiet".as_ref(),
            "--requirement".as_ref(),
            requirements.as_os_str(),
        ],
    )?;
    sh(&python, [scripts.join("refresh.py")])
}
