//! Result of a reader: a value with warnings, or every fault.

use daylift_units::Warning;

use crate::source::Located;

/// A checked value with its warnings.
#[derive(Debug)]
pub struct Noted<T> {
    /// The checked content of the file.
    pub value: T,
    /// Warnings about the content.
    pub warnings: Vec<Warning>,
}

/// A file's content, or all its faults. A fault without a place concerns the file as a whole.
pub type Outcome<T> = Result<Noted<T>, Vec<Located>>;
