//! The inputs of a year.

use daylift_grid::{Battery, Export, Loads};
use daylift_lift::{Demand, Tank};
use daylift_units::{Axis, Hourly};
use typed_index_collections::TiSlice;

use crate::offers::Offers;
use crate::route::{Route, RouteId};
use crate::surroundings::GeneratorRules;
use crate::timeline::Timeline;

/// The inputs of a year.
#[derive(Debug, Clone, Copy)]
pub struct YearInputs<'a> {
    /// The year.
    pub axis: &'a Axis,
    /// The arrangement's routes.
    pub routes: &'a TiSlice<RouteId, Route>,
    /// When each of them holds.
    pub timeline: &'a Timeline,
    /// The devices, solved for every step.
    pub offers: &'a Offers,
    /// The tank, with the low mark of the row's rule.
    pub tank: &'a Tank,
    /// Level up to which the bus fills the tank, a fraction of its capacity, by civil hour.
    pub fill: Hourly<f64>,
    /// Share of the pumps' power that the inverters must offer for pumps to run directly on the bus while it is not open to
    /// them; `None`: they do not run then.
    pub surplus: Option<f64>,
    /// The water wanted.
    pub demand: &'a Demand,
    /// The farm's other loads.
    pub loads: &'a Loads,
    /// The loads that an island feeds.
    pub backed_up: &'a Loads,
    /// The loads that a generator feeds.
    pub generator_loads: &'a Loads,
    /// What happens to surplus energy.
    pub export: &'a Export,
    /// The battery, in an arrangement that has one.
    pub battery: Option<&'a Battery>,
    /// The generator, in a row that has one.
    pub generator: Option<GeneratorRules<'a>>,
    /// Whether the array's energy on the bus goes to the pumps first; if not, it goes to the loads first.
    pub sun_to_pump_first: bool,
}
