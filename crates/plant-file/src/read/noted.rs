//! The outcome of reading a table file, booked by the section that names the file.

use daylift_tables::Outcome;

use super::Section;

impl Section {
    /// Returns the value and books its warnings, or books its faults. A fault of the whole file is placed at the key in the
    /// section.
    pub(crate) fn noted<T>(&self, outcome: Outcome<T>) -> Option<T> {
        match outcome {
            Ok(noted) => {
                self.book().warnings(noted.warnings);
                Some(noted.value)
            }
            Err(faults) => {
                for located in faults {
                    if located.place.is_some() {
                        self.book().fault(located.fault, located.place);
                    } else {
                        self.fault(located.fault);
                    }
                }
                None
            }
        }
    }
}
