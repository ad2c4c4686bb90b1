//! Quantities with their units and permitted ranges, physical constants, faults, and the time axis of a year.
//!
//! This is the base of the workspace: every other crate may use it, and it uses none of them. It also holds the numerical
//! methods that several crates need: [root finding](root), [least squares](fit) and the [loss curve](LossCurve) of power
//! converters. It reads no files and no clock, and it contains no engineering rules.
//!
//! - [`Field`] declares one quantity of the plant file: key, unit, range and default. [`fields`] declares them all.
//! - [`Fault`] says what is wrong with a value, what is allowed, and how to fix it.
//! - [`Axis`] is the simulation year, in steps and in hours of civil time.
//!
//! ```
//! use daylift_units::fields::outlet::PRESSURE;
//!
//! // 1 bar = 10⁵ Pa (BIPM, The International System of Units, 8th edition 2006, table 8; from memory).
//! assert_eq!(PRESSURE.check(2.5), Ok(250_000.0));
//!
//! // A value outside the range gives a fault instead.
//! let fault = PRESSURE.check(60.0).unwrap_err();
//! assert_eq!((fault.key.as_str(), fault.given.as_str()), ("pressure_bar", "60 bar"));
//! assert!(fault.allowed.starts_with("0 to 40 bar"));
//! ```

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
pub mod tracking;

pub use axis::{Axis, CivilHour, ClockChange, Instant, Step};
pub use conversion::LossCurve;
pub use fault::{Fault, Warning};
pub use field::{Field, Preset, Unit};
pub use fingerprint::{Fingerprint, Fingerprinted};
pub use hour::{Hour, Hourly, MonthHour};
pub use id::Id;
pub use month::{Month, Monthly};
pub use tracking::TrackingLoss;
