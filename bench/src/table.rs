//! The tables as text, within a hundred columns.

use comfy_table::{CellAlignment, ContentArrangement, LineStyle, Table, presets};

use crate::measure::changes::Dragged;
use crate::measure::growth::{AtStep, Growth, exact};
use crate::rows::{Row, shown};

/// A plain table: a line below the header, the columns in `right` aligned to the right.
pub(crate) fn plain<const N: usize>(header: [&str; N], right: &[usize], rows: Vec<[String; N]>) -> String {
    let mut table = Table::new();
    table
        .load_style(presets::NOTHING.header_separator(LineStyle::none().fill('─').junction('─')))
        .set_content_arrangement(ContentArrangement::Disabled)
        .set_header(header);
    for row in rows {
        table.add_row(row);
    }
    for column in table.column_iter_mut() {
        column.set_padding((0, 2));
    }
    for &i in right {
        if let Some(column) = table.column_mut(i) {
            column.set_cell_alignment(CellAlignment::Right);
        }
    }
    table.lines().map(|line| line.trim_end().to_owned() + "\n").collect()
}

/// The table of all measures.
pub(crate) fn of_rows(rows: &[Row]) -> String {
    let cells = |row: &Row| {
        [
            row.letter.to_owned(),
            row.measure.clone(),
            row.ours.clone(),
            row.reference.clone(),
            row.ratio.map_or_else(|| "–".to_owned(), |ratio| format!("{}×", shown(ratio))),
            row.aim_text(),
            row.met().map_or("–", |met| if met { "yes" } else { "NO" }).to_owned(),
        ]
    };
    let header = ["", "measure", "ours", "reference", "ratio", "aim", "met?"];
    plain(header, &[2, 3, 4, 5], rows.iter().map(cells).collect())
}

/// Time of each stage for a change on the page, slider by slider.
pub(crate) fn of_changes(changes: &[Dragged]) -> String {
    let milliseconds = |seconds: f64| format!("{} ms", shown(seconds * 1e3));
    let row = |of: &Dragged| {
        let times = [of.read_s, of.stages_s, of.years_s, of.median_s, of.p95_s];
        let [read, stages, years, median, p95] = times.map(milliseconds);
        [of.keys.clone(), read, stages, years, median, p95]
    };
    let header = [
        "a change of",
        "reading",
        "sun to devices",
        "years, money",
        "median",
        "p95",
    ];
    plain(header, &[1, 2, 3, 4, 5], changes.iter().map(row).collect())
}

/// How the cost grows with steps, and with designs.
pub(crate) fn of_growth(growth: &Growth) -> String {
    of_steps(growth) + "\n" + &of_designs(growth)
}

fn of_steps(growth: &Growth) -> String {
    let parts: [fn(&AtStep) -> f64; 4] = [
        |at| at.dc_seconds,
        |at| at.devices_seconds,
        |at| at.year_seconds,
        AtStep::seconds,
    ];
    let mut rows: Vec<[String; 7]> = Vec::new();
    for at in &growth.steps {
        let each = |part: fn(&AtStep) -> f64| format!("{} ns", shown(part(at) / exact(at.steps) * 1e9));
        let [dc, devices, year, all] = parts.map(each);
        let year_ms = format!("{} ms", shown(at.seconds() * 1e3));
        rows.push([length(at.step_s), at.steps.to_string(), dc, devices, year, all, year_ms]);
    }
    let [dc, devices, year, all] = parts.map(|part| power_text(growth.power_of_steps(part)));
    let none = String::new;
    rows.push(["grows with n^".to_owned(), none(), dc, devices, year, all, none()]);
    let header = [
        "a step",
        "steps",
        "sun → DC",
        "devices",
        "year loop",
        "together",
        "the year",
    ];
    plain(header, &[1, 2, 3, 4, 5, 6], rows)
}

fn of_designs(growth: &Growth) -> String {
    let milliseconds = |seconds: f64| format!("{} ms", shown(seconds * 1e3));
    let designs = growth.designs.iter().map(|of| {
        [
            of.count.to_string(),
            milliseconds(of.seconds / f64::from(of.count)),
            milliseconds(of.seconds),
        ]
    });
    let mut rows: Vec<[String; 3]> = designs.collect();
    rows.push([
        "grows with n^".to_owned(),
        String::new(),
        power_text(growth.power_of_designs()),
    ]);
    plain(["designs", "each", "together"], &[1, 2], rows)
}

fn length(step_s: u32) -> String {
    match step_s {
        3600 => "1 h".to_owned(),
        s => format!("{} min", s / 60),
    }
}

fn power_text(power: Option<f64>) -> String {
    power.map_or_else(|| "–".to_owned(), shown)
}
