//! Warnings, on standard error after everything else.

use daylift_present::notices::notice;
use daylift_present::number::grouped;
use daylift_present::say;
use daylift_study::{ComparedRow, Comparison, Notice};

use super::page;

const HEAD: &str = "warning: ";

/// Each warning once.
pub(crate) fn print_warnings<'a>(warnings: impl IntoIterator<Item = &'a String>) {
    let width = page::error_width();
    let mut said: Vec<&String> = Vec::new();
    for warning in warnings {
        if said.contains(&warning) {
            continue;
        }
        said.push(warning);
        let text = format!("{HEAD}{warning}");
        eprintln!("{}", width.map_or(text.clone(), |w| page::hang(&text, w, HEAD.len())));
    }
}

/// Each warning once: those of every row first, the others with the names of their rows.
pub(crate) fn print_warnings_of_rows(full: &Comparison) {
    print_warnings(&of_rows(full));
}

fn of_rows(full: &Comparison) -> Vec<String> {
    let low_load = low_load(full);
    let is_own = |one: &&Notice| low_load.is_none() || !matches!(one, Notice::GeneratorLowLoad { .. });
    let own = |one: &ComparedRow| one.notices.iter().filter(is_own).map(notice).collect();
    let of_each: Vec<(&str, Vec<String>)> = full.rows.iter().map(|one| (one.row.id.id(), own(one))).collect();
    let whose = |warning: &String| {
        let ids: Vec<&str> = of_each.iter().filter(|(_, all)| all.contains(warning)).map(|(id, _)| *id).collect();
        (ids.len(), ids.join(", "))
    };
    let all = of_each.iter().flat_map(|(_, all)| all);
    let (shared, own): (Vec<_>, Vec<_>) =
        all.map(|w| (w, whose(w))).partition(|(_, (count, _))| *count == of_each.len());
    let own = own.into_iter().map(|(w, (_, ids))| format!("{ids}: {w}"));
    shared.into_iter().map(|(w, _)| w.clone()).chain(own).chain(low_load).collect()
}

/// One warning for all rows whose generator runs at low load, if there are several: only their hours differ.
fn low_load(full: &Comparison) -> Option<String> {
    let of_row = |one: &ComparedRow| {
        one.notices.iter().find_map(|notice| match notice {
            Notice::GeneratorLowLoad { hours } => Some(say!(
                "notice-generator-low-load.row",
                row = one.row.id.id(),
                hours = grouped(*hours, 0)
            )),
            _ => None,
        })
    };
    let rows: Vec<String> = full.rows.iter().filter_map(of_row).collect();
    (rows.len() > 1).then(|| say!("notice-generator-low-load.rows", rows = rows.join(", ")))
}
