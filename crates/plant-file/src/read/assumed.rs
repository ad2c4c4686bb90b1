//! The plant's list of values that nobody has confirmed yet.

use daylift_tables::nearest;
use daylift_units::Fault;

use super::Section;
use crate::outline;
use crate::provenance::{ASSUMED, covers};

/// Reads the list of assumed values, and books a fault for each that names nothing. To be called when the rest has been
/// read: a numbered section must be there.
pub(crate) fn read_assumed(root: &Section<'_>) {
    let quantity = "values that are not confirmed yet";
    let allowed = "keys with their section such as \"well.static_level_m\", whole sections such as \"well\", or \"*\"";
    let Some(entries) = root.texts(ASSUMED, quantity, allowed) else {
        return;
    };
    for (i, entry) in entries.iter().enumerate() {
        if is_known(entry, root) {
            if entry != "*" && !root.book().any_given(|path| covers(entry, path)) {
                let text = format!("\"{entry}\" in the list covers no value that the files give; it marks nothing");
                root.book().warn(ASSUMED, text);
            }
            continue;
        }
        let known = outline::paths();
        let near = nearest(entry, known.iter().map(|(path, _)| path.as_str()));
        let remedy = near.map_or_else(|| "remove it".to_owned(), |n| format!("did you mean \"{n}\"?"));
        let fault = Fault::new(ASSUMED, quantity, format!("\"{entry}\""), allowed, remedy);
        root.fault_of_item(ASSUMED, i, fault);
    }
    root.book().assume(entries);
}

fn is_known(entry: &str, root: &Section<'_>) -> bool {
    if entry == "*" {
        return true;
    }
    if entry.contains('[') {
        return root.book().any_origin(|path| covers(entry, path));
    }
    outline::paths().iter().any(|(path, _)| covers(entry, path))
}
