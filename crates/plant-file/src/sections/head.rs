//! The head of every file.

use daylift_units::fields::file;

use crate::read::Section;

/// Checks the line `format = 1`; a missing or unknown format is booked as a fault.
pub(crate) fn check_format(root: &Section<'_>) {
    root.count(&file::FORMAT);
}
