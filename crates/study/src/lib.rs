//! Runs the simulation of a plant and returns finished answers, which command line and page only display.
//!
//! The order is: sun and planes, array, devices, and then for each arrangement the year and the money. [`Stages`] computes
//! what all arrangements share; a [`Memory`] keeps stages for later answers.
//!
//! - [`compare()`] returns a [`Comparison`]: every arrangement that the plant has the parts for, each with a [`Row`] of
//!   figures.
//! - [`run()`] returns a [`Run`]: one arrangement in full, with months, [`Working`]s and origins of the values.
//! - [`day()`] returns a [`Day`]: one day of an arrangement, moment by moment.
//! - [`strings::judge_strings`] checks the strings and ranks every other suitable layout by the plant's year with it.
//! - [`changes::between`] lists what changes from one row to another.
//!
//! Answers have ids and figures; the words are in `present`. An exception are the texts of workings. The crate reads no
//! files (`plant-file` does) and has no physics of its own: that is in `supply` and the crates below it.
//!
//! # Example
//!
//! Compares the arrangements of a worked plant. Water secured is, by definition, delivered ÷ demand. The reference has no
//! payback, because payback is compared with the reference.
//!
//! ```
//! use daylift_supply::Flow;
//! use daylift_units::Step;
//!
//! let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples/mulenga-ridge");
//! let read = daylift_plant_file::read_plant(folder.as_ref()).map_err(|faults| format!("{faults:?}"))?;
//! let comparison = daylift_study::compare(&read.plant, Step::Hour, &read.warnings);
//!
//! let reference = comparison.row(comparison.reference).ok_or("no reference")?;
//! assert_eq!(reference.row.money.payback_years, None);
//! for compared in &comparison.rows {
//!     let water = &compared.row.water_m3;
//!     let secured = water.of(Flow::Delivered) / water.of(Flow::Demand);
//!     assert_eq!(compared.detail.water_secured.year, Some(secured));
//! }
//! # Ok::<(), String>(())
//! ```

pub mod against;
pub mod answer;
pub mod best_rule;
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
pub mod pairs;
pub mod picture;
pub mod prices;
pub mod row;
pub mod rules;
pub mod run;
pub mod series;
pub mod service;
pub mod shortage;
pub mod stages;
mod starts;
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
pub use pairs::Pair;
pub use picture::Picture;
pub use prices::Prices;
pub use run::{Run, run};
pub use series::Series;
pub use service::Service;
pub use stages::Stages;
pub use traits::Traits;
pub use workings::Working;
