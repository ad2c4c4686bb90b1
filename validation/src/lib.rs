//! The summary of the validation: one row for each thing the program is held against.
//!
//! The checks themselves are the test target `summary`.

mod allowed;
mod figures;
pub mod reference;
mod report;
mod row;

pub use allowed::Allowed;
pub use report::Report;
pub use row::{Row, Worst};
