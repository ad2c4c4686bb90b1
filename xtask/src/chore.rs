//! Running commands in the workspace.

use std::ffi::OsStr;
use std::fs::File;
use std::path::{Path, PathBuf};
use std::process::Command;

/// The workspace's folder.
pub(crate) fn root() -> PathBuf {
    let own = Path::new(env!("CARGO_MANIFEST_DIR"));
    own.parent().unwrap_or(own).to_owned()
}

/// Runs a command in the workspace, showing it first.
pub(crate) fn sh<S: AsRef<OsStr>>(program: &str, args: impl IntoIterator<Item = S>) -> Result<(), String> {
    sh_in(&root(), program, args)
}

/// The same in a folder.
pub(crate) fn sh_in<S: AsRef<OsStr>>(
    folder: &Path,
    program: &str,
    args: impl IntoIterator<Item = S>,
) -> Result<(), String> {
    let mut command = Command::new(program);
    command.args(args).current_dir(folder);
    shown_and_done(&mut command)
}

/// Runs a prepared command, showing it first.
pub(crate) fn shown_and_done(command: &mut Command) -> Result<(), String> {
    let shown = shown(command);
    eprintln!("\n$ {shown}");
    let status = command.status().map_err(|e| format!("cannot run `{shown}`: {e}"))?;
    if status.success() {
        Ok(())
    } else {
        Err(format!("`{shown}` failed"))
    }
}

/// Runs a command in the workspace with its standard error written to a file; returns whether it succeeded.
pub(crate) fn sh_logged<S: AsRef<OsStr>>(
    program: &str,
    args: impl IntoIterator<Item = S>,
    log: &Path,
) -> Result<bool, String> {
    let file = File::create(log).map_err(|e| format!("cannot write {}: {e}", log.display()))?;
    let mut command = Command::new(program);
    command.args(args).current_dir(root()).stderr(file);
    eprintln!("\n$ {}", shown(&command));
    let status = command.status().map_err(|e| format!("cannot run `{program}`: {e}"))?;
    Ok(status.success())
}

/// Whether a command can be run.
pub(crate) fn answers(program: &str, args: &[&str]) -> bool {
    answers_in(&root(), program, args)
}

/// The same in a folder.
pub(crate) fn answers_in(folder: &Path, program: &str, args: &[&str]) -> bool {
    Command::new(program)
        .args(args)
        .current_dir(folder)
        .output()
        .is_ok_and(|o| o.status.success())
}

/// The standard output of a command.
pub(crate) fn output(program: &str, args: &[&str]) -> Result<Vec<u8>, String> {
    let out = Command::new(program)
        .args(args)
        .current_dir(root())
        .output()
        .map_err(|e| format!("cannot run `{program}`: {e}"))?;
    if out.status.success() {
        Ok(out.stdout)
    } else {
        Err(String::from_utf8_lossy(&out.stderr).into_owned())
    }
}

/// A command as it is typed.
pub(crate) fn shown(command: &Command) -> String {
    let words = std::iter::once(command.get_program()).chain(command.get_args());
    words.map(|w| w.to_string_lossy().into_owned()).collect::<Vec<_>>().join(" ")
}

/// The cargo that runs this chore.
pub(crate) fn cargo() -> String {
    std::env::var("CARGO").unwrap_or_else(|_| "cargo".to_owned())
}
