//! The columns of the series by step, the same in every format.

use daylift_study::Series;
use daylift_study::columns::Position::{Before, Last};
use daylift_study::columns::{Named, moved, with_inserted};
use daylift_study::series::StepMeans;
use daylift_supply::{Flow, LossCause, Measure};
use daylift_units::Axis;
use daylift_units::constants::{HOUR_S, KWH_J, LITRES_PER_M3};

/// A series, and the plant and arrangement that it belongs to.
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
    /// Civil date and time at which each step starts.
    pub(super) fn civil_times(&self) -> impl Iterator<Item = String> {
        self.starts_s().map(|s| self.axis.civil_text(s))
    }

    /// Start of every step, in seconds after the start of the year.
    pub(super) fn starts_s(&self) -> impl Iterator<Item = f64> {
        let step_s = self.axis.step_s();
        (0_u32..).take(self.series.steps().len()).map(move |i| f64::from(i) * step_s)
    }
}

/// A column that follows the time columns.
pub(super) struct Column {
    /// Name with the unit.
    pub(super) name: String,
    /// What it contains.
    pub(super) value: Value,
}

impl Named for Column {
    fn name(&self) -> &str {
        &self.name
    }
}

/// What a column contains.
pub(super) enum Value {
    /// A number, and how many decimals it has as text.
    Number(usize, Box<dyn Fn(&StepMeans) -> f64>),
    /// A word, or nothing.
    Word(fn(&StepMeans) -> Option<&'static str>),
}

fn number(name: &str, decimals: usize, of: impl Fn(&StepMeans) -> f64 + 'static) -> Column {
    Column {
        name: name.to_owned(),
        value: Value::Number(decimals, Box::new(of)),
    }
}

/// The columns in order: the flows that are declared for the series, and other columns inserted among them.
pub(super) fn columns() -> Vec<Column> {
    let flows = Flow::OF_STEPS.into_iter().enumerate().map(|(at, flow)| of_flow(at, flow));
    let main_loss = Column {
        name: "main_loss".to_owned(),
        value: Value::Word(|s| s.main_loss.map(LossCause::id)),
    };
    let inserted = [
        (Before("available_kw"), number("utility_share", 4, |s| s.utility)),
        (Before("imported_kw"), number("lost_kw", 4, |s| s.lost_w / 1e3)),
        (Before("imported_kw"), main_loss),
        (Before("generator_kw"), number("battery_kw", 4, |s| s.battery_w / 1e3)),
        (Last, number("tank_m3", 3, |s| s.tank_m3)),
        (Last, number("battery_kwh", 3, |s| s.battery_j / KWH_J)),
        (Last, number("drive_hz", 3, |s| s.hz)),
    ];
    let flows = moved(flows.collect(), Before("delivered_m3_h"), "demand_m3_h");
    with_inserted(flows, inserted)
}

/// The column of the flow at a position in the series.
fn of_flow(at: usize, flow: Flow) -> Column {
    let rate = move |s: &StepMeans| s.flows().get(at).copied().unwrap_or(0.0);
    let id = flow.id();
    match flow.measure() {
        Measure::Energy => number(&format!("{id}_kw"), 4, move |s| rate(s) / 1e3),
        Measure::Volume => number(&format!("{id}_m3_h"), 4, move |s| rate(s) * HOUR_S),
        Measure::Fuel => number(&format!("{id}_l_h"), 4, move |s| rate(s) * LITRES_PER_M3 * HOUR_S),
        Measure::Time => number(&format!("{id}_share"), 4, rate),
    }
}
