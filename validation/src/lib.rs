//! The summary of the validation: one row for each comparison.
//!
//! The checks themselves are the test target `summary`.

mod allowed;
mod epanet;
mod figures;
pub mod reference;
mod report;
mod row;

pub use allowed::Allowed;
pub use epanet::EpanetSet;
pub use report::Report;
pub use row::{Row, Worst};
