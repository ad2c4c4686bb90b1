//! Runs the stages in order and hands up one finished answer, which command line, page and papers read.
//!
//! The order: sun and plane, array, devices, then for each arrangement the year and the money.

pub mod against;
pub mod answer;
pub mod by_id;
pub mod changes;
pub mod columns;
pub mod compare;
mod cores;
pub mod day;
pub mod detail;
pub mod duty;
pub mod memory;
mod money;
pub mod notice;
pub mod origins;
pub mod picture;
pub mod row;
pub mod run;
pub mod same_service;
pub mod series;
pub mod stages;
pub mod strings;
pub mod sunlight;
pub mod traits;
pub mod workings;
pub mod year;

pub use against::Against;
pub use answer::Row;
pub use compare::{ComparedRow, Comparison, compare};
pub use day::{Day, DayChoice, Switched, day, days_to_choose};
pub use daylift_supply::NoRecorder;
pub use duty::{SetAtDuty, sets_at_duty};
pub use memory::Memory;
pub use notice::Notice;
pub use picture::Picture;
pub use run::{Run, run};
pub use series::Series;
pub use stages::Stages;
pub use traits::Traits;
pub use workings::Working;
