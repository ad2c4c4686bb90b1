//! The committed ratios, and how a run compares with them.

use std::fmt;
use std::path::PathBuf;

use serde::{Deserialize, Serialize};
use toml::{Table, Value};

use crate::engine::root;
use crate::rows::{Row, shown};
use crate::table::plain;

/// A ratio may fall to this fraction of the committed one.
const LEAST_PART: f64 = 2.0 / 3.0;
const HEAD: &str = "\
# Ratios of the last committed run: reference time over our time.
# `cargo xtask bench` fails when one falls by more than a third; `cargo xtask bench --commit` writes this file.

";

/// The file.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(crate) struct Committed {
    /// Cores of the machine; rows that use all of them are checked on as many or more.
    cores: usize,
    /// Ratio of each row by its key.
    ratios: Table,
}

/// Every committed ratio with the measured one.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Held {
    lines: Vec<Line>,
}

#[derive(Debug, Clone, PartialEq)]
struct Line {
    key: String,
    committed: Option<f64>,
    measured: Option<f64>,
    verdict: Verdict,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Verdict {
    Held,
    New,
    FewerCores,
    Fell,
    Gone,
}

impl Committed {
    fn path() -> PathBuf {
        root().join("bench/committed.toml")
    }

    /// Reads the file.
    ///
    /// # Errors
    /// Why it cannot be read.
    pub(crate) fn read() -> Result<Self, String> {
        let path = Self::path();
        let text = std::fs::read_to_string(&path).map_err(|e| format!("{}: {e}", path.display()))?;
        toml::from_str(&text).map_err(|e| format!("{}: {e}", path.display()))
    }

    /// Writes this run's ratios.
    ///
    /// # Errors
    /// Why it cannot be written.
    pub(crate) fn write(rows: &[Row]) -> Result<PathBuf, String> {
        let kept = |row: &Row| Some((row.key.clone()?, Value::Float(to_three_figures(row.ratio?))));
        let committed = Self {
            cores: cores(),
            ratios: rows.iter().filter_map(kept).collect(),
        };
        let path = Self::path();
        let text = toml::to_string(&committed).map_err(|e| e.to_string())?;
        std::fs::write(&path, HEAD.to_owned() + &text).map_err(|e| format!("{}: {e}", path.display()))?;
        Ok(path)
    }

    /// Compares this run's rows with the committed ratios.
    pub(crate) fn hold(&self, rows: &[Row]) -> Held {
        self.hold_on(cores(), rows)
    }

    fn hold_on(&self, cores: usize, rows: &[Row]) -> Held {
        let measured = rows.iter().filter_map(|row| Some((row.key.as_ref()?, row)));
        let mut lines: Vec<Line> = Vec::new();
        for (key, row) in measured {
            let committed = self.ratios.get(key).and_then(Value::as_float);
            let verdict = match (committed, row.ratio) {
                (None, None) => continue,
                (None, Some(_)) => Verdict::New,
                (Some(_), None) => Verdict::Gone,
                (Some(_), Some(_)) if row.all_cores && cores < self.cores => Verdict::FewerCores,
                // NaN counts as fallen.
                (Some(committed), Some(ratio)) if ratio >= committed * LEAST_PART => Verdict::Held,
                _ => Verdict::Fell,
            };
            lines.push(Line {
                key: key.clone(),
                committed,
                measured: row.ratio,
                verdict,
            });
        }
        let gone = self
            .ratios
            .iter()
            .filter(|(key, _)| !rows.iter().any(|row| row.key.as_ref() == Some(key)));
        lines.extend(gone.map(|(key, value)| Line {
            key: key.clone(),
            committed: value.as_float(),
            measured: None,
            verdict: Verdict::Gone,
        }));
        Held { lines }
    }
}

impl Held {
    /// A line for each ratio that fell or is gone.
    pub(crate) fn failures(&self) -> impl Iterator<Item = String> {
        self.lines.iter().filter_map(|line| {
            let committed = shown(line.committed?);
            match (line.verdict, line.measured) {
                (Verdict::Fell, Some(measured)) => Some(format!(
                    "{}: the ratio fell by more than a third, from {committed} committed to {} measured",
                    line.key,
                    shown(measured)
                )),
                (Verdict::Gone, _) => Some(format!("{}: committed as {committed}, but not measured", line.key)),
                _ => None,
            }
        })
    }
}

impl fmt::Display for Held {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let text = |ratio: Option<f64>| ratio.map_or_else(|| "–".to_owned(), |r| format!("{}×", shown(r)));
        let cells = |line: &Line| {
            let change = line.committed.zip(line.measured).map(|(was, is)| in_per_cent(is / was - 1.0));
            let verdict = match line.verdict {
                Verdict::Held => "yes",
                Verdict::New => "new",
                Verdict::FewerCores => "fewer cores",
                Verdict::Fell => "FELL",
                Verdict::Gone => "GONE",
            };
            [
                line.key.clone(),
                text(line.committed),
                text(line.measured),
                change.unwrap_or_else(|| "–".to_owned()),
                verdict.to_owned(),
            ]
        };
        let header = ["ratio", "committed", "measured", "change", "held?"];
        f.write_str(&plain(header, &[1, 2, 3], self.lines.iter().map(cells).collect()))
    }
}

/// A change with its sign; zero is never negative.
fn in_per_cent(change: f64) -> String {
    format!("{:+.0}%", (change * 100.0).round() + 0.0)
}

fn cores() -> usize {
    std::thread::available_parallelism().map_or(1, usize::from)
}

fn to_three_figures(ratio: f64) -> f64 {
    shown(ratio).parse().unwrap_or(ratio)
}

#[cfg(test)]
mod tests;
