//! `[[origin]]`: what a plant file says of where its values came from.
//!
//! An entry marks the values that it covers: a key, a section, or all. Of two entries that cover one value the one of less
//! reach holds, whichever stands first: a key before a section, a section before `*`. Two of equal reach contradict each
//! other, and are a fault.

use daylift_units::Fault;

use super::{Mark, Origin, ValueOrigin, unnumbered};
use crate::outline::{self, OriginKeys};
use crate::read::{List, Section, Stand};
use daylift_tables::nearest;

const OF: &str = "of";

/// What an entry covers and how it marks it.
#[derive(Debug)]
pub(crate) struct Entry {
    of: String,
    is: Origin,
    mark: Mark,
}

/// Reads the entries and marks them in the book; a fault for each that names nothing or contradicts another. To be called
/// when the rest has been read: a numbered section must be there.
pub(crate) fn read_marks(list: &List<OriginKeys>) {
    let mut earlier: Vec<&str> = Vec::new();
    for Stand { at, keys } in &list.items {
        let of = keys.of.as_ref().map_or(&[][..], |of| &of.0);
        if keys.of.is_some() && of.is_empty() {
            let remedy = "name the values, or remove the entry";
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

/// Books what is wrong with an item of an entry's list beside all that stand before it.
fn check(at: &Section, item: usize, of: &str, earlier: &[&str]) {
    if !is_known(of, at) {
        at.fault_of_item(OF, item, unknown(of));
    } else if let Some(fault) = earlier.iter().find_map(|other| contradiction(at, of, other)) {
        at.fault_of_item(OF, item, fault);
    } else if of != "*" && !at.book().any_given(|path| covers(of, path)) {
        let text = format!("\"{of}\" in the list covers no value that the files give; it marks nothing");
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
    let remedy = near.map_or_else(|| "remove it".to_owned(), |n| format!("did you mean \"{n}\"?"));
    Fault::new(OF, quantity(), format!("\"{of}\""), allowed(), remedy)
}

/// The fault of two entries of equal reach that cover one value, or are the same.
fn contradiction(at: &Section, of: &str, other: &str) -> Option<Fault> {
    let both = |path: &str| covers(of, path) && covers(other, path);
    let equal = of == other || (reach(of) == reach(other) && at.book().any_given(both));
    equal.then(|| {
        let given = if of == other {
            format!("\"{of}\" twice")
        } else {
            format!("\"{of}\" beside \"{other}\"")
        };
        let allowed = "one mark for a value, or two of which one names less than the other";
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

/// How little an entry names: parts of the path, then numbers in it.
fn reach(of: &str) -> (usize, usize) {
    match of {
        "*" => (0, 0),
        of => (of.split('.').count(), of.matches('[').count()),
    }
}

/// Whether an entry covers a path: the same key, or a section above it. An entry without numbers covers every section of a
/// list.
pub(super) fn covers(of: &str, path: &str) -> bool {
    if of == "*" {
        return true;
    }
    let mut parts = path.split('.');
    of.split('.').all(|e| parts.next().is_some_and(|p| p == e || unnumbered(p) == e))
}

/// Marks the values that entries cover, each by the one of least reach.
pub(crate) fn mark(mut origins: Vec<ValueOrigin>, entries: &[Entry]) -> Vec<ValueOrigin> {
    for origin in origins.iter_mut().filter(|o| o.origin == Origin::Given) {
        let covering = entries.iter().filter(|entry| covers(&entry.of, &origin.path));
        if let Some(entry) = covering.max_by_key(|entry| reach(&entry.of)) {
            origin.origin = entry.is;
            origin.mark = Some(entry.mark.clone());
        }
    }
    origins
}

#[cfg(test)]
mod tests {
    use super::super::OriginValue;
    use super::*;

    fn value(path: &str, origin: Origin) -> ValueOrigin {
        ValueOrigin {
            path: path.to_owned(),
            file: "plant.toml".to_owned(),
            keys: path.to_owned(),
            origin,
            mark: None,
            value: OriginValue::Number(1.0),
            unit: "m",
            source: "plant.toml, line 1".to_owned(),
        }
    }

    fn entry(of: &str, is: Origin) -> Entry {
        Entry {
            of: of.to_owned(),
            is,
            mark: Mark::default(),
        }
    }

    #[test]
    fn an_entry_covers_its_key_its_section_and_its_list() {
        for (of, path) in [
            ("*", "tank.capacity_m3"),
            ("tank", "tank.capacity_m3"),
            ("tank.capacity_m3", "tank.capacity_m3"),
            ("pipe", "pipe[2].bore_mm"),
            ("pipe.bore_mm", "pipe[2].bore_mm"),
            ("pipe[2]", "pipe[2].bore_mm"),
            ("tariff.season.prices.per_kwh", "tariff.season[1].prices[3].per_kwh"),
        ] {
            assert!(covers(of, path), "{of} {path}");
        }
        for (of, path) in [
            ("tan", "tank.capacity_m3"),
            ("tank.restart_pct", "tank.capacity_m3"),
            ("pipe[1]", "pipe[2].bore_mm"),
            ("tank.capacity_m3.x", "tank.capacity_m3"),
            ("", "tank.capacity_m3"),
        ] {
            assert!(!covers(of, path), "{of} {path}");
        }
    }

    #[test]
    fn the_entry_that_names_less_holds_whichever_stands_first() {
        let entries = [
            entry("pipe[2].bore_mm", Origin::Confirmed),
            entry("pipe[2]", Origin::Found),
            entry("*", Origin::Assumed),
            entry("pipe", Origin::Datasheet),
        ];
        for (path, is) in [
            ("pipe[2].bore_mm", Origin::Confirmed),
            ("pipe[2].length_m", Origin::Found),
            ("pipe[1].length_m", Origin::Datasheet),
            ("tank.capacity_m3", Origin::Assumed),
        ] {
            assert_eq!(mark(vec![value(path, Origin::Given)], &entries)[0].origin, is, "{path}");
            let mut back: Vec<Entry> = Vec::new();
            back.extend(entries.iter().rev().map(|e| entry(&e.of, e.is)));
            assert_eq!(mark(vec![value(path, Origin::Given)], &back)[0].origin, is, "{path}");
        }
    }

    #[test]
    fn only_what_was_given_is_marked() {
        let origins = vec![
            value("well.static_level_m", Origin::Given),
            value("well.intake_margin_m", Origin::Default),
            value("tank.capacity_m3", Origin::Given),
        ];
        let marked = mark(origins, &[entry("well", Origin::Assumed)]);
        assert_eq!(
            marked.iter().map(|o| o.origin).collect::<Vec<_>>(),
            [Origin::Assumed, Origin::Default, Origin::Given]
        );
    }
}
