//! Reading TOML over a spanned tree, so that every fault is found at once and knows its place.

mod assumed;
pub(crate) mod book;
mod document;
mod noted;
pub(crate) mod section;

pub(crate) use assumed::read_assumed;
pub(crate) use book::Book;
pub(crate) use document::read_document;
pub(crate) use section::Section;
