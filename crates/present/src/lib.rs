//! Between an answer and its readers: words, numbers and tables. Answers carry ids and figures; what is said of them is here.

pub mod answers;
pub mod changes;
pub mod compare;
pub mod findings;
pub mod flows;
pub mod names;
pub mod notices;
pub mod number;
pub mod run;
pub mod strings;
pub mod table;
pub mod words;

pub use daylift_units::Id;
pub use names::Names;
