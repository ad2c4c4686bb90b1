//! Strings, layouts and findings of a plant as text.

use daylift_present::say;
use daylift_present::strings::sub_array::{head as head_of, lengths, refused, what_to_change};
use daylift_present::strings::{self as words, layouts, measures};
use daylift_study::strings::{CanBeBuilt, Finding, MeasureRow, StringsAnswer, SubArrayRow};

use super::{page, table};

/// The verdict, the findings, and of each sub-array the lengths and the layouts.
pub(crate) fn text(found: &StringsAnswer, all: bool, width: usize) -> String {
    let mut out = words::head(found).map(|line| page::hang(&line, width, 2) + "\n").concat() + "\n";
    out += &verdict(&found.can_be_built, width);
    out += &findings(&found.findings, width);
    out += &rules(&found.measures, all);
    for sub in &found.sub_arrays {
        out += &sub_array(found, sub, all, width);
    }
    for caution in words::cautions() {
        out += &format!("\n{}", page::hang(&caution, width, 0));
    }
    out + "\n"
}

/// `can be built`, in a sentence.
pub(crate) fn verdict(verdict: &CanBeBuilt, width: usize) -> String {
    page::hang(&words::verdict(verdict), width, 0) + "\n"
}

/// The line under the heading of other answers if the strings should not be built; else nothing.
pub(crate) fn verdict_in_short(verdict: Option<&CanBeBuilt>, plant: &str, width: usize) -> String {
    let line = verdict.and_then(|verdict| words::verdict_in_short(verdict, plant));
    line.map_or_else(String::new, |line| page::hang(&line, width, 2) + "\n")
}

/// Each finding with its remedy.
pub(crate) fn findings(findings: &[Finding], width: usize) -> String {
    findings.iter().fold(String::from("\n"), |out, finding| {
        let text = format!("  {:<8} {}", words::weight(finding.weight), words::finding(finding));
        out + &page::hang(&text, width, 11) + "\n"
    })
}

/// Every rule with its value and limit: for the device with the least room, or for all devices.
fn rules(of: &[MeasureRow], all: bool) -> String {
    let mut table = table::new(&measures::header());
    if let Some(column) = table.column_mut(1) {
        column.set_cell_alignment(comfy_table::CellAlignment::Left);
    }
    for line in measures::lines(of, all) {
        table.add_row(line);
    }
    format!("\n{}", table::text(&table))
}

fn sub_array(found: &StringsAnswer, sub: &SubArrayRow, all: bool, width: usize) -> String {
    let mut out = format!("\n{}\n\n{}\n", head_of(sub), say!("lengths-title"));
    for length in lengths(sub) {
        out += &(page::hang(&format!("  {:<9} {}", length.which, length.says), width, 12) + "\n");
    }
    if sub.layouts.is_empty() {
        let (head, lines) = what_to_change(sub);
        return lines.iter().fold(format!("{out}\n{head}\n"), |out, line| {
            out + &page::hang(&format!("  {line}"), width, 4) + "\n"
        });
    }
    let shown = layouts::most_shown(all);
    let (header, rows) = layouts::table(sub, shown);
    let mut table = table::new(&header);
    for row in rows {
        table.add_row(row);
    }
    out += &format!("\n{}\n{}", layouts::title(found, sub), table::text(&table));
    for line in layouts::legend(sub, shown) {
        out += &(page::hang(&line, width, 2) + "\n");
    }
    out + &of_refused(sub, width)
}

/// The rules that other layouts of these lengths break, and the layout that comes nearest.
fn of_refused(sub: &SubArrayRow, width: usize) -> String {
    let all = refused(sub);
    if all.is_empty() {
        return String::new();
    }
    all.iter().fold(format!("\n{}\n", say!("refused-title")), |out, one| {
        let text = format!("  {:<22} {:>4}; {}", one.rule.id(), one.layouts, one.nearest);
        out + &page::hang(&text, width, 31) + "\n"
    })
}
