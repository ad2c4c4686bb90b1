//! The PV array: module, I–V curve, strings, losses, and the grid-tied inverter.
//!
//! A [`Module`] at an irradiance and a cell temperature ([`CellModel`]) has a [`Curve`]. A [`StringGroup`] multiplies this
//! curve to strings and subtracts the [`ArrayLosses`]. An [`Inverter`] converts the power to AC. The crate does not compute
//! irradiance (`sky` does), and it does not decide where the power goes (`supply` does). All values are in SI units.
//!
//! - [`Module`]: five parameters fitted to a datasheet ([`ModuleSheet`]).
//! - [`StringGroup`]: modules in series and parallel on one device.
//! - [`Inverter`]: MPPT window, part-load efficiency, rated output.
//!
//! ```
//! use daylift_array::{Module, ModuleSheet};
//!
//! // The datasheet of pvlib's published example for the model of De Soto et al. (2006), `test_fit_desoto`.
//! let module = Module::new(ModuleSheet {
//!     name: "270 W, 60 cells".to_owned(),
//!     short_circuit_a: 9.43,
//!     open_circuit_v: 38.3,
//!     max_power_a: 8.71,
//!     max_power_v: 31.0,
//!     short_circuit_a_per_k: 0.005658,
//!     open_circuit_v_per_k: -0.13788,
//!     cells: 60,
//! })
//! .unwrap();
//!
//! // At standard test conditions the curve gives the datasheet's values: 31.0 V · 8.71 A = 270.01 W.
//! let point = module.curve(1000.0, 25.0).max_power();
//! assert!((point.voltage_v - 31.0).abs() < 1e-5 && (point.power_w - 270.01).abs() < 1e-5);
//!
//! // The fitted series resistance is the published 0.297814 Ω.
//! assert!((module.reference_parameters().series_ohm - 0.297814).abs() < 1e-6);
//! ```

mod bus;
mod cable;
mod curve;
mod group;
mod inverter;
mod limits;
mod losses;
mod module;
mod parameters;
#[cfg(test)]
mod sample;
mod sheet;
mod temperature;

pub use bus::{HeldBus, OnBus, bus_v_at_power, greatest_delivered_w, greatest_frequency_hz, held_bus};
pub use cable::CableLoss;
pub use curve::{Curve, Point};
pub use group::StringGroup;
pub use inverter::{Inverter, InverterLosses, InverterSheet};
pub use limits::{InverterLimits, ModuleLimits};
pub use losses::ArrayLosses;
pub use module::Module;
pub use parameters::ReferenceParameters;
pub use sheet::ModuleSheet;
pub use temperature::{CellModel, Faiman, Noct};
