//! Hours of the day: two whole numbers, start and end.

use daylift_plant::DayHours;
use daylift_units::{Fault, Field};

use crate::read::Section;

/// Checks hours given for a field.
pub(crate) fn day_hours(at: &Section, field: &Field, [from_h, to_h]: [u8; 2]) -> Option<DayHours> {
    if from_h == to_h || from_h == 24 {
        at.fault(Fault::new(
            field.key,
            field.quantity,
            format!("[{from_h}, {to_h}]"),
            "two different hours; [0, 24] is the whole day, [22, 5] passes midnight",
            "give the start hour and the end hour",
        ));
        return None;
    }
    Some(DayHours::between(from_h, to_h))
}

/// The given hours, checked, or the default.
pub(crate) fn day_hours_or(at: &Section, field: &Field, given: Option<[u8; 2]>, usual: [u8; 2]) -> Option<DayHours> {
    match given {
        Some(hours) => day_hours(at, field, hours),
        None => Some(usual_hours(usual)),
    }
}

pub(crate) fn usual_hours([from_h, to_h]: [u8; 2]) -> DayHours {
    DayHours::between(from_h, to_h)
}
