//! The plant file, section by section.

mod array;
mod beside;
mod cell;
mod costs;
pub(crate) mod equipment;
mod grid;
mod inverters;
mod mounting;
mod origin;
mod plant_file;
mod plausible;
mod pumping;
mod restart;
mod site;
mod sunlight;
mod use_of_water;
mod water;
mod weather;

pub use plant_file::{Read, read_plant, read_plant_from, read_plant_knowing};
