//! The CSV files that a plant refers to.

pub(crate) mod loads;
pub(crate) mod outages;
mod rows;
mod stamp;
pub(crate) mod tmy3;
