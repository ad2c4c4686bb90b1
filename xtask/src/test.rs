//! Everything that a change must pass.

use crate::chore::{answers, cargo, sh};
use crate::{page, ui, validation};

/// Checks format and lints, checks and tests the page, runs all other tests and the page's tests in a browser, and at the
/// end the validation suite with its summary.
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
    ui::test()?;
    sh(
        &cargo,
        ["test", "--workspace", "--exclude", "daylift-validation", "--locked"],
    )?;
    page::in_browser()?;
    validation::run()
}
