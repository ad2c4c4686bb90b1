//! The surroundings of a span: devices, stores, loads and demand of the farm.

use daylift_grid::{Battery, Generator};
use daylift_plant::DayHours;
use daylift_units::{Hourly, fingerprint};

use crate::levels::Levels;
use crate::offers::Offers;
use crate::stream::Grid;

/// The generator of a row.
#[derive(Debug, Clone, Copy)]
pub struct GeneratorRules<'a> {
    /// The set.
    pub set: &'a Generator,
    /// Hours in which it may run.
    pub hours: DayHours,
    /// Whether it pumps only when the tank is below its low mark.
    pub pumps_only_when_low: bool,
    /// Share of its wanted flow at or above which the sun alone runs a set on its drive.
    pub sun_share: f64,
}

fingerprint!(GeneratorRules<'_> {
    set,
    hours,
    pumps_only_when_low,
    sun_share
});

/// The surroundings of a span.
pub(crate) struct Surroundings<'a> {
    pub(crate) grid: Grid,
    pub(crate) offers: &'a Offers,
    /// Levels of the tank in each hour of the day.
    pub(crate) by_hour: Hourly<Levels>,
    /// Those of this hour.
    pub(crate) levels: Levels,
    /// Share of the pumps' power that the inverters must offer for pumps to run while the bus is not open to them.
    pub(crate) surplus: Option<f64>,
    pub(crate) battery: Option<&'a Battery>,
    pub(crate) generator: Option<GeneratorRules<'a>>,
    /// Export that the line allows before its voltage trips the inverters \[W\].
    pub(crate) line_w: f64,
    /// Export that agreement and line allow \[W\].
    pub(crate) export_w: f64,
    pub(crate) sun_to_pump_first: bool,
    pub(crate) export_paid: bool,
    pub(crate) load_w: f64,
    pub(crate) backed_up_w: f64,
    pub(crate) generator_load_w: f64,
    pub(crate) demand_m3_s: f64,
}
