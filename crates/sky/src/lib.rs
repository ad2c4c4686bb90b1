//! Sun, weather and irradiance: from the intervals of a weather file to the light on the modules in every step of a year.
//!
//! The crate computes the sun's position, distributes the weather over the steps, and splits global irradiance. From this
//! it computes the light on a fixed or tracking plane, with its shade. Where no weather file exists, it generates a year
//! from monthly means. It reads no files (`tables` does) and knows nothing of electricity (`array` does).
//!
//! - [`Ephemeris`] gives the position of the sun for an [`Observer`].
//! - [`Weather`] is a checked year of weather; [`SkyYear`] is the same on the steps of the simulation year, with the sun.
//! - [`Surface`] is a plane of modules with what shades it; [`Surface::year`] gives the light on it.
//!
//! ```
//! use daylift_sky::{Ephemeris, Observer};
//!
//! // Published example of the solar position algorithm (Reda & Andreas 2004, Table A5.1):
//! // 17 October 2003, 19:30:30 UTC, 39.742476° N, 105.1786° W, 1830.14 m, 11 °C.
//! let observer = Observer::new(39.742476, -105.1786, 1830.14, 11.0).unwrap();
//! let start_unix_s = 1_041_379_200.0; // 1 January 2003, 00:00 UTC
//! let sun = Ephemeris::new(start_unix_s, 365.0 * 86_400.0).position(&observer, 1_066_419_030.0);
//! assert!((sun.zenith_deg() - 50.11162).abs() < 0.001);
//! assert!((sun.azimuth_deg() - 194.34024).abs() < 0.001);
//! ```

pub mod broken_cloud;
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
