//! The checked plant.

use daylift_array::{CellModel, Inverter, StringGroup};
use daylift_grid::{Export, Loads, Outages, Tariff};
use daylift_lift::{Demand, PumpSet, Tank};
use daylift_sky::{Observer, Plane, Weather};
use daylift_units::Axis;

use crate::arrangement::Arrangement;
use crate::costs::Costs;
use crate::design::Design;
use crate::hours::DayHours;

/// Where the plant stands, and its year.
#[derive(Debug, Clone)]
pub struct Site {
    /// Latitude, north positive \[°\].
    pub latitude_deg: f64,
    /// Longitude, east positive \[°\].
    pub longitude_deg: f64,
    /// Altitude \[m\].
    pub altitude_m: f64,
    /// Observer of the sun.
    pub observer: Observer,
    /// The simulation year at a step of one hour; other steps by [`Axis::with_step`].
    pub axis: Axis,
}

/// Where the weather comes from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WeatherSource {
    /// Station's name.
    pub station: String,
    /// File it was read from.
    pub file: String,
}

/// The PV array.
#[derive(Debug, Clone)]
pub struct Array {
    /// Its plane.
    pub plane: Plane,
    /// Tilt \[°\].
    pub tilt_deg: f64,
    /// Direction that it faces, clockwise from north \[°\].
    pub azimuth_deg: f64,
    /// How warm its cells get.
    pub cell_model: CellModel,
    /// Its strings.
    pub group: StringGroup,
    /// Power lost with each year of age, a fraction.
    pub yearly_degradation: f64,
}

/// The grid-tied inverter and its return to the grid.
#[derive(Debug, Clone)]
pub struct Feeder {
    /// The inverter.
    pub inverter: Inverter,
    /// Wait before feeding after the grid's return \[s\].
    pub reconnection_s: f64,
}

/// When the pump may run on mains.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Pumping {
    /// In arrangements with an array.
    pub mains_hours: DayHours,
    /// In `grid-only`.
    pub grid_only_hours: DayHours,
}

/// The utility and what hangs on it.
#[derive(Debug, Clone)]
pub struct GridSide {
    /// When it is away.
    pub outages: Outages,
    /// What becomes of surplus.
    pub export: Export,
    /// What it charges.
    pub tariff: Tariff,
    /// The farm's other loads.
    pub loads: Loads,
}

/// A plant that holds nothing impossible.
#[derive(Debug, Clone)]
pub struct Plant {
    /// Name.
    pub name: String,
    /// Today's way, against which money is reckoned.
    pub reference: Arrangement,
    /// Site and year.
    pub site: Site,
    /// Weather.
    pub weather: Weather,
    /// Where the weather comes from.
    pub weather_source: WeatherSource,
    /// Array, when there is one.
    pub array: Option<Array>,
    /// Grid-tied inverter, when there is one.
    pub feeder: Option<Feeder>,
    /// Pump, motor, drive when there is one, well and pipes.
    pub pump_set: PumpSet,
    /// Tank.
    pub tank: Tank,
    /// Water wanted.
    pub demand: Demand,
    /// Hours of pumping on mains.
    pub pumping: Pumping,
    /// The utility.
    pub grid: GridSide,
    /// Shared design values.
    pub design: Design,
    /// Costs.
    pub costs: Costs,
}

impl Plant {
    /// The arrangements that the plant has the parts for, in printing order.
    #[must_use]
    pub fn arrangements(&self) -> Vec<Arrangement> {
        Arrangement::ALL
            .into_iter()
            .filter(|a| {
                (!a.has_array() || self.array.is_some())
                    && (!a.needs_drive() || self.pump_set.drive().is_some())
                    && (!a.needs_inverter() || self.feeder.is_some())
            })
            .collect()
    }
}
