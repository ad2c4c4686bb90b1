//! What changes from one row to each of the others, in words.

use daylift_present::{changes, say};
use daylift_study::Comparison;
use daylift_study::changes::between;

use super::page;

/// A paragraph for each row except the one compared against, with at most `most` figures.
pub(crate) fn text(full: &Comparison, base: usize, most: usize, width: usize) -> String {
    let Some(from) = full.rows.get(base).filter(|_| full.rows.len() > 1) else {
        return String::new();
    };
    let head = if from.detail.traits.is_reference || !full.prices.are_complete() {
        say!("changes-head", row = from.row.id.id())
    } else {
        say!(
            "changes-head.money",
            row = from.row.id.id(),
            today = full.reference.id()
        )
    };
    let mut out = format!("\n  {head}\n");
    for (_, to) in full.rows.iter().enumerate().filter(|(i, _)| *i != base) {
        let found = between(from, to);
        let currency = &to.row.money.currency;
        let figures: Vec<String> = found.figures.iter().take(most).map(|c| changes::change(c, currency)).collect();
        let mut words: Vec<String> = found.works.iter().map(|works| changes::works(*works)).collect();
        words.push(if figures.is_empty() {
            say!("changes-nothing")
        } else {
            format!("{}.", figures.join("; "))
        });
        let paragraph = format!("    {}: {}", to.row.id, words.join(" "));
        out += &(page::hang(&paragraph, width, 6) + "\n");
    }
    out
}
