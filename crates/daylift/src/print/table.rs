//! A table whose first column names and whose others count.

use comfy_table::{CellAlignment, ContentArrangement, LineStyle, Table, presets};

/// A table with a header, few lines, numbers to the right.
pub(crate) fn new(header: &[String]) -> Table {
    let mut table = Table::new();
    table
        .load_style(presets::NOTHING.header_separator(LineStyle::none().fill('─').junction('─')))
        .set_content_arrangement(ContentArrangement::Disabled);
    table.set_header(header.to_vec());
    for i in 0..header.len() {
        if let Some(column) = table.column_mut(i) {
            column.set_padding((if i == 0 { 2 } else { 1 }, 1));
            column.set_cell_alignment(if i == 0 {
                CellAlignment::Left
            } else {
                CellAlignment::Right
            });
        }
    }
    table
}

/// Text of a table without blanks at the ends of its lines.
pub(crate) fn text(table: &Table) -> String {
    let lines: Vec<String> = table.lines().map(|l| l.trim_end().to_owned()).collect();
    lines.join("\n") + "\n"
}
