//! The checked plant.

use daylift_array::{CellModel, Inverter, StringGroup};
use daylift_grid::{Export, Loads, Outages, Tariff};
use daylift_lift::{Demand, PumpSet, Tank};
use daylift_sky::{Horizon, Observer, Surface, Weather};
use daylift_units::{Axis, Warning};
use typed_index_collections::TiSlice;

use crate::arrangement::{Arrangement, Wiring};
use crate::beside::Beside;
use crate::costs::Costs;
use crate::design::Design;
use crate::index::{ByGroup, ByInverter, ByPlane, BySet, GroupId, InverterId, PlaneId, SetId};
use crate::pumping::Pumping;
use crate::starter::{Restart, StartLimits};

/// The place of the plant, and its year.
#[derive(Debug, Clone)]
pub struct Site {
    /// Latitude, north positive \[°\].
    pub latitude_deg: f64,
    /// Longitude, east positive \[°\].
    pub longitude_deg: f64,
    /// Altitude \[m\].
    pub altitude_m: f64,
    /// Observer for the sun's position.
    pub observer: Observer,
    /// Coldest air on record \[°C\], if given.
    pub record_low_c: Option<f64>,
    /// Hottest air on record \[°C\], if given.
    pub record_high_c: Option<f64>,
    /// The horizon, if it is not flat.
    pub horizon: Option<Horizon>,
    /// The simulation year with steps of one hour; other steps with [`Axis::with_step`].
    pub axis: Axis,
}

/// Source of the weather.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WeatherSource {
    /// Name of the station, or what a synthetic year was made from.
    pub station: String,
    /// The file; `None` for a synthetic year.
    pub file: Option<String>,
}

impl WeatherSource {
    /// Whether the year was generated from monthly means; results based on it are preliminary.
    #[must_use]
    pub fn is_synthetic(&self) -> bool {
        self.file.is_none()
    }
}

impl std::fmt::Display for WeatherSource {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match &self.file {
            Some(file) => write!(f, "{} ({file})", self.station),
            None => write!(f, "{}: preliminary", self.station),
        }
    }
}

/// A plane of the array.
#[derive(Debug, Clone)]
pub struct PlaneOf {
    /// Name.
    pub name: String,
    /// Mounting of its modules, and what shades them.
    pub surface: Surface,
    /// Direction in which they face.
    pub facing: Facing,
}

/// Direction in which the modules of a plane face.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Facing {
    /// Fixed.
    Fixed {
        /// Tilt \[°\].
        tilt_deg: f64,
        /// Clockwise from north \[°\].
        azimuth_deg: f64,
    },
    /// Following the sun about one axis.
    SingleAxis {
        /// Clockwise from north \[°\].
        axis_azimuth_deg: f64,
        /// Tilt of the axis \[°\].
        axis_tilt_deg: f64,
    },
}

/// Strings of the same length on one plane, with at most one inverter and at most one drive.
#[derive(Debug, Clone)]
pub struct Group {
    /// Name.
    pub name: String,
    /// Its plane.
    pub plane: PlaneId,
    /// Its strings.
    pub strings: StringGroup,
    /// How many of them share an MPPT input of the inverter, if given.
    pub strings_per_input: Option<u32>,
    /// Its inverter, if any.
    pub inverter: Option<InverterId>,
    /// The pump set whose drive it feeds, if any.
    pub set: Option<SetId>,
}

/// The PV array.
#[derive(Debug, Clone)]
pub struct Array {
    /// Its planes.
    pub planes: ByPlane<PlaneOf>,
    /// Model of the cell temperature.
    pub cell_model: CellModel,
    /// Its string groups.
    pub groups: ByGroup<Group>,
    /// Power lost with each year of age, a fraction.
    pub yearly_degradation: f64,
}

impl Array {
    /// Power at standard test conditions \[W\].
    #[must_use]
    pub fn stc_w(&self) -> f64 {
        self.groups.iter().map(|g| g.strings.stc_w()).sum()
    }
}

/// A grid-tied inverter with its reconnection wait.
#[derive(Debug, Clone)]
pub struct Feeder {
    /// Name.
    pub name: String,
    /// The inverter.
    pub inverter: Inverter,
    /// Wait before feeding after the grid returns \[s\].
    pub reconnection_s: f64,
}

/// A pump set and its name.
#[derive(Debug, Clone)]
pub struct Set {
    /// Name.
    pub name: String,
    /// Pump, motor, drive (if any), well and pipes.
    pub pump_set: PumpSet,
    /// Starts that its motor and its drive may make.
    pub start_limits: StartLimits,
}

/// The utility, its conditions, and the farm's loads.
#[derive(Debug, Clone)]
pub struct GridSide {
    /// Whether there is a utility; without one it is down all year.
    pub connected: bool,
    /// When it is down.
    pub outages: Outages,
    /// Export agreement.
    pub export: Export,
    /// Tariff, if given.
    pub tariff: Option<Tariff>,
    /// The farm's other loads.
    pub loads: Loads,
    /// The loads with backup, part of `loads`.
    pub backed_up: Loads,
}

/// A checked plant, which contains no impossible values.
#[derive(Debug, Clone)]
pub struct Plant {
    /// Name.
    pub name: String,
    /// The row of today's way, with which costs are compared.
    pub reference: Arrangement,
    /// Site and year.
    pub site: Site,
    /// Weather.
    pub weather: Weather,
    /// Where the weather comes from.
    pub weather_source: WeatherSource,
    /// Array, if any.
    pub array: Option<Array>,
    /// Grid-tied inverters.
    pub feeders: ByInverter<Feeder>,
    /// Pump sets; all fill the one tank.
    pub sets: BySet<Set>,
    /// Tank.
    pub tank: Tank,
    /// Water demand.
    pub demand: Demand,
    /// Rules of pumping.
    pub pumping: Pumping,
    /// How mains starters close again after a loss of power.
    pub restart: Restart,
    /// The utility.
    pub grid: GridSide,
    /// Optional equipment in addition to grid, array and drive.
    pub beside: Beside,
    /// Shared design values.
    pub design: Design,
    /// Costs, if given.
    pub costs: Option<Costs>,
}

impl Plant {
    /// The rows that the plant file asks for and has the parts for, in print order. Without a utility, only the rows
    /// that work without one. After the reference, the reference under its best
    /// rule, if its pumps ever run on a bus.
    #[must_use]
    pub fn arrangements(&self) -> Vec<Arrangement> {
        let lists = |row: &Arrangement| {
            !row.generator || self.beside.generator.as_ref().is_some_and(|g| g.beside.contains(&row.wiring))
        };
        let rows = Arrangement::ALL.into_iter().filter(|row| self.can_run(*row) && lists(row));
        rows.flat_map(|row| [Some(row), self.has_best_rule_row(row).then(|| row.with_best_rule())])
            .flatten()
            .collect()
    }

    fn has_best_rule_row(&self, row: Arrangement) -> bool {
        row == self.reference && self.pumps_on_bus(row)
    }

    /// Whether the plant has the parts for a row: those of [`Plant::arrangements`], and the same with the plant's
    /// generator, whether the file lists them beside it or not. Only today's way has a double under its best rule.
    #[must_use]
    pub fn can_run(&self, row: Arrangement) -> bool {
        let night_tank = self.beside.night_tank.as_ref();
        self.has_parts_for(row.wiring)
            && (self.grid.connected || !row.needs_grid())
            && (!row.generator || self.beside.generator.is_some())
            && (!row.night_tank || night_tank.is_some_and(|tank| tank.beside.contains(&row.wiring)))
            && (!row.best_rule || self.has_best_rule_row(row.as_written()))
    }

    /// The string groups of the array; none without an array.
    #[must_use]
    pub fn groups(&self) -> &TiSlice<GroupId, Group> {
        self.array.as_ref().map(|array| array.groups.as_slice()).unwrap_or_default()
    }

    /// Currency of the prices; empty if none are given.
    #[must_use]
    pub fn currency(&self) -> &str {
        let of_costs = || self.costs.as_ref().map(|costs| costs.currency.as_str());
        self.grid.tariff.as_ref().map(Tariff::currency).or_else(of_costs).unwrap_or_default()
    }

    fn has_parts_for(&self, wiring: Wiring) -> bool {
        let groups = self.groups();
        let needs = wiring.traits();
        (!needs.has_array || self.array.is_some())
            && (!needs.has_drive || groups.iter().any(|g| g.set.is_some()))
            && (!needs.has_inverter || groups.iter().any(|g| g.inverter.is_some()))
            && (!needs.has_second_input || self.beside.second_input.is_some())
            && (!needs.has_battery || self.beside.battery.is_some())
    }

    /// Warnings of the pump sets; with several sets, each begins with the set's name.
    #[must_use]
    pub fn set_warnings(&self) -> Vec<Warning> {
        let several = self.sets.len() > 1;
        let named = |set: &Set, warning: &Warning| {
            let text = if several {
                format!("{}: {}", set.name, warning.text)
            } else {
                warning.text.clone()
            };
            Warning::new(warning.subject.as_str(), text)
        };
        self.sets
            .iter()
            .flat_map(|set| set.pump_set.warnings().iter().map(move |w| named(set, w)))
            .collect()
    }
}
