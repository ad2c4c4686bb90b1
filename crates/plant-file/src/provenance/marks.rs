//! How entries of `[[origin]]` mark the values that they cover: a key, a section, or all values.
//!
//! When two entries cover the same value, the narrower one applies, in whatever order they are written: a key is narrower
//! than a section, a section narrower than `*`.

use super::{Mark, Origin, ValueOrigin, unnumbered};

/// What an entry covers and how it marks it.
#[derive(Debug)]
pub(crate) struct Entry {
    /// The key, the section or `*`, as it is written.
    pub(crate) of: String,
    /// The origin of the values that it covers.
    pub(crate) is: Origin,
    /// What else it says.
    pub(crate) mark: Mark,
}

/// How narrow an entry is: the number of parts of its path, then the number of indices in it.
pub(crate) fn narrowness(of: &str) -> (usize, usize) {
    match of {
        "*" => (0, 0),
        of => (of.split('.').count(), of.matches('[').count()),
    }
}

/// Whether an entry covers a path: it is the same key, or a section above it. A part without an index covers every item of
/// a list.
pub(crate) fn covers(of: &str, path: &str) -> bool {
    if of == "*" {
        return true;
    }
    let mut parts = path.split('.');
    of.split('.').all(|e| parts.next().is_some_and(|p| p == e || unnumbered(p) == e))
}

/// Marks each given value by the narrowest entry that covers it.
pub(crate) fn mark(mut origins: Vec<ValueOrigin>, entries: &[Entry]) -> Vec<ValueOrigin> {
    for origin in origins.iter_mut().filter(|o| o.origin == Origin::Given) {
        let covering = entries.iter().filter(|entry| covers(&entry.of, &origin.path));
        if let Some(entry) = covering.max_by_key(|entry| narrowness(&entry.of)) {
            origin.origin = entry.is;
            origin.mark = Some(entry.mark.clone());
        }
    }
    origins
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::provenance::tests::origin as value;

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
    fn the_narrower_entry_applies_in_any_order() {
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
