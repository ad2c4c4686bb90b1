//! The checks against the outside, and their reference results.

use crate::chore::{cargo, root, sh};

/// Prints the summary of the validation suite.
pub(crate) fn run() -> Result<(), String> {
    sh(&cargo(), ["test", "--package", "daylift-validation", "--locked"])
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
