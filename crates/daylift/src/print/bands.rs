//! Splits a comparison that is too wide into several tables, each with the reference first.

use daylift_study::Comparison;

use super::page;

/// Splits the comparison into tables with as many rows as fit the width: today's way under its best rule first, then plain
/// wirings, then those with a generator or a bigger tank.
pub(crate) fn side_by_side(full: &Comparison, width: usize, table: impl Fn(&Comparison) -> String) -> String {
    let rows = &full.rows;
    let reference = rows.iter().position(|r| r.detail.traits.is_reference).unwrap_or(0);
    let band = |i: &usize| {
        let (row, traits) = (rows[*i].row.id, rows[*i].detail.traits);
        (!row.best_rule, traits.has_generator || traits.bigger_tank)
    };
    let mut others: Vec<usize> = (0..rows.len()).filter(|i| *i != reference).collect();
    others.sort_by_key(band);
    let fits = |text: &String| text.lines().all(|line| line.chars().count() <= width.max(page::PLAIN_WIDTH));
    let whole = table(full);
    if fits(&whole) || others.len() < 2 {
        return whole;
    }
    let mut tables = Vec::new();
    let mut left = others.as_slice();
    while !left.is_empty() {
        let of = |count: usize| table(&part(full, reference, &left[..count]));
        let most = (1..=left.len()).rev().find(|count| fits(&of(*count))).unwrap_or(1);
        tables.push(of(most));
        left = &left[most..];
    }
    tables.join("\n")
}

/// The comparison of some rows with the reference.
fn part(full: &Comparison, reference: usize, picked: &[usize]) -> Comparison {
    let rows = std::iter::once(&reference).chain(picked).map(|i| full.rows[*i].clone()).collect();
    Comparison { rows, ..full.clone() }
}
