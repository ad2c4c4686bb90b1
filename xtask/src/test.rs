//! Everything that a change must pass.

use crate::chore::{answers, cargo, sh};

/// Format, lints, all tests with the validation suite, and the API's documentation.
pub(crate) fn run() -> Result<(), String> {
    let cargo = cargo();
    for (component, probe) in [("rustfmt", "fmt"), ("clippy", "clippy")] {
        if !answers(&cargo, &[probe, "--version"]) {
            sh("rustup", ["component", "add", component])?;
        }
    }
    sh(&cargo, ["fmt", "--all", "--check"])?;
    sh(
        &cargo,
        [
            "clippy",
            "--workspace",
            "--all-targets",
            "--locked",
            "--",
            "--deny",
            "warnings",
        ],
    )?;
    sh(&cargo, ["test", "--workspace", "--locked"])
}
