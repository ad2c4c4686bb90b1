//! The CSV files that a plant refers to.

mod epw;
pub(crate) mod gaps;
mod hourly;
pub(crate) mod loads;
pub(crate) mod meter;
pub(crate) mod outages;
mod plain;
mod plain_times;
mod rows;
mod stamp;
mod times;
pub(crate) mod timetable;
mod tmy3;
pub(crate) mod voltage;
pub(crate) mod weather;
