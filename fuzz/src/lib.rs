//! Properties of every file that is read, whatever its content.

mod faults;
mod finite;
mod folder;
mod mutate;
mod patch;

use std::fmt::Debug;
use std::sync::{Arc, LazyLock};

use daylift_tables::{Outcome, Source};
use daylift_units::{Axis, Field, Step};

pub use faults::{check_faults, check_row_faults};
pub use finite::check_finite;
pub use folder::{BARE, FULL, Folder};
pub use mutate::mutated;
pub use patch::patched;

/// The input as a text, if it is valid UTF-8.
#[must_use]
pub fn source(data: &[u8]) -> Option<Arc<Source>> {
    let text = std::str::from_utf8(data).ok()?;
    Some(Arc::new(Source::of_text("input", text.to_owned())))
}

/// A leap year in a zone with daylight saving, on the weather's standard time.
pub static CHANGING: LazyLock<Axis> = LazyLock::new(|| axis(2024, 366, -5, "America/New_York"));
/// A common year in a zone that is half an hour off the weather's.
pub static STEADY: LazyLock<Axis> = LazyLock::new(|| axis(2025, 365, 5, "Asia/Kolkata"));

fn axis(year: i16, days: u32, offset_h: i32, zone: &str) -> Axis {
    Axis::new(year, days, offset_h * 3600, zone, Step::Hour).expect("a sound year")
}

/// Reads a file of rows twice. Checks that both results are the same, faults are complete and in their place, and accepted
/// values are finite. Returns what was accepted.
pub fn read_twice<T: Debug>(read: impl Fn() -> Outcome<T>) -> Option<T> {
    let (first, second) = (read(), read());
    let text = format!("{first:?}");
    assert_eq!(text, format!("{second:?}"), "read twice, two results");
    match first {
        Ok(noted) => {
            check_finite(&text);
            Some(noted.value)
        }
        Err(faults) => {
            check_row_faults(&faults, true);
            None
        }
    }
}

/// Checks that a value in SI is within the range that its field declares.
pub fn check_within(field: &Field, si: f64) {
    let value = si / field.unit.factor;
    // Converting to SI and back adds a few rounding errors.
    let hair = 1e-9 * (field.greatest - field.least);
    let within = (field.least - hair..=field.greatest + hair).contains(&value);
    assert!(
        within,
        "{} = {value}, beyond {} to {}",
        field.key, field.least, field.greatest
    );
}
