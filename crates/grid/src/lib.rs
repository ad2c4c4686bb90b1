//! The farm's bus and what feeds it beside the array: the utility (when it is away, what it charges, what it takes back),
//! a battery, a generating set; and the loads that hang on it.

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
pub use generator::{GeneratingSet, GeneratorSheet};
pub use line::{LineSheet, WeakLine};
pub use load_series::LoadSeries;
pub use loads::Loads;
pub use outages::{Interval, OutageSource, Outages};
pub use random::{HowOften, RandomOutages, RandomSheet};
pub use tariff::{Price, Season, Tariff, TariffSheet};
pub use timetable::{Slot, StageInForce};
pub use voltage::{VoltageReading, VoltageWindow};
