//! The CSV files that a plant names: weather, outages, voltages, loads.
//!
//! A reader takes a text and hands back a checked table, or every fault with its place. It knows nothing of the plant file
//! that names the table, and reads no disk.

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
