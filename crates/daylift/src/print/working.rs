//! A working as text.

use daylift_study::Working;

use crate::args::ALL_WORKINGS;
use daylift_present::number::significant;
use daylift_present::say;
use daylift_present::service::MARK;

/// Workings with a name, or all of them, each once: those that concern the plant alone are the same in every row.
pub(crate) fn texts<'a>(workings: impl IntoIterator<Item = &'a Working>, name: &str) -> Vec<String> {
    let mut out: Vec<String> = Vec::new();
    for working in workings.into_iter().filter(|w| w.name == name || name == ALL_WORKINGS) {
        let text = text(working);
        if !out.contains(&text) {
            out.push(text);
        }
    }
    out
}

/// The number with name and unit, marked if it is not comparable.
fn number(working: &Working) -> String {
    let mark = if working.comparable { "" } else { MARK };
    let number = format!("{} = {} {}", working.name, significant(6, working.value), working.unit);
    number.trim_end().to_owned() + mark
}

/// Title, number, formula, symbols, source, caution.
fn text(working: &Working) -> String {
    let mut out = format!(
        "{}\n\n  {}\n\n  {}\n\n",
        working.title,
        number(working),
        working.formula
    );
    let width = working.symbols.iter().map(|s| s.symbol.chars().count()).max().unwrap_or(0);
    let values: Vec<String> = working.symbols.iter().map(|s| significant(6, s.value)).collect();
    let value_width = values.iter().map(|v| v.chars().count()).max().unwrap_or(0);
    let unit_width = working.symbols.iter().map(|s| s.unit.chars().count()).max().unwrap_or(0);
    for (s, value) in working.symbols.iter().zip(&values) {
        out += &format!(
            "  {:<width$} = {value:>value_width$} {:<unit_width$}  {}\n",
            s.symbol, s.unit, s.meaning
        );
    }
    let source = say!("explain-source", source = &working.source);
    let mind = say!("explain-mind", caution = working.caution.trim_end_matches('.'));
    out + &format!("\n  {source}\n  {mind}\n")
}
