//! The speed of the program as ratios.

use std::ffi::OsString;
use std::path::{Path, PathBuf};

use crate::chore::{cargo, sh};
use crate::python::python;

/// Builds for release and prints the table of speeds; with `commit` its ratios become the ones to hold.
///
/// # Errors
/// Also when a ratio fell by more than a third against the committed one.
pub(crate) fn run(commit: bool) -> Result<(), String> {
    let python = python()?;
    // One after the other: together, one could change the features of the other's libraries.
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

/// Where cargo builds: this chore's own program lies there in the folder of its profile.
fn target() -> Result<PathBuf, String> {
    let own = std::env::current_exe().map_err(|e| format!("this program's own place: {e}"))?;
    let target = own.parent().and_then(Path::parent);
    Ok(target.ok_or("this program lies in no folder of a build")?.to_owned())
}
