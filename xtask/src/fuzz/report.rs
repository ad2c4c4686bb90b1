//! The result of a run of a target.

use std::fmt;
use std::path::PathBuf;

/// One line of the summary.
pub(super) struct Report {
    target: String,
    executions: u64,
    per_second: u64,
    edges: u64,
    edges_at_first: u64,
    ended_well: bool,
    /// Inputs on which it crashed, hung or took too much memory.
    found: Vec<PathBuf>,
    log: PathBuf,
}

impl Report {
    /// Reads the fuzzer's log.
    pub(super) fn of(target: &str, log: &str, ended_well: bool, found: Vec<PathBuf>, path: PathBuf) -> Self {
        let stat = |name: &str| last_number(log, &format!("stat::{name}:"));
        Self {
            target: target.to_owned(),
            executions: stat("number_of_executed_units"),
            per_second: stat("average_exec_per_sec"),
            edges: last_number(log, " cov: "),
            edges_at_first: log.lines().find(|l| l.contains("INITED")).map_or(0, |l| last_number(l, " cov: ")),
            ended_well,
            found,
            log: path,
        }
    }

    pub(super) fn target(&self) -> &str {
        &self.target
    }

    pub(super) fn failed(&self) -> bool {
        !self.ended_well || !self.found.is_empty()
    }
}

/// The number after the last occurrence of a text; 0 if there is none.
fn last_number(log: &str, before: &str) -> u64 {
    let behind = log.rsplit_once(before).map_or("", |(_, behind)| behind).trim_start();
    let end = behind.find(|c: char| !c.is_ascii_digit()).unwrap_or(behind.len());
    behind[..end].parse().unwrap_or(0)
}

impl fmt::Display for Report {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "{:<13} {:>9} executions, {:>6}/s, {:>6} edges ({} by the seeds), {}",
            self.target,
            self.executions,
            self.per_second,
            self.edges,
            self.edges_at_first,
            if self.failed() { "CRASHED" } else { "no crash" }
        )?;
        if self.failed() {
            write!(f, "\n    log {}", self.log.display())?;
        }
        for path in &self.found {
            write!(f, "\n    input {}", path.display())?;
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_log_is_read_to_its_end() {
        let log = "#40\tINITED cov: 900 ft: 1200 corp: 38/9Kb exec/s: 0\n#512\tNEW    cov: 1010 ft: 1300\n\
                   stat::number_of_executed_units: 51234\nstat::average_exec_per_sec:     2561\n";
        let report = Report::of("plant", log, true, Vec::new(), PathBuf::new());
        assert_eq!(
            report.to_string(),
            "plant             51234 executions,   2561/s,   1010 edges (900 by the seeds), no crash"
        );
        assert!(!report.failed());
        let crashed = Report::of("plant", log, true, vec![PathBuf::from("crash-1")], PathBuf::from("log"));
        assert!(crashed.failed() && crashed.to_string().ends_with("CRASHED\n    log log\n    input crash-1"));
        assert!(Report::of("plant", "", false, Vec::new(), PathBuf::new()).failed());
    }
}
