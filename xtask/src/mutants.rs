//! Changes the code that settles and accounts, one place at a time: a test must notice each change.

mod mutant;
mod survivors;

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Child, Command};
use std::thread::sleep;
use std::time::{Duration, Instant};

use serde::Deserialize;

use crate::chore::{answers, cargo, output, root, sh, shown};
use crate::words::number_and_name;
use mutant::Mutant;
use survivors::Survivors;

/// Default time \[min\].
const MINUTES: u32 = 30;

/// The part of cargo-mutants' own settings that is used here.
#[derive(Deserialize)]
struct Settings {
    examine_globs: Vec<String>,
}

/// Tries mutants in random order until all are tried or the time \[min\] is over, and prints those that no test noticed.
pub(crate) fn run(words: &[&str]) -> Result<(), String> {
    let files = files()?;
    let stems: Vec<&str> = files.iter().filter_map(|f| Path::new(f).file_stem()?.to_str()).collect();
    let (minutes, only) = number_and_name(words, "minutes", &stems)?;
    let minutes = minutes.unwrap_or(MINUTES);
    let known = Survivors::read()?;
    need_tool()?;
    let all = list()?;
    known.check(&all)?;
    let wanted = all.iter().filter(|mutant| only.is_none_or(|stem| mutant.is_in(stem))).count();
    let seconds = minutes.saturating_mul(60);
    let folder = root().join("target").join("mutants");
    let built = folder.join("built");
    forget_altered(&files, &built)?;
    try_for(Duration::from_secs(u64::from(seconds)), only, &folder, &built)?;
    let tried = Tried::read(&folder.join("mutants.out"))?;
    report(&tried, wanted, &known)
}

/// The files that are mutated.
fn files() -> Result<Vec<String>, String> {
    let path = root().join(".cargo").join("mutants.toml");
    let text = fs::read_to_string(&path).map_err(|e| format!("cannot read {}: {e}", path.display()))?;
    let settings: Settings = toml::from_str(&text).map_err(|e| format!("{}: {e}", path.display()))?;
    Ok(settings.examine_globs)
}

fn need_tool() -> Result<(), String> {
    if answers("cargo", &["mutants", "--version"]) {
        Ok(())
    } else {
        sh("cargo", ["install", "cargo-mutants", "--locked"])
    }
}

/// All mutants.
fn list() -> Result<Vec<Mutant>, String> {
    let listed = output("cargo", &["mutants", "--list", "--colors=never"])?;
    Mutant::all(&String::from_utf8_lossy(&listed))
}

/// Removes the mutated packages from the build kept for the next run, so that none is left mutated.
fn forget_altered(files: &[String], built: &Path) -> Result<(), String> {
    let packages: BTreeSet<&str> = files.iter().filter_map(|f| f.strip_prefix("crates/")?.split('/').next()).collect();
    let mut args = vec!["clean".to_owned(), "--quiet".to_owned(), "--profile=mutants".to_owned()];
    args.extend(packages.iter().map(|package| format!("--package=daylift-{package}")));
    args.push(format!("--target-dir={}", built.display()));
    sh(&cargo(), args)
}

/// Runs cargo-mutants until it is done or the time is over.
fn try_for(time: Duration, only: Option<&str>, folder: &Path, built: &Path) -> Result<(), String> {
    fs::create_dir_all(folder).map_err(|e| format!("cannot make {}: {e}", folder.display()))?;
    let mut command = Command::new("cargo");
    command.args(["mutants", "--shuffle", "--output"]).arg(folder).current_dir(root());
    command.env("CARGO_TARGET_DIR", built);
    // It is ended from here, so it need not print a backtrace.
    command.env("RUST_BACKTRACE", "0");
    if let Some(stem) = only {
        command.args(["--re", &format!("/{stem}[.]rs:")]);
    }
    eprintln!("\n$ {}", shown(&command));
    let ends = Instant::now() + time;
    let mut child = command.spawn().map_err(|e| format!("cannot run `cargo mutants`: {e}"))?;
    loop {
        if let Some(status) = child.try_wait().map_err(|e| e.to_string())? {
            // 2: some were missed; 3: some ran out of time.
            return match status.code() {
                Some(0 | 2 | 3) => Ok(()),
                Some(4) => Err("the tests fail before any mutation".to_owned()),
                _ => Err(format!("cargo mutants ended with {status}")),
            };
        }
        if Instant::now() >= ends {
            return interrupt(&mut child);
        }
        sleep(Duration::from_millis(200));
    }
}

/// Interrupts cargo-mutants, as Ctrl-C does: it then ends the processes it started and removes its copy of the tree.
fn interrupt(child: &mut Child) -> Result<(), String> {
    let asked = Command::new("kill").args(["-INT", &child.id().to_string()]).status();
    if !asked.is_ok_and(|status| status.success()) {
        child.kill().map_err(|e| format!("cannot end `cargo mutants`: {e}"))?;
    }
    child.wait().map(|_| ()).map_err(|e| e.to_string())
}

/// Results of the mutants that were tried.
struct Tried {
    caught: Vec<Mutant>,
    missed: Vec<Mutant>,
    unviable: usize,
    timeout: Vec<Mutant>,
}

impl Tried {
    /// Reads cargo-mutants' lists.
    fn read(folder: &Path) -> Result<Self, String> {
        let of = |name: &str| {
            let path: PathBuf = folder.join(name);
            let text = fs::read_to_string(&path).map_err(|e| format!("cannot read {}: {e}", path.display()))?;
            Mutant::all(&text)
        };
        Ok(Self {
            caught: of("caught.txt")?,
            missed: of("missed.txt")?,
            unviable: of("unviable.txt")?.len(),
            timeout: of("timeout.txt")?,
        })
    }

    fn count(&self) -> usize {
        self.caught.len() + self.missed.len() + self.unviable + self.timeout.len()
    }
}

fn report(tried: &Tried, wanted: usize, known: &Survivors) -> Result<(), String> {
    let without_reason: Vec<&Mutant> = tried.missed.iter().filter(|m| !known.has(m)).collect();
    println!(
        "\n{} of {wanted} tried: {} caught, {} missed ({} of them with a reason in {}), {} unviable, {} timed out",
        tried.count(),
        tried.caught.len(),
        tried.missed.len(),
        tried.missed.len() - without_reason.len(),
        survivors::PATH,
        tried.unviable,
        tried.timeout.len(),
    );
    for mutant in &tried.timeout {
        println!("timed out: {mutant}");
    }
    for mutant in tried.caught.iter().filter(|m| known.has(m)) {
        println!(
            "a test notices this now, so it can be removed from {}: {mutant}",
            survivors::PATH
        );
    }
    for mutant in &without_reason {
        println!("\n# {mutant}\n{}", survivors::entry(mutant));
    }
    if tried.count() == 0 {
        return Err("the time ran out before any mutant was tried: give more minutes".to_owned());
    }
    if without_reason.is_empty() {
        Ok(())
    } else {
        Err(format!(
            "no test notices {} mutants: write a test, or add them to {} with the reason why none can",
            without_reason.len(),
            survivors::PATH
        ))
    }
}
