//! Reads TOML as a tree with positions, so that all faults are found in one pass, each with its place.
//!
//! A [`Walk`] first compares a file with its outline: types, ranges, lengths, missing and unknown keys. It also applies
//! defaults and books the origin of every value. Valid values come out as a record. Rules between several values are
//! checked in `sections`, which book their faults in the [`Section`] that comes with the record.

pub(crate) mod book;
mod document;
mod noted;
mod parts;
mod scalars;
pub(crate) mod section;
mod syntax;
mod walk;
mod windows;

pub(crate) use book::Book;
pub(crate) use document::read_document;
pub(crate) use parts::{Equipment, EquipmentFile, Group, List, Part, read_equipment};
pub(crate) use scalars::{ByHour, ByMonth, Number, OneWord, Texts, Used, Words, usual};
pub(crate) use section::Section;
pub(crate) use walk::{Outlined, Placed, Readable, Scalar, Walk};
pub(crate) use windows::ALLOWED_WINDOWS;
