//! Reading TOML over a spanned tree, so that every fault is found at once and knows its place.
//!
//! A file is walked against its outline first ([`Walk`]): types, ranges, lengths, missing and unknown keys, defaults and
//! the origin of every value. What is sound comes out as a record; what its values must be to each other is for the
//! sections to say: they book their faults in the [`Section`] beside the record.

pub(crate) mod book;
mod document;
mod noted;
mod parts;
mod scalars;
pub(crate) mod section;
mod walk;

pub(crate) use book::Book;
pub(crate) use document::read_document;
pub(crate) use parts::{Equipment, EquipmentFile, Group, List, Part, read_equipment};
pub(crate) use scalars::{ByMonth, Number, OneWord, Texts, Used, Words, usual};
pub(crate) use section::Section;
pub(crate) use walk::{Outlined, Scalar, Stand, Stands, Walk};
