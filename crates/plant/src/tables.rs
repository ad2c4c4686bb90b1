//! The CSV files that a plant refers to.

pub(crate) mod loads;
pub(crate) mod meter;
pub(crate) mod outages;
mod rows;
mod stamp;
mod times;
pub(crate) mod timetable;
pub(crate) mod tmy3;
pub(crate) mod voltage;
