//! What a reader hands back: a value with what was noticed, or every fault.

use daylift_units::Warning;

use crate::source::Located;

/// A checked value, and what the reader of it must know.
#[derive(Debug)]
pub struct Noted<T> {
    /// What the file holds, checked.
    pub value: T,
    /// What was noticed.
    pub warnings: Vec<Warning>,
}

/// A file's content, or all its faults. A fault without a place is one of the file as a whole.
pub type Outcome<T> = Result<Noted<T>, Vec<Located>>;
