//! A TOML file parsed into a spanned tree.

use std::path::Path;
use std::rc::Rc;
use std::sync::Arc;

use daylift_tables::{Place, Source};
use toml::de::DeTable;

use super::book::Book;
use super::section::Section;
use super::syntax;
use super::walk::{Outlined, Placed, walk};

/// Most syntax faults reported for one file: a file that is not TOML at all would give one for each line.
const MOST_SYNTAX_FAULTS: usize = 5;

/// Parses a source, books its syntax faults, and passes the tree to `read`.
///
/// A file with a syntax fault is not read further: the faults that follow from it would only confuse.
pub(super) fn parse<T>(
    book: &Book,
    source: &Arc<Source>,
    read: impl FnOnce(&DeTable<'_>, std::ops::Range<usize>) -> Option<T>,
) -> Option<T> {
    book.document(source);
    let (root, errors) = DeTable::parse_recoverable(&source.text);
    for error in errors.iter().take(MOST_SYNTAX_FAULTS) {
        let (fault, span) = syntax::fault(error, &source.text);
        let place = Place {
            source: Arc::clone(source),
            span,
        };
        book.fault(fault, Some(place));
    }
    if !errors.is_empty() {
        return None;
    }
    let end = source.text.find('\n').unwrap_or(source.text.len());
    read(root.get_ref(), 0..end)
}

/// Reads a plant file, whose paths are relative to `folder`.
pub(crate) fn read_document<T: Outlined>(book: &Rc<Book>, source: &Arc<Source>, folder: &Path) -> Option<Placed<T>> {
    parse(book, source, |table, span| {
        let section = Section::of_file(book, source, Arc::from(folder), "plant", T::TABLE);
        Some(walk(section, table, span))
    })
}
