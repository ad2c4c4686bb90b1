//! A comparison with more rows than fit on the page side by side: further tables, each with the reference first.

use daylift_study::compare::FullComparison;

use super::page;

/// What `table` makes of the comparison, in tables with as many rows each as fit on a page of this width: the wirings alone
/// first, then those with something beside them.
pub(crate) fn side_by_side(full: &FullComparison, width: usize, table: impl Fn(&FullComparison) -> String) -> String {
    let rows = &full.answer.arrangements;
    let reference = rows.iter().position(|r| r.id == full.answer.reference).unwrap_or(0);
    let (mut others, beside): (Vec<usize>, Vec<usize>) =
        (0..rows.len()).filter(|i| *i != reference).partition(|i| !rows[*i].id.contains('+'));
    others.extend(beside);
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
fn part(full: &FullComparison, reference: usize, picked: &[usize]) -> FullComparison {
    let all = || std::iter::once(&reference).chain(picked);
    let mut part = full.clone();
    part.answer.arrangements = all().map(|i| full.answer.arrangements[*i].clone()).collect();
    part.rows = all().map(|i| full.rows[*i].clone()).collect();
    part
}
