//! Quantities, constants, permitted ranges, faults and the time axis: what every other room stands on.

pub mod axis;
pub mod constants;
pub mod conversion;
pub mod fault;
pub mod field;
pub mod fields;
pub mod fingerprint;
pub mod fit;
pub mod hour;
pub mod id;
pub mod month;
pub mod root;

pub use axis::{Axis, CivilHour, ClockChange, Instant, Step};
pub use conversion::LossCurve;
pub use fault::{Fault, Warning};
pub use field::{Field, Preset, Unit};
pub use fingerprint::{Fingerprint, Fingerprinted};
pub use hour::{Hour, Hourly, MonthHour};
pub use id::Id;
pub use month::{Month, Monthly};
