//! Warnings, on standard error after everything else.

use daylift_study::Comparison;

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
pub(crate) fn print_warnings_of_rows(answer: &Comparison) {
    print_warnings(&of_rows(answer));
}

fn of_rows(answer: &Comparison) -> Vec<String> {
    let rows = &answer.arrangements;
    let whose = |warning: &String| {
        let ids: Vec<&str> = rows.iter().filter(|r| r.warnings.contains(warning)).map(|r| r.id.as_str()).collect();
        (ids.len(), ids.join(", "))
    };
    let all = rows.iter().flat_map(|r| &r.warnings);
    let (shared, own): (Vec<_>, Vec<_>) = all.map(|w| (w, whose(w))).partition(|(_, (count, _))| *count == rows.len());
    let own = own.into_iter().map(|(w, (_, ids))| format!("{ids}: {w}"));
    shared.into_iter().map(|(w, _)| w.clone()).chain(own).collect()
}
