//! The page's own checks, run by npm.

use std::fs;
use std::path::{Path, PathBuf};

use crate::chore::{answers_in, root, sh_in};

fn folder() -> PathBuf {
    root().join("ui")
}

pub(crate) fn npm() -> &'static str {
    if cfg!(windows) { "npm.cmd" } else { "npm" }
}

/// Installs the packages that the lock file names, if they are missing or older than it.
pub(crate) fn install() -> Result<(), String> {
    let ui = folder();
    if !answers_in(&ui, npm(), &["--version"]) {
        return Err("npm was not found; the page needs Node.js 20 or newer with npm".to_owned());
    }
    let when = |path: &str| fs::metadata(ui.join(path)).and_then(|meta| meta.modified()).ok();
    // npm writes this file when it has installed everything.
    let installed = when("node_modules/.package-lock.json");
    if installed.is_none_or(|at| Some(at) < when("package-lock.json")) {
        sh_in(&ui, npm(), ["ci", "--no-audit", "--no-fund"])?;
    }
    Ok(())
}

/// Checks types and layout of the page's sources, runs its tests, and checks that its types match the description.
pub(crate) fn test() -> Result<(), String> {
    install()?;
    for words in [&["run", "check"][..], &["test"]] {
        sh_in(&folder(), npm(), words)?;
    }
    check_types()
}

/// Makes the page's types from the description.
pub(crate) fn types() -> Result<(), String> {
    install()?;
    sh_in(&folder(), npm(), ["run", "types"])
}

/// Where `npm run types` writes.
const TYPES: &str = "src/api/schema.ts";

fn check_types() -> Result<(), String> {
    let ui = folder();
    let fresh = FreshFile(std::env::temp_dir().join(format!("daylift-types-{}.ts", std::process::id())));
    sh_in(&ui, npm(), ["run", "types:into", "--", &fresh.0.to_string_lossy()])?;
    if read(&fresh.0)? == read(&ui.join(TYPES))? {
        Ok(())
    } else {
        Err(format!("ui/{TYPES} is stale: run `cargo xtask schema`"))
    }
}

/// A file that is deleted when this is dropped.
struct FreshFile(PathBuf);

impl Drop for FreshFile {
    fn drop(&mut self) {
        // It may never have been written.
        drop(fs::remove_file(&self.0));
    }
}

fn read(path: &Path) -> Result<String, String> {
    let text = fs::read_to_string(path).map_err(|e| format!("cannot read {}: {e}", path.display()))?;
    // A checkout on Windows has other line endings.
    Ok(text.replace("\r\n", "\n"))
}
