//! What changes from one row to each of the others, in words.

use daylift_study::changes::{Change, between};
use daylift_study::compare::FullComparison;

use super::number::{grouped, significant};
use super::page;

/// A paragraph for each row but the one that they are held against, with so many figures at most.
pub(crate) fn text(full: &FullComparison, base: usize, most: usize, width: usize) -> String {
    let rows: Vec<_> = full.answer.arrangements.iter().zip(&full.rows).collect();
    let Some(&from) = rows.get(base).filter(|_| rows.len() > 1) else {
        return String::new();
    };
    let money = if from.0.id == full.answer.reference {
        String::new()
    } else {
        format!(" (the money above stays against {})", full.answer.reference)
    };
    let mut out = format!("\n  What changes against {}{money}\n", from.0.id);
    for (_, to) in rows.into_iter().enumerate().filter(|(i, _)| *i != base) {
        let changes = between(from, to);
        let figures = changes.figures.iter().take(most).map(in_words).collect::<Vec<_>>().join("; ");
        let mut words: Vec<String> = changes.works.iter().map(|w| (*w).to_owned()).collect();
        words.push(if figures.is_empty() {
            "Nothing that counts.".to_owned()
        } else {
            format!("{figures}.")
        });
        let paragraph = format!("    {}: {}", to.0.id, words.join(" "));
        out += &(page::hang(&paragraph, width, 6) + "\n");
    }
    out
}

fn in_words(change: &Change) -> String {
    let amount = if change.amount < 10.0 {
        significant(2, change.amount)
    } else {
        grouped(change.amount, 0)
    };
    let more = if change.more { "more" } else { "less" };
    let unit = if amount == "1" && change.unit == "days" {
        "day"
    } else {
        change.unit.as_str()
    };
    // No line is broken within a number or before its unit.
    format!("{}\u{a0}{unit} {more} {}", amount.replace(' ', "\u{a0}"), change.of)
}
