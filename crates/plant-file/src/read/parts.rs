//! The parts of a section: other sections, lists of them, and equipment files.

use std::rc::Rc;
use std::sync::Arc;

use daylift_units::Fault;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::book::Book;
use super::document::parse;
use super::section::Section;
use super::walk::{Outlined, Placed, Readable, Scalar, Walk, walk};
use crate::outline::{Key, What};
use daylift_tables::Source;

/// A section that a file may have.
#[derive(Debug)]
pub(crate) enum Part<T: Outlined> {
    /// Its key is not there.
    Absent,
    /// The value of its key is not a table.
    Faulty,
    /// The section is there.
    There(Placed<T>),
}

impl<T: Outlined> Part<T> {
    /// Whether its key is there.
    pub(crate) fn is_there(&self) -> bool {
        !matches!(self, Self::Absent)
    }

    /// The section.
    pub(crate) fn there(&self) -> Option<&Placed<T>> {
        match self {
            Self::There(placed) => Some(placed),
            _ => None,
        }
    }

    /// Applies `read` to a section that may be absent. The inner `None` means absent, the outer `None` means faults.
    pub(crate) fn may<R>(&self, read: impl FnOnce(&Placed<T>) -> Option<R>) -> Option<Option<R>> {
        match self {
            Self::Absent => Some(None),
            Self::Faulty => None,
            Self::There(placed) => read(placed).map(Some),
        }
    }
}

/// Sections of a list.
#[derive(Debug)]
pub(crate) struct List<T: Outlined> {
    /// Whether its key is there.
    pub(crate) is_there: bool,
    /// Whether it is a list, not a single section.
    pub(crate) is_list: bool,
    /// The sections.
    pub(crate) items: Vec<Placed<T>>,
}

/// A group of keys within the table of another section.
#[derive(Debug)]
pub(crate) struct Group<T>(std::marker::PhantomData<T>);

impl<T: Outlined> Readable for Group<T> {
    type Of = ();
    type Read = T::Read;

    fn read(walk: &Walk<'_>, _: &'static Key, (): ()) -> T::Read {
        T::read(walk)
    }
}

/// Walks a table below the current one: that of a key, or of an item of a list such as `pipe[2]`.
fn below<T: Outlined>(walk_: &Walk<'_>, key: &str, table: &DeTable<'_>, span: std::ops::Range<usize>) -> Placed<T> {
    let at = walk_.section.at(key);
    walk(
        walk_.section.below(walk_.section.path(key), at.order, T::TABLE),
        table,
        span,
    )
}

impl<T: Outlined> Readable for Part<T> {
    type Of = ();
    type Read = Self;

    fn read(walk: &Walk<'_>, key: &'static Key, (): ()) -> Self {
        let Some(value) = walk.value(key) else {
            if key.needed {
                walk.section.no_section(key.name);
            }
            return Self::Absent;
        };
        let Some(table) = value.get_ref().as_table() else {
            let title = walk.section.path(key.name);
            walk.wrong_type(key, value, format!("a table [{title}]"), "write it as a table");
            return Self::Faulty;
        };
        Self::There(below(walk, key.name, table, value.span()))
    }
}

impl<T: Outlined> Readable for List<T> {
    type Of = ();
    type Read = Self;

    fn read(walk: &Walk<'_>, key: &'static Key, (): ()) -> Self {
        let mut out = Self {
            is_there: false,
            is_list: false,
            items: Vec::new(),
        };
        let Some(value) = walk.value(key) else { return out };
        out.is_there = true;
        if let (What::OneOrMany(_), false) = (key.what, value.get_ref().is_array()) {
            if let Part::There(placed) = Part::read(walk, key, ()) {
                out.items.push(placed);
            }
            return out;
        }
        let title = walk.section.path(key.name);
        let (allowed, remedy) = (
            format!("one or more tables [[{title}]]"),
            format!("write it as [[{title}]]"),
        );
        let Some(items) = value.get_ref().as_array() else {
            walk.wrong_type(key, value, allowed, &remedy);
            return out;
        };
        out.is_list = true;
        for (i, item) in items.iter().enumerate() {
            match item.get_ref().as_table() {
                Some(table) => {
                    out.items.push(below(walk, &format!("{}[{}]", key.name, i + 1), table, item.span()));
                }
                None => walk.wrong_type(key, item, allowed.clone(), &remedy),
            }
        }
        out
    }
}

/// An equipment file's outline.
pub(crate) trait EquipmentFile: Outlined {
    /// The value that its `kind` must have.
    const KIND: &'static str;
}

/// An equipment file that a key names.
#[derive(Debug)]
pub(crate) struct Equipment<T: EquipmentFile> {
    /// Whether the key is there.
    pub(crate) is_there: bool,
    /// The file, when it could be read.
    pub(crate) file: Option<Placed<T>>,
}

impl<T: EquipmentFile> Readable for Equipment<T> {
    type Of = ();
    type Read = Self;

    fn read(walk: &Walk<'_>, key: &'static Key, (): ()) -> Self {
        let Some(value) = walk.value(key) else {
            if key.needed {
                let _: Option<String> = String::when_absent(walk, key, ());
            }
            return Self {
                is_there: false,
                file: None,
            };
        };
        Self {
            is_there: true,
            file: open(walk, key, value),
        }
    }
}

/// Opens the file that a key names. Faults of its values are placed in that file; a fault of the path at the key.
fn open<T: EquipmentFile>(walk: &Walk<'_>, key: &'static Key, value: &Spanned<DeValue<'_>>) -> Option<Placed<T>> {
    let written = String::from_value(walk, key, (), value)?;
    let source = walk.section.load(key.name, key.quantity, &written)?;
    read_ordered(
        walk.section.shared_book(),
        &source,
        walk.section.folder(),
        walk.section.at(key.name).order,
    )
}

/// Reads an equipment file, whose `kind` must be that of `T`.
pub(crate) fn read_equipment<T: EquipmentFile>(book: &Rc<Book>, source: &Arc<Source>) -> Option<Placed<T>> {
    read_ordered(book, source, &Arc::from(std::path::Path::new("")), Vec::new())
}

fn read_ordered<T: EquipmentFile>(
    book: &Rc<Book>,
    source: &Arc<Source>,
    folder: &Arc<std::path::Path>,
    order: Vec<usize>,
) -> Option<Placed<T>> {
    parse(book, source, |table, span| {
        let section = Section::of_file(book, source, Arc::clone(folder), T::KIND, T::TABLE).ordered(order);
        let kind = table.get("kind").and_then(|value| value.get_ref().as_str());
        if let Some(given) = kind.filter(|given| *given != T::KIND) {
            // Its keys are those of another kind: a fault for each would hide the cause.
            section.holding(table, span).fault(Fault::new(
                "kind",
                "kind of equipment",
                format!("this file describes: {given}"),
                format!("kind = \"{}\" here", T::KIND),
                "use the right file; two files may be swapped",
            ));
            return None;
        }
        Some(walk(section, table, span))
    })
}
