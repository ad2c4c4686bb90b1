//! Electrics of a plant: today strings that suit both the grid-tied inverter and the solar drive.
//!
//! In a plant of both the same strings are, by turns, on one and on the other. A [`Judge`] holds a plan of strings
//! against every rule in the plant's [`Conditions`]; [`search`] finds every layout of the same modules that breaks none,
//! why the others do, and what would have to change where none suits. The rules stand in `docs/model.md`, section 17.

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
pub use operating::{Operating, operating};
pub use plan::{ModuleField, PlannedGroup, SubArray, present};
pub use rule::{Rule, Subject, Weight};
pub use speed::{Allowed, Speed, SpeedLimit, speed};
