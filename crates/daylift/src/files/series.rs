//! The columns of the series by step, the same in every format.

use daylift_study::Series;
use daylift_study::series::StepMeans;
use daylift_supply::LossCause;
use daylift_units::Axis;
use daylift_units::constants::{HOUR_S, KWH_J};

/// A series and whose it is.
pub(super) struct SeriesOf<'a> {
    /// Name of the plant.
    pub(super) plant: &'a str,
    /// Name of the arrangement.
    pub(super) arrangement: &'a str,
    /// The year in steps.
    pub(super) axis: &'a Axis,
    /// The steps.
    pub(super) series: &'a Series,
}

impl SeriesOf<'_> {
    /// Civil date and time of every step's begin.
    pub(super) fn civil_times(&self) -> impl Iterator<Item = String> {
        self.starts_s().map(|s| self.axis.civil_text(s))
    }

    /// Begin of every step, seconds after the start of the year.
    pub(super) fn starts_s(&self) -> impl Iterator<Item = f64> {
        let step_s = self.axis.step_s();
        (0_u32..).take(self.series.steps().len()).map(move |i| f64::from(i) * step_s)
    }
}

/// A column after the time.
pub(super) struct Column {
    /// Name with the unit.
    pub(super) name: &'static str,
    /// What stands in it.
    pub(super) value: Value,
}

/// What stands in a column.
pub(super) enum Value {
    /// A number, written as text with so many decimals.
    Number(usize, fn(&StepMeans) -> f64),
    /// A word, or nothing.
    Word(fn(&StepMeans) -> Option<&'static str>),
}

const fn number(name: &'static str, decimals: usize, of: fn(&StepMeans) -> f64) -> Column {
    Column {
        name,
        value: Value::Number(decimals, of),
    }
}

/// The columns in order.
pub(super) const COLUMNS: [Column; 20] = [
    number("utility_share", 4, |s| s.utility),
    number("available_kw", 4, |s| s.available_w / 1e3),
    number("array_to_pump_kw", 4, |s| s.array_to_pump_w / 1e3),
    number("array_to_loads_kw", 4, |s| s.array_to_loads_w / 1e3),
    number("array_to_battery_kw", 4, |s| s.array_to_battery_w / 1e3),
    number("exported_kw", 4, |s| s.exported_w / 1e3),
    number("lost_kw", 4, |s| s.lost_w / 1e3),
    Column {
        name: "main_loss",
        value: Value::Word(|s| s.main_loss.map(LossCause::id)),
    },
    number("imported_kw", 4, |s| s.imported_w / 1e3),
    number("grid_to_pump_kw", 4, |s| s.grid_to_pump_w / 1e3),
    number("battery_kw", 4, |s| s.battery_w / 1e3),
    number("generator_kw", 4, |s| s.generator_w / 1e3),
    number("load_kw", 4, |s| s.load_w / 1e3),
    number("unserved_kw", 4, |s| s.unserved_w / 1e3),
    number("pumped_m3_h", 4, |s| s.pumped_m3_s * HOUR_S),
    number("demand_m3_h", 4, |s| s.demand_m3_s * HOUR_S),
    number("delivered_m3_h", 4, |s| s.delivered_m3_s * HOUR_S),
    number("tank_m3", 3, |s| s.tank_m3),
    number("battery_kwh", 3, |s| s.battery_j / KWH_J),
    number("drive_hz", 3, |s| s.hz),
];
