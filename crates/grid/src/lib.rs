//! The utility as the farm sees it: when it is away, what it charges, what it takes back, and what else hangs on it.

pub mod export;
pub mod loads;
pub mod outages;
pub mod tariff;

pub use export::Export;
pub use loads::Loads;
pub use outages::{Interval, Outages};
pub use tariff::{Price, Season, Tariff, TariffSheet};

/// Months in a year.
pub const MONTHS: usize = 12;
/// Hours in a day.
pub const HOURS: usize = 24;
/// A value for every month and hour of the civil day.
pub type MonthHour<T> = [[T; HOURS]; MONTHS];
