//! Sun, weather and plane of array: from a weather file's intervals to the light on the modules in every step.

pub mod clouds;
mod draws;
pub mod ephemeris;
pub mod horizon;
pub mod light;
pub mod plane;
pub mod reflection;
pub mod rows;
mod sharing;
pub mod split;
pub mod sun;
pub mod surface;
pub mod synthetic;
pub mod tracker;
pub mod weather;
pub mod world;
pub mod year;

#[cfg(test)]
mod fixture;

pub use ephemeris::Ephemeris;
pub use horizon::Horizon;
pub use light::{Irradiance, PlaneIrradiance, Shade, SkyModel};
pub use plane::{Plane, PlaneYear};
pub use rows::{RowShade, Rows};
pub use sun::{Observer, SunPosition};
pub use surface::{Mounting, Surface};
pub use tracker::Tracker;
pub use weather::{Weather, WeatherSeries};
pub use year::SkyYear;

use daylift_units::{Fault, Field};

/// Checks a value and converts it to SI; on a fault, records it and returns NaN.
fn checked(field: &Field, value: f64, faults: &mut Vec<Fault>) -> f64 {
    field.check(value).unwrap_or_else(|fault| {
        faults.push(fault);
        f64::NAN
    })
}
