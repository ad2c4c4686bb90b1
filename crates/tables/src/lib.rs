//! Readers of the CSV files that a plant file names: weather, outages, timetables, voltages, loads and meter readings.
//!
//! Each reader takes a text and returns a checked table with warnings, or every fault with its place in the file. It does
//! not know the plant file and does not read from disk; the caller loads the text into a [`Source`].
//!
//! - [`Source`]: the text of a file, and its name in messages.
//! - [`Outcome`]: a checked value with warnings ([`Noted`]), or all faults ([`Located`]).
//!
//! ```
//! use std::sync::Arc;
//!
//! use daylift_tables::{Source, outages};
//! use daylift_units::{Axis, Step};
//!
//! let axis = Axis::new(2025, 365, 7200, "Africa/Lusaka", Step::Hour).unwrap();
//! let read = |text: &str| outages::read(&Arc::new(Source::of_text("outages.csv", text.to_owned())), &axis);
//!
//! // Counted by hand: one outage of 1.5 h and one of 2 h.
//! let list = "start,end\n2025-01-03T18:30,2025-01-03T20:00\n2025-06-10T05:00,2025-06-10T07:00\n";
//! assert!((read(list).unwrap().value.total_s() - 3.5 * 3600.0).abs() < 1e-9);
//!
//! // 30 February does not exist: a fault in line 2.
//! let faults = read("start,end\n2025-02-30T18:30,2025-03-01T20:00\n").unwrap_err();
//! assert_eq!(faults[0].place.as_ref().map(|place| place.line()), Some(2));
//! ```

mod epw;
pub mod gaps;
mod hourly;
pub mod known;
pub mod loads;
pub mod meter;
pub mod nearest;
pub mod outages;
pub mod outcome;
mod plain;
mod plain_times;
mod rows;
pub mod source;
mod stamp;
mod times;
pub mod timetable;
mod tmy3;
pub mod voltage;
pub mod weather;
pub mod weather_file;

pub use known::Known;
pub use nearest::nearest;
pub use outcome::{Noted, Outcome};
pub use source::{Located, Place, Source};
