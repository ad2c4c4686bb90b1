//! The CSV files that a plant refers to.

pub(crate) mod loads;
pub(crate) mod outages;
mod rows;
pub(crate) mod tmy3;
