//! The water side: well, pipes, pump, motor, drive, tank and demand.
//!
//! A [`PumpSet`] gives the flow and the electrical power at a frequency, and the bus voltage that the frequency needs. A
//! [`PumpMap`] holds the same values as a table, so that the simulation solves nothing in its steps. The crate knows nothing
//! of sun, array or grid, and it does not simulate a year (`supply` does). All values are in SI units.
//!
//! - [`PumpSet`]: pump, motor and drive on their [`System`] of well, pipes and outlet.
//! - [`PumpMap`]: a set on its drive, tabulated by month and frequency.
//! - [`Tank`] and [`Demand`]: where the water goes.
//!
//! ```
//! use daylift_lift::{Pipe, PipeSheet, Water};
//!
//! let pipe = Pipe::new(PipeSheet {
//!     name: "PVC main".to_owned(),
//!     bore_m: 0.0994,
//!     length_m: 500.0,
//!     roughness_m: 0.0015e-3,
//!     fittings_k: 0.0,
//! })
//! .unwrap();
//!
//! // Worked by hand for 30 m³/h of water at 20 °C (ν = 1.0034·10⁻⁶ m²/s): v = 1.0739 m/s and Re = 1.064·10⁵.
//! // Colebrook gives 1/√f = 7.486, f = 0.01784. Darcy–Weisbach: 0.01784 · 500/0.0994 · 1.0739²/(2 · 9.80665) = 5.28 m.
//! let friction_m = pipe.friction_m(30.0 / 3600.0, &Water::at(20.0).unwrap());
//! assert!((friction_m - 5.28).abs() < 0.01);
//! ```

mod check;
mod demand;
mod drive;
mod duty;
mod findings;
mod fitted;
mod flux;
mod least_flow;
mod map;
mod motor;
mod pipe;
mod point;
mod pump;
mod pump_sheet;
mod rating;
mod set;
mod start;
mod system;
mod tank;
#[cfg(test)]
mod testing;
mod water;
mod well;

pub use demand::{Demand, DemandSheet};
pub use drive::{Drive, DriveControl, DriveLimits, DriveRating, DriveSheet, rectified_v};
pub use fitted::{Filter, SetSheet};
pub use flux::AtSpeed;
pub use map::{Limit, MapColumn, PumpMap};
pub use motor::{Motor, MotorSheet};
pub use point::MapPoint;
pub use pipe::{Pipe, PipeSheet, darcy_friction_factor};
pub use pump::{Pump, PumpFitErrors};
pub use pump_sheet::PumpSheet;
pub use set::{DrivePoint, Duty, MainsPoint, PumpSet};
pub use start::{StartRule, USUAL_WAITS_S};
pub use system::{HeadParts, System};
pub use tank::{Tank, TankSheet};
pub use water::Water;
pub use well::{Well, WellSheet};
