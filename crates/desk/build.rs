//! Builds the page with npm, to embed it in the program.

use std::path::{Path, PathBuf};
use std::process::Command;
use std::{env, fs};

fn main() {
    // Read at run time: a build folder that was copied or moved must not build the page of its old place.
    let own = PathBuf::from(env::var_os("CARGO_MANIFEST_DIR").unwrap_or_default());
    let ui = own.join("../../ui");
    let out = PathBuf::from(env::var_os("OUT_DIR").unwrap_or_default()).join("page");
    for path in [
        "src",
        "public",
        "index.html",
        "package.json",
        "package-lock.json",
        "vite.config.ts",
        "svelte.config.js",
    ] {
        println!("cargo::rerun-if-changed={}", ui.join(path).display());
    }
    println!("cargo::rerun-if-changed={}", own.join("../present/words").display());
    if let Err(why) = build(&ui, &out) {
        println!("cargo::warning=the desk is built without its page: {why}");
        // An empty folder: the desk then says what is missing.
        let _ = fs::remove_dir_all(&out);
        let _ = fs::create_dir_all(&out);
    }
}

fn build(ui: &Path, out: &Path) -> Result<(), String> {
    let lock = ui.join("package-lock.json");
    let installed = ui.join("node_modules/.package-lock.json");
    let when = |path: &Path| fs::metadata(path).and_then(|meta| meta.modified()).ok();
    if when(&installed).is_none_or(|at| Some(at) < when(&lock)) {
        npm(ui, &["ci", "--no-audit", "--no-fund"])?;
    }
    let out = out.display().to_string();
    npm(
        ui,
        &[
            "run",
            "build",
            "--",
            "--outDir",
            &out,
            "--emptyOutDir",
            "--logLevel",
            "warn",
        ],
    )
}

fn npm(ui: &Path, args: &[&str]) -> Result<(), String> {
    let program = if cfg!(windows) { "npm.cmd" } else { "npm" };
    let ran = Command::new(program).args(args).current_dir(ui).output();
    let output = ran.map_err(|_| "npm was not found; install Node.js 20 or newer and build again".to_owned())?;
    if output.status.success() {
        return Ok(());
    }
    let said = String::from_utf8_lossy(&output.stderr);
    let said: Vec<&str> = said.lines().filter(|line| !line.trim().is_empty()).take(6).collect();
    Err(format!("`npm {}` failed: {}", args.join(" "), said.join(" | ")))
}
