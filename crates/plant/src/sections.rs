//! The plant file, section by section.

mod array;
mod cell;
mod costs;
mod equipment;
mod grid;
mod head;
mod plant_file;
mod plausible;
mod site;
mod sunlight;
mod use_of_water;
mod water;
mod weather;

pub use plant_file::{Read, read_plant};
