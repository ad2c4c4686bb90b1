//! What a file of rows gave, taken over by the section that names it.

use daylift_tables::Outcome;

use super::Section;

impl Section {
    /// The value, its warnings booked; or its faults booked, those of the file as a whole at their key in the section.
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
