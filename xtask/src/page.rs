//! The page in a real browser.

use std::env::consts::EXE_SUFFIX;
use std::path::{Path, PathBuf};
use std::process::Command;

use crate::chore::{answers, cargo, root, sh, shown_and_done};
use crate::ui::{self, npm};

/// Names of Chromium's executable.
const BROWSERS: [&str; 4] = ["chromium", "/usr/bin/chromium", "google-chrome", "chromium-browser"];

/// Builds the program with its page and runs the tests in `ui/browser` against it.
pub(crate) fn in_browser() -> Result<(), String> {
    run("test:browser")
}

/// Takes the picture of the page that the documentation shows.
pub(crate) fn picture() -> Result<(), String> {
    ui::install()?;
    run("picture")
}

/// Runs one of the page's scripts that want a browser and the program.
fn run(script: &str) -> Result<(), String> {
    let browser = browser()?;
    sh(&cargo(), ["build", "--locked", "-p", "daylift"])?;
    let target = std::env::var_os("CARGO_TARGET_DIR").map_or_else(|| root().join("target"), PathBuf::from);
    let mut npm = Command::new(npm());
    npm.args(["run", script])
        .current_dir(root().join("ui"))
        .env("CHROMIUM", browser)
        .env("DAYLIFT", target.join("debug").join(format!("daylift{EXE_SUFFIX}")));
    shown_and_done(&mut npm)
}

/// A Chromium; installed if it is missing on a Debian machine and this runs as root.
fn browser() -> Result<String, String> {
    if let Ok(named) = std::env::var("CHROMIUM") {
        return if Path::new(&named).exists() {
            Ok(named)
        } else {
            Err(format!("CHROMIUM names {named}, which does not exist"))
        };
    }
    if let Some(found) = found() {
        return Ok(found);
    }
    if Path::new("/etc/debian_version").exists() && is_root() {
        sh("apt-get", ["update"])?;
        sh("apt-get", ["install", "-y", "--no-install-recommends", "chromium"])?;
    }
    found().ok_or_else(|| {
        "the tests of the page need Chromium: install it (Debian: `apt-get install chromium`), or set CHROMIUM to its \
         path"
            .to_owned()
    })
}

fn found() -> Option<String> {
    let known = BROWSERS.iter().find(|name| answers(name, &["--version"]))?;
    let places = std::env::var_os("PATH").unwrap_or_default();
    let mut paths = std::env::split_paths(&places).map(|place| place.join(known));
    let path = paths.find(|path| path.is_file())?;
    Some(path.display().to_string())
}

fn is_root() -> bool {
    crate::chore::output("id", &["-u"]).is_ok_and(|id| id.trim_ascii() == b"0")
}
