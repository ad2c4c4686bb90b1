//! The temperatures and the sun at which strings are judged.

use daylift_array::Module;
use daylift_plant::{Array, Plant};
use daylift_units::Month;

/// Cell temperature of standard test conditions \[°C\].
const STANDARD_C: f64 = 25.0;
/// Irradiance of standard test conditions \[W/m²\].
const STANDARD_W_M2: f64 = 1000.0;

/// The lowest or highest air temperature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Extreme {
    /// The air temperature that counts \[°C\].
    pub air_c: f64,
    /// Extreme of the weather year \[°C\].
    pub weather_c: f64,
    /// Record at the site \[°C\], if the plant file gives it.
    pub record_c: Option<f64>,
}

/// The temperatures and the sun at which strings are judged.
///
/// The worse of weather file and record counts. With a synthetic year, the record alone counts where one is given.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Conditions {
    /// The coldest air; at sunrise the cells are as cold as the air.
    pub coldest: Extreme,
    /// The hottest air.
    pub hottest: Extreme,
    /// Irradiance of a hot noon \[W/m²\].
    pub noon_w_m2: f64,
    /// Cell temperature at a hot noon \[°C\].
    pub noon_cell_c: f64,
    /// Month with the most soiling.
    pub dirtiest_month: Month,
    /// Voltages of one module under these conditions.
    pub module: ModuleVolts,
}

/// Voltages of one module on the coldest morning and at a hot noon \[V\].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ModuleVolts {
    /// Open circuit on the coldest morning: V_oc + β·(T − 25 °C).
    pub cold_open_v: f64,
    /// Maximum power at 1000 W/m² with cells as cold as the coldest air.
    pub cold_max_power_v: f64,
    /// Open circuit at a hot noon.
    pub hot_open_v: f64,
    /// Maximum power at a hot noon.
    pub hot_max_power_v: f64,
}

impl Conditions {
    /// The conditions for a plant and its array.
    #[must_use]
    pub fn of(plant: &Plant, array: &Array) -> Self {
        let rules = plant.design.strings;
        let air_c = plant.weather.air_c();
        let is_measured = !plant.weather_source.is_synthetic();
        let extreme = |record_c, worse| Extreme::new(air_c.iter().copied(), is_measured, record_c, worse);
        let coldest = extreme(plant.site.record_low_c, f64::min as fn(f64, f64) -> f64);
        let hottest = extreme(plant.site.record_high_c, f64::max);
        let noon_cell_c = array.cell_model.cell_c(rules.noon_w_m2, hottest.air_c, rules.noon_wind_m_s);
        // All groups have the same module and the same losses.
        let losses = array.groups.first().map(|group| *group.strings.losses());
        let soiling = |month: Month| losses.as_ref().map_or(0.0, |l| l.soiling[month]);
        let dirtiest_month = Month::ALL.into_iter().max_by(|a, b| soiling(*a).total_cmp(&soiling(*b)));
        let dirtiest_month = dirtiest_month.unwrap_or(Month::January);
        let clear_w_m2 = rules.noon_w_m2 * (1.0 - soiling(dirtiest_month));
        let module = array.groups.first().map(|group| group.strings.module());
        Self {
            module: module.map_or(ModuleVolts::NONE, |m| {
                ModuleVolts::of(m, coldest.air_c, clear_w_m2, noon_cell_c)
            }),
            coldest,
            hottest,
            noon_w_m2: rules.noon_w_m2,
            noon_cell_c,
            dirtiest_month,
        }
    }
}

impl Extreme {
    /// `worse` picks the lower or the higher of two temperatures. Air made from monthly means (`is_measured` false) does
    /// not contradict a record.
    fn new(
        weather_c: impl Iterator<Item = f64>,
        is_measured: bool,
        record_c: Option<f64>,
        worse: fn(f64, f64) -> f64,
    ) -> Self {
        let weather_c = weather_c.reduce(worse).unwrap_or(STANDARD_C);
        let air_c = match record_c {
            Some(record_c) if is_measured => worse(weather_c, record_c),
            Some(record_c) => record_c,
            None => weather_c,
        };
        Self {
            air_c,
            weather_c,
            record_c,
        }
    }

    /// Whether the weather file goes beyond the record given in the plant file; that record is then wrong.
    #[must_use]
    pub fn record_is_exceeded(&self) -> bool {
        self.record_c.is_some_and(|record_c| (self.air_c - record_c).abs() > 0.0)
    }

    /// Whether the record is worse than the weather file, and therefore counts.
    #[must_use]
    pub fn is_from_record(&self) -> bool {
        self.record_c.is_some() && (self.air_c - self.weather_c).abs() > 0.0
    }
}

impl ModuleVolts {
    /// Voltages of a plant without an array.
    const NONE: Self = Self {
        cold_open_v: 0.0,
        cold_max_power_v: 0.0,
        hot_open_v: 0.0,
        hot_max_power_v: 0.0,
    };

    /// Voltages of a module on a morning at `cold_c` \[°C\], and at a noon with `noon_w_m2` \[W/m²\] on the cells and cells at
    /// `noon_c` \[°C\].
    #[must_use]
    pub fn of(module: &Module, cold_c: f64, noon_w_m2: f64, noon_c: f64) -> Self {
        let sheet = module.sheet();
        let hot = module.curve(noon_w_m2, noon_c);
        Self {
            cold_open_v: sheet.open_circuit_v + sheet.open_circuit_v_per_k * (cold_c - STANDARD_C),
            cold_max_power_v: module.curve(STANDARD_W_M2, cold_c).max_power().voltage_v,
            hot_open_v: hot.open_circuit_v(),
            hot_max_power_v: hot.max_power().voltage_v,
        }
    }
}
