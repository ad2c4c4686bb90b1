//! Every kind of input file, read in thousands of broken forms.

mod report;
mod seeds;

use std::fs;
use std::path::{Path, PathBuf};

use crate::chore::{answers, root, sh, sh_logged};
use crate::words::number_and_name;
use report::Report;

/// Default time for each target \[s\].
const SECONDS: u32 = 20;
/// Memory limit of a target \[MB\]: the largest year of weather takes a tenth of it.
const MOST_MB: u32 = 1024;
/// An input that takes longer than this hangs \[s\].
const HANGS_S: u32 = 10;

/// The targets with the longest input of each \[bytes\]: a plant file has up to 13 kB; of tables a few rows are enough.
const TARGETS: [(&str, u32); 9] = [
    ("plant", 16_384),
    ("equipment", 2048),
    ("weather", 4096),
    ("weather_year", 4096),
    ("outages", 2048),
    ("timetable", 2048),
    ("voltage", 2048),
    ("loads", 4096),
    ("meter_year", 4096),
];

/// Runs all targets, or the one named, each for a time \[s\].
pub(crate) fn run(words: &[&str]) -> Result<(), String> {
    let known = TARGETS.map(|(target, _)| target);
    let (seconds, only) = number_and_name(words, "seconds", &known)?;
    let seconds = seconds.unwrap_or(SECONDS);
    need_tools()?;
    sh("cargo", ["+nightly", "fuzz", "build", "--sanitizer", "none"])?;
    let mut reports = Vec::new();
    for (target, longest) in TARGETS.into_iter().filter(|(target, _)| only.is_none_or(|only| only == *target)) {
        reports.push(run_target(target, longest, seconds)?);
    }
    println!();
    for report in &reports {
        println!("{report}");
    }
    let crashed: Vec<&str> = reports.iter().filter(|r| r.failed()).map(Report::target).collect();
    if crashed.is_empty() {
        Ok(())
    } else {
        Err(format!(
            "{} crashed; the inputs are kept under the paths printed above",
            crashed.join(", ")
        ))
    }
}

/// Installs a nightly toolchain, which the fuzzer's instrumentation needs, and the fuzzer itself.
fn need_tools() -> Result<(), String> {
    if !answers("cargo", &["+nightly", "--version"]) {
        sh("rustup", ["toolchain", "install", "nightly", "--profile", "minimal"])?;
    }
    if !answers("cargo", &["+nightly", "fuzz", "--version"]) {
        sh("cargo", ["install", "cargo-fuzz", "--locked"])?;
    }
    Ok(())
}

fn run_target(target: &str, longest: u32, seconds: u32) -> Result<Report, String> {
    let folder = fuzz_folder();
    let own = [
        folder.join("corpus").join(target),
        folder.join("artifacts").join(target),
    ];
    let log = folder.join("work").join(format!("{target}.log"));
    for path in own.iter().map(PathBuf::as_path).chain(log.parent()) {
        fs::create_dir_all(path).map_err(|e| format!("cannot make {}: {e}", path.display()))?;
    }
    seeds::plant(target, &own[0])?;
    let dictionary = folder.join("work").join("words.dict");
    seeds::write_dictionary(&dictionary)?;
    let before = inputs(&own[1]);
    let limits = [
        format!("-max_total_time={seconds}"),
        format!("-rss_limit_mb={MOST_MB}"),
        format!("-timeout={HANGS_S}"),
        format!("-max_len={longest}"),
        format!("-dict={}", dictionary.display()),
        "-print_final_stats=1".to_owned(),
    ];
    let command = ["+nightly", "fuzz", "run", "--sanitizer", "none", target, "--"].map(str::to_owned);
    let ended_well = sh_logged("cargo", command.into_iter().chain(limits), &log)?;
    let found = inputs(&own[1]).into_iter().filter(|path| !before.contains(path)).collect();
    let text = fs::read(&log).map_err(|e| format!("cannot read {}: {e}", log.display()))?;
    seeds::clear_work(&folder.join("work"));
    Ok(Report::of(
        target,
        &String::from_utf8_lossy(&text),
        ended_well,
        found,
        log,
    ))
}

fn fuzz_folder() -> PathBuf {
    root().join("fuzz")
}

/// Files of a folder, in order.
fn inputs(folder: &Path) -> Vec<PathBuf> {
    let mut out: Vec<PathBuf> = fs::read_dir(folder).into_iter().flatten().flatten().map(|e| e.path()).collect();
    out.sort();
    out
}
