//! The array: module, I–V curve, strings, losses, and the grid-tied inverter.
//!
//! The way of the energy: a [`Module`] at an effective irradiance and a cell temperature ([`CellModel`]) is a [`Curve`];
//! a [`StringGroup`] multiplies it to strings and takes the [`ArrayLosses`] off; an [`Inverter`] makes AC of it.

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
pub use inverter::{Inverter, InverterSheet};
pub use limits::{InverterLimits, ModuleLimits};
pub use losses::ArrayLosses;
pub use module::Module;
pub use parameters::ReferenceParameters;
pub use sheet::ModuleSheet;
pub use temperature::{CellModel, Faiman, Noct};
