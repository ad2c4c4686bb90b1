//! Checks the electrical layout of an array: which modules form a string, and on which devices the strings are.
//!
//! In a plant with a grid-tied inverter and a solar drive, the same strings are on one and then on the other. So they
//! must keep the limits of both. The rules are in `docs/model.md`, section 17.
//!
//! - [`Conditions`]: the temperatures and the sun of the checks: the coldest morning and a hot noon.
//! - [`Judge`] checks a plan ([`PlannedGroup`]s) against every [`Rule`] and returns [`Judged`]: a [`Measure`] (value and
//!   limit) for each rule and device. [`groups_of_file`] gives the plan of the plant file.
//! - [`findings()`] returns violations, warnings and notes with their figures. The words for them are in `present`.
//! - [`search`] finds every suitable layout of the modules of a [`SubArray`], why the others are not suitable, and what
//!   would have to change if none is.
//! - [`operating_points`] tabulates the strings' voltage over irradiance and cell temperature.
//!
//! The crate does not size cables or choose breakers, surge protection or earthing. It simulates no year: `study` ranks
//! layouts by theirs.
//!
//! # Example
//!
//! How many modules may be in series on a drive for 600 V if the coldest morning has −10 °C? The module's open-circuit
//! voltage is 49.5 V, with −0.27 %/K. Worked by hand: 49.5 V · (1 + 0.0027 · 35) = 54.18 V for each module. 11 modules
//! have 596 V, 12 have 650 V.
//!
//! ```
//! use daylift_array::{Module, ModuleSheet};
//! use daylift_electrics::ModuleVolts;
//!
//! let module = Module::new(ModuleSheet {
//!     name: "550 W".to_owned(),
//!     short_circuit_a: 13.99,
//!     open_circuit_v: 49.5,
//!     max_power_a: 13.2,
//!     max_power_v: 41.7,
//!     short_circuit_a_per_k: 0.0067,
//!     open_circuit_v_per_k: -0.0027 * 49.5,
//!     cells: 72,
//! })
//! .map_err(|faults| format!("{faults:?}"))?;
//!
//! // The coldest morning has −10 °C, the hot noon 1000 W/m² and cells at 70 °C.
//! let volts = ModuleVolts::of(&module, -10.0, 1000.0, 70.0);
//! assert!((volts.cold_open_v - 54.18).abs() < 0.005);
//! assert!(11.0 * volts.cold_open_v <= 600.0 && 12.0 * volts.cold_open_v > 600.0);
//! # Ok::<(), String>(())
//! ```

mod conditions;
mod device;
mod findings;
mod found;
mod fuse;
mod ids;
mod judge;
mod layouts;
mod operating;
mod plan;
mod planes;
mod rule;
mod speed;
mod tally;

pub use conditions::{Conditions, Extreme, ModuleVolts};
pub use device::device_name;
pub use findings::{Confirmed, findings, rests_on_unconfirmed};
pub use found::{Finding, Found, Remedy};
pub use fuse::Fuse;
pub use judge::{Device, Judge, Judged, Measure, OnDrive, OnInverter};
pub use layouts::{Change, Layout, Length, Refused, Search, Shares, search};
pub use operating::{OperatingPoint, operating_points};
pub use plan::{ModuleField, PlannedGroup, SubArray, groups_of_file};
pub use rule::{Rule, Subject, Weight};
pub use speed::{Allowed, Speed, SpeedLimit, speed};
