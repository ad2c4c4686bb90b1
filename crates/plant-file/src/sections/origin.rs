//! `[[origin]]`: where the values of a plant file came from.
//!
//! Two entries that are equally narrow and cover the same value contradict each other: this is a fault.

use daylift_tables::nearest;
use daylift_units::Fault;

use crate::outline::{self, OriginKeys};
use crate::provenance::{Entry, Mark, covers, narrowness};
use crate::read::{List, Placed, Section};

const OF: &str = "of";

/// Reads the entries and puts the marks in the book. An entry that names nothing known or contradicts another is a fault.
/// Call it after the rest of the file was read: an entry may name a numbered section, which must exist.
pub(crate) fn read(list: &List<OriginKeys>) {
    let mut earlier: Vec<&str> = Vec::new();
    for Placed { at, keys } in &list.items {
        let of = keys.of.as_ref().map_or(&[][..], |of| &of.0);
        if keys.of.is_some() && of.is_empty() {
            let remedy = "list the values, or remove the entry";
            at.fault(Fault::new(OF, quantity(), "an empty list", allowed(), remedy));
        }
        for (i, of) in of.iter().enumerate() {
            check(at, i, of, &earlier);
            earlier.push(of);
            if let (Some(is), Some(date), Some(note)) = (keys.is, keys.date, keys.note.clone()) {
                let mark = Mark { date, note };
                at.book().mark(Entry {
                    of: of.clone(),
                    is,
                    mark,
                });
            }
        }
    }
}

/// Books what is wrong with an item of an entry's list, also in relation to earlier items of all entries.
fn check(at: &Section, item: usize, of: &str, earlier: &[&str]) {
    if !is_known(of, at) {
        at.fault_of_item(OF, item, unknown(of));
    } else if let Some(fault) = earlier.iter().find_map(|other| contradiction(at, of, other)) {
        at.fault_of_item(OF, item, fault);
    } else if of != "*" && !at.book().any_given(|path| covers(of, path)) {
        let text = format!("\"{of}\" in the list matches no value given in the files, so it marks nothing");
        at.book().warn("origin", text);
    }
}

fn quantity() -> &'static str {
    OriginKeys::OF.key.quantity
}

fn allowed() -> &'static str {
    OriginKeys::OF.key.allowed
}

fn unknown(of: &str) -> Fault {
    let known = outline::paths();
    let near = nearest(of, known.iter().map(|(path, _)| path.as_str()));
    let remedy = near.map_or_else(
        || {
            format!(
                "name one of the sections {}, or a key in one of them",
                sections().join(", ")
            )
        },
        |n| format!("did you mean \"{n}\"?"),
    );
    Fault::new(OF, quantity(), format!("\"{of}\""), allowed(), remedy)
}

/// Every section and kind of equipment file that an entry may name.
fn sections() -> Vec<String> {
    let mut out: Vec<String> = Vec::new();
    for (path, _) in outline::paths() {
        if let Some((section, _)) = path.split_once('.')
            && out.iter().all(|known| known != section)
            && section != "origin"
        {
            out.push(section.to_owned());
        }
    }
    out
}

/// The fault of two entries that are the same, or that are equally narrow and cover the same value.
fn contradiction(at: &Section, of: &str, other: &str) -> Option<Fault> {
    let both = |path: &str| covers(of, path) && covers(other, path);
    let equal = of == other || (narrowness(of) == narrowness(other) && at.book().any_given(both));
    equal.then(|| {
        let given = if of == other {
            format!("\"{of}\" twice")
        } else {
            format!("\"{of}\" and \"{other}\", which mark the same value")
        };
        let allowed = "one mark for each value, or two marks of which one is more specific";
        Fault::new(OF, quantity(), given, allowed, "remove one of the two")
    })
}

fn is_known(of: &str, at: &Section) -> bool {
    if of == "*" {
        return true;
    }
    if of.contains('[') {
        return at.book().any_origin(|path| covers(of, path));
    }
    outline::paths().iter().any(|(path, _)| covers(of, path))
}
