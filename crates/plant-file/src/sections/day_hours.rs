//! Hours of the day: two whole numbers, from and to.

use daylift_plant::DayHours;
use daylift_units::{Fault, Field};

use crate::provenance::OriginValue;
use crate::read::Section;

/// Says that hours that were not given are the usual ones.
pub(crate) fn usual_hours(section: &Section<'_>, key: &str, (from_h, to_h): (u8, u8)) {
    let hours = OriginValue::Numbers(vec![f64::from(from_h), f64::from(to_h)]);
    section.by_default(key, hours, "h", "usual practice");
}

/// Hours that may be left out.
pub(crate) fn day_hours_or(section: &Section<'_>, field: &Field, usual: (u8, u8)) -> Option<DayHours> {
    if section.has(field.key) {
        return day_hours(section, field);
    }
    usual_hours(section, field.key, usual);
    Some(DayHours::between(usual.0, usual.1))
}

/// Hours that must be given.
pub(crate) fn day_hours(section: &Section<'_>, field: &Field) -> Option<DayHours> {
    let hours = section.list(field, Some(2))?;
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "checked whole, 0 to 24"
    )]
    let (from_h, to_h) = (hours[0] as u8, hours[1] as u8);
    if from_h == to_h || from_h == 24 {
        section.fault(Fault::new(
            field.key,
            field.quantity,
            format!("[{from_h}, {to_h}]"),
            "two different hours; [0, 24] is the whole day, [22, 5] passes midnight",
            "give the first hour and the hour at which they end",
        ));
        return None;
    }
    Some(DayHours::between(from_h, to_h))
}
