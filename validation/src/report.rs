//! The summary table.

use std::fmt;

use comfy_table::{CellAlignment, ContentArrangement, LineStyle, Table, presets};

use crate::row::Row;

/// The rows, in the order of the checks.
#[derive(Debug, Clone, Default)]
pub struct Report {
    rows: Vec<Row>,
}

impl Report {
    /// Adds a row.
    pub fn push(&mut self, row: Row) {
        self.rows.push(row);
    }

    /// Adds a check that could not be made; it counts as failed.
    pub fn broke(&mut self, what: &str, why: &str) {
        let none = || "–".to_owned();
        self.push(Row {
            what: format!("{what}: {why}"),
            source: none(),
            ours: none(),
            theirs: none(),
            difference: none(),
            allowed: none(),
            ok: false,
        });
    }

    /// Rows that failed.
    #[must_use]
    pub fn failed(&self) -> usize {
        self.rows.iter().filter(|row| !row.ok).count()
    }
}

impl fmt::Display for Report {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut table = Table::new();
        table
            .load_style(presets::NOTHING.header_separator(LineStyle::none().fill('─').junction('─')))
            .set_content_arrangement(ContentArrangement::Disabled)
            .set_header(["what", "source", "ours", "theirs", "difference", "allowed", "ok"]);
        for row in &self.rows {
            let ok = if row.ok { "yes" } else { "NO" };
            table.add_row([
                row.what.as_str(),
                &row.source,
                &row.ours,
                &row.theirs,
                &row.difference,
                &row.allowed,
                ok,
            ]);
        }
        for i in 2..5 {
            if let Some(column) = table.column_mut(i) {
                column.set_cell_alignment(CellAlignment::Right);
            }
        }
        for line in table.lines() {
            writeln!(f, "{}", line.trim_end())?;
        }
        let failed = self.failed();
        write!(f, "{} passed, {failed} failed", self.rows.len() - failed)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Allowed;

    #[test]
    fn the_last_line_counts() {
        let mut report = Report::default();
        report.push(Row::new("a", "by hand", 1.0, 1.0, Allowed::relative(0.01)));
        report.broke("b", "no file");
        assert_eq!(report.to_string().lines().last(), Some("1 passed, 1 failed"));
    }
}
