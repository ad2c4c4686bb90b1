//! Sizes and levels of the parts of an arrangement, for a picture.

use daylift_plant::{Arrangement, Plant, Set, SetId};
use daylift_units::Month;
use daylift_units::constants::KWH_J;
use schemars::JsonSchema;
use serde::Serialize;

const KW: f64 = 1e-3;
const BAR: f64 = 1e-5;

/// Sizes and levels of the plant's parts. Powers in kW, depths and heights in m from the well head.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Picture {
    /// Power of the array at standard test conditions; null without an array.
    pub array_kwp: Option<f64>,
    /// Rated power of all inverters; null without an inverter.
    pub inverter_kw: Option<f64>,
    /// Rated output of all drives that the array feeds; null without such a drive.
    pub drive_kw: Option<f64>,
    /// Rated shaft power of all pump motors.
    pub pump_kw: f64,
    /// Number of pump sets.
    pub pumps: usize,
    /// Standing water level of the first pump set, by month.
    pub standing_level_m: [f64; 12],
    /// Depth of the pump's intake, of the first pump set; null when it is not given.
    pub intake_depth_m: Option<f64>,
    /// Height of the outlet of the first pump set; negative when it is below the well head.
    pub outlet_lift_m: f64,
    /// Pressure demanded at that outlet, in bar; 0 for a free outlet.
    pub outlet_pressure_bar: f64,
    /// Capacity of the tank.
    pub tank_m3: f64,
    /// Level below which a pump that stopped at the full tank starts again, as a share of the capacity.
    pub tank_restart: f64,
    /// Low mark of the tank, as a share of the capacity.
    pub tank_low_mark: f64,
    /// Capacity of the battery, in kWh; null without a battery.
    pub battery_kwh: Option<f64>,
    /// Rated power of the generator; null without a generator.
    pub generator_kw: Option<f64>,
    /// Whether there are loads besides the pump.
    pub has_loads: bool,
    /// Whether the farm is connected to the grid.
    pub has_grid: bool,
}

impl Picture {
    /// The picture of an arrangement, without parts that it does not use.
    #[must_use]
    pub fn of(plant: &Plant, row: Arrangement) -> Self {
        let array = plant.array.as_ref().filter(|_| row.has_array());
        let first = plant.sets.first().map(|set| &set.pump_set);
        let standing = |month: Month| first.map_or(0.0, |set| set.system().well().static_level_m(month));
        let fed = |(s, set): (SetId, &Set)| {
            let is_fed = array.is_some_and(|array| array.groups.iter().any(|group| group.set == Some(s)));
            set.pump_set
                .drive()
                .filter(|_| is_fed && row.traits().has_drive)
                .map(|drive| drive.rated_power_w() * KW)
        };
        let drives: Vec<f64> = plant.sets.iter_enumerated().filter_map(fed).collect();
        let feeders = plant.feeders.iter().filter(|_| row.traits().has_inverter);
        let battery = plant.beside.battery.as_ref().filter(|_| row.traits().has_battery);
        let generator = plant.beside.generator.as_ref().filter(|_| row.generator);
        let tank = match &plant.beside.night_tank {
            Some(night) if row.night_tank => &night.tank,
            _ => &plant.tank,
        };
        Self {
            array_kwp: array.map(|array| array.stc_w() * KW),
            inverter_kw: some_sum(feeders.map(|feeder| feeder.inverter.rated_w() * KW)),
            drive_kw: some_sum(drives.into_iter()),
            pump_kw: plant.sets.iter().map(|set| set.pump_set.motor().rated_power_w() * KW).sum(),
            pumps: plant.sets.len(),
            standing_level_m: Month::ALL.map(standing),
            intake_depth_m: first.and_then(|set| set.system().well().sheet().intake_depth_m),
            outlet_lift_m: first.map_or(0.0, |set| set.system().outlet_lift_m()),
            outlet_pressure_bar: first.map_or(0.0, |set| set.system().outlet_pressure_pa() * BAR),
            tank_m3: tank.capacity_m3(),
            tank_restart: tank.restart_m3() / tank.capacity_m3(),
            tank_low_mark: tank.low_mark_m3() / tank.capacity_m3(),
            battery_kwh: battery.map(|battery| battery.capacity_j() / KWH_J),
            generator_kw: generator.map(|beside| beside.set.rated_w() * KW),
            has_loads: !plant.grid.loads.is_none(),
            has_grid: plant.grid.connected,
        }
    }
}

/// The sum of some numbers; `None` if there are none.
fn some_sum(numbers: impl Iterator<Item = f64>) -> Option<f64> {
    numbers.reduce(|a, b| a + b)
}
