//! Warnings, on standard error.

use daylift_study::Comparison;

pub(crate) fn print_warnings(warnings: &[String]) {
    for warning in warnings {
        eprintln!("warning: {warning}");
    }
}

/// Warnings that every row has once, the others with the name of their row.
pub(crate) fn print_warnings_of_rows(answer: &Comparison) {
    let rows = &answer.arrangements;
    let Some(first) = rows.first() else { return };
    let shared: Vec<&String> = first.warnings.iter().filter(|w| rows.iter().all(|r| r.warnings.contains(w))).collect();
    for warning in &shared {
        eprintln!("warning: {warning}");
    }
    for row in rows {
        for warning in row.warnings.iter().filter(|w| !shared.contains(w)) {
            eprintln!("warning: {}: {warning}", row.id);
        }
    }
}
