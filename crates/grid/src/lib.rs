//! Everything other than the array that supplies or loads the farm's bus: utility, battery, generator, loads.
//!
//! The utility has outages, a tariff, an export agreement and perhaps a weak line. All of this is plain checked data;
//! `supply` simulates what it does in the course of a year. `tables` and `plant-file` read the files.
//!
//! - [`Outages`]: when the grid is down, from a list, a [timetable], [voltage readings](voltage) or [random numbers](random).
//! - [`Tariff`] and [`Export`]: prices and credits by month and hour.
//! - [`Battery`], [`Generator`] and [`Loads`].
//!
//! ```
//! use daylift_grid::{Interval, Outages, Slot, StageInForce, timetable::outages_of};
//! use daylift_units::{Axis, Step};
//!
//! // Slots from 06:00 to 08:00 on the 1st (from stage 1) and from 10:00 to 12:00 on the 31st (from stage 2).
//! let slots = [
//!     Slot { stage: 1, day: 1, start_min: 6 * 60, end_min: 8 * 60 },
//!     Slot { stage: 2, day: 31, start_min: 10 * 60, end_min: 12 * 60 },
//! ];
//! let axis = Axis::new(2025, 365, 7200, "Africa/Lusaka", Step::Hour).unwrap();
//! let all_year = Interval { start_s: 0.0, end_s: axis.length_s() };
//! let in_force = [StageInForce { interval: all_year, stage: 2 }];
//! let (outages, _) = Outages::new(outages_of(&slots, &in_force, &axis), axis.length_s());
//!
//! // Counted by hand: 12 months have a 1st and 7 have a 31st, so (12 + 7) · 2 h = 38 h.
//! assert_eq!(outages.intervals().len(), 19);
//! assert!((outages.total_s() - 38.0 * 3600.0).abs() < 1e-6);
//! ```

pub mod battery;
mod draws;
pub mod export;
pub mod generator;
pub mod line;
pub mod load_series;
pub mod loads;
pub mod meter;
pub mod outages;
pub mod random;
pub mod tariff;
pub mod timetable;
pub mod voltage;

pub use battery::{Battery, BatteryRule, BatterySheet, BatteryUse};
pub use export::Export;
pub use generator::{Generator, GeneratorSheet};
pub use line::{LineSheet, WeakLine};
pub use load_series::LoadSeries;
pub use loads::Loads;
pub use outages::{Interval, OutageSource, Outages};
pub use random::{OutageFrequency, RandomOutages, RandomSheet};
pub use tariff::{Price, Season, Tariff, TariffSheet};
pub use timetable::{Slot, StageInForce};
pub use voltage::{VoltageReading, VoltageWindow};
