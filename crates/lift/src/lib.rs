//! What lifts the water and where it goes: well, pipe, pump, motor, drive, tank, demand.
//!
//! The crate knows nothing of the sun: a [`PumpSet`] says what flow and what electrical power belong to a frequency,
//! and what bus voltage that frequency needs; a [`PumpMap`] holds the same as a table that is looked up without
//! solving anything. Everything is in SI units. Months are counted from 0 (January) to 11; a greater number starts
//! over.

mod check;
mod demand;
mod drive;
mod duty;
mod findings;
mod map;
mod motor;
mod pipe;
mod pump;
mod pump_sheet;
mod set;
mod system;
mod tank;
#[cfg(test)]
mod testing;
mod water;
mod well;

pub use demand::{Demand, DemandSheet};
pub use drive::{Drive, DriveLimits, DriveSheet, rectified_v};
pub use map::{Limit, MapColumn, MapPoint, PumpMap};
pub use motor::{Motor, MotorSheet};
pub use pipe::{Pipe, PipeSheet, darcy_friction_factor};
pub use pump::{Pump, PumpFitErrors};
pub use pump_sheet::PumpSheet;
pub use set::{DrivePoint, Duty, MainsPoint, PumpSet};
pub use system::{HeadParts, System};
pub use tank::{Tank, TankSheet};
pub use water::Water;
pub use well::{Well, WellSheet};
