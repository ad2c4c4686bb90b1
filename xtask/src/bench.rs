//! The speed of the program, as ratios to reference libraries.

use std::ffi::OsString;
use std::path::{Path, PathBuf};

use crate::chore::{cargo, sh};
use crate::python::python;

/// Builds for release and prints the table of speeds; with `commit` its ratios are saved as the ones to check against.
///
/// # Errors
/// Also when a ratio fell by more than a third below the committed one.
pub(crate) fn run(commit: bool) -> Result<(), String> {
    let python = python()?;
    // One after the other: built together, each could change the features of the libraries they share.
    for package in ["daylift", "daylift-bench"] {
        sh(&cargo(), ["build", "--release", "--locked", "--package", package])?;
    }
    let release = target()?.join("release");
    let program = |name: &str| release.join(name).with_extension(std::env::consts::EXE_EXTENSION);
    let mut args: Vec<OsString> = vec![
        "--python".into(),
        python.into(),
        "--daylift".into(),
        program("daylift").into(),
    ];
    if commit {
        args.push("--commit".into());
    }
    sh(&program("daylift-bench").to_string_lossy(), args)
}

/// Cargo's target folder: this chore's own program is there, in the folder of its profile.
fn target() -> Result<PathBuf, String> {
    let own = std::env::current_exe().map_err(|e| format!("cannot find this program's own path: {e}"))?;
    let target = own.parent().and_then(Path::parent);
    Ok(target.ok_or("this program is not in a target folder")?.to_owned())
}
