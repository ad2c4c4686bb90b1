//! The machine on which the figures were measured.

use std::process::Command;

use sysinfo::System;

use crate::figures::{Figures, ROUNDS};
use crate::rows::shown;

/// Machine, compiler and libraries, a line each.
pub(crate) fn describe(of: &Figures) -> String {
    let mut system = System::new();
    system.refresh_memory();
    system.refresh_cpu_all();
    let cpu = system.cpus().first().map_or("unknown", |cpu| cpu.brand()).trim().to_owned();
    let cores = system.cpus().len();
    #[expect(clippy::cast_precision_loss, reason = "to three figures")]
    let memory_gb = system.total_memory() as f64 / 1e9;
    let os = System::long_os_version().unwrap_or_else(|| "unknown".to_owned());
    let kernel = System::kernel_version().unwrap_or_default();
    let round = of.rounds.first();
    let mut libraries = round.map_or_else(Vec::new, |round| round.pvlib.versions.clone());
    libraries.extend(round.map(|round| round.epanet.version.clone()));
    let held = round.is_some_and(|round| round.pvlib_taken.held_to_one_core);
    let held = if held {
        "rows marked one core were pinned to one core"
    } else {
        "this system cannot pin a process to one core: pvlib had one thread"
    };
    format!(
        "{cpu}, {cores} cores, {} GB; {os}, kernel {kernel}\n{}, release build\n{}\nminimum of {ROUNDS} rounds; {held}\n",
        shown(memory_gb),
        compiler(),
        libraries.join(", "),
    )
}

fn compiler() -> String {
    let output = Command::new("rustc").arg("--version").output();
    let text = output.map(|out| String::from_utf8_lossy(&out.stdout).trim().to_owned());
    text.unwrap_or_else(|_| "rustc unknown".to_owned())
}
