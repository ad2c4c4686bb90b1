//! A year run through: spans settled in order, the tank beginning where it ends.

use daylift_grid::{Battery, Export, Loads};
use daylift_lift::{Demand, Tank};
use daylift_units::Axis;

use crate::battery::BatteryState;
use crate::ledger::{Ledger, Residuals};
use crate::offers::Offers;
use crate::piece::{NoRecorder, Piece, Recorder};
use crate::route::Schedule;
use crate::settle::{Stores, settle};
use crate::surroundings::{GeneratorRules, Surroundings};
use crate::tank::TankState;
use crate::timeline::{Span, Timeline};

/// Begin and end of the year's tank content may differ by this fraction of the capacity, or of the year's demand where
/// that is less; those of the battery's content by this fraction of its capacity.
const SAME_CONTENT: f64 = 1e-3;
/// Passes through the year before giving up on the contents.
const MOST_PASSES: usize = 30;

/// What a year is run on.
#[derive(Debug, Clone, Copy)]
pub struct YearInputs<'a> {
    /// The year.
    pub axis: &'a Axis,
    /// The arrangement's routes and phases.
    pub schedule: &'a Schedule,
    /// The devices, solved for every step.
    pub offers: &'a Offers,
    /// The tank.
    pub tank: &'a Tank,
    /// The water wanted.
    pub demand: &'a Demand,
    /// The farm's other loads.
    pub loads: &'a Loads,
    /// Those of them that an island feeds.
    pub backed_up: &'a Loads,
    /// Those of them that a generating set feeds.
    pub generator_loads: &'a Loads,
    /// What becomes of surplus.
    pub export: &'a Export,
    /// The battery, in an arrangement that has one.
    pub battery: Option<&'a Battery>,
    /// The generating set, in a row that has one.
    pub generator: Option<GeneratorRules<'a>>,
    /// Whether the array's energy on the bus goes to the pumps first, else to the loads first.
    pub sun_to_pump_first: bool,
}

/// A year's result.
#[derive(Debug, Clone, PartialEq)]
pub struct YearResult {
    /// The account.
    pub ledger: Ledger,
    /// Tank content at the start \[m³\].
    pub tank_start_m3: f64,
    /// Tank content at the end \[m³\].
    pub tank_end_m3: f64,
    /// Whether the two agree within 0.1 % of the capacity, or of the year's demand where that is less.
    pub tank_agrees: bool,
    /// Battery content at the start and at the end \[J\]; 0 without one.
    pub battery_j: [f64; 2],
    /// Whether the two agree within 0.1 % of the capacity.
    pub battery_agrees: bool,
    /// Worst residuals.
    pub residuals: Residuals,
}

/// Runs the year again from its own end until the contents of tank and battery agree, then once more for a recorder that
/// watches.
///
/// A tank that takes days from full to its restart level may have no content that comes back after a year; then the pass
/// whose end is nearest to its begin is the result, and says that they do not agree.
#[must_use]
pub fn run_year<R: Recorder>(inputs: &YearInputs<'_>, recorder: &mut R) -> YearResult {
    let timeline = Timeline::new(inputs.axis, &inputs.schedule.phases);
    let mut start = Stores {
        tank: TankState::new(inputs.tank.capacity_m3(), inputs.tank),
        battery: inputs.battery.map(BatteryState::full),
    };
    let (mut end, mut result) = pass(inputs, &timeline, start, &mut NoRecorder);
    let (mut best_start, mut best) = (start, result.clone());
    for _ in 1..MOST_PASSES {
        if best.tank_agrees && best.battery_agrees {
            break;
        }
        start = end;
        (end, result) = pass(inputs, &timeline, start, &mut NoRecorder);
        if result.disagreement(inputs) < best.disagreement(inputs) {
            (best_start, best) = (start, result.clone());
        }
    }
    if R::WATCHES {
        pass(inputs, &timeline, best_start, recorder).1
    } else {
        best
    }
}

impl YearResult {
    /// Tank content at the end less that at the start \[m³\].
    #[must_use]
    pub fn stored_m3(&self) -> f64 {
        self.tank_end_m3 - self.tank_start_m3
    }

    /// Battery content at the end less that at the start \[J\].
    #[must_use]
    pub fn battery_stored_j(&self) -> f64 {
        self.battery_j[1] - self.battery_j[0]
    }

    /// The larger of what tank and battery miss, as a fraction of what each is judged by.
    fn disagreement(&self, inputs: &YearInputs<'_>) -> f64 {
        let battery = inputs.battery.map_or(0.0, |b| self.battery_stored_j().abs() / b.capacity_j());
        (self.stored_m3().abs() / judged_by_m3(inputs, self.ledger.year().demand_m3)).max(battery)
    }
}

/// What the tank's contents at begin and end are judged by: its capacity, or the year's demand where that is less \[m³\].
fn judged_by_m3(inputs: &YearInputs<'_>, demand_m3: f64) -> f64 {
    inputs.tank.capacity_m3().min(demand_m3.max(1.0))
}

/// Books pieces into a ledger and hands them on.
struct Booking<'a, R> {
    ledger: Ledger,
    span: Span,
    recorder: &'a mut R,
}

impl<R: Recorder> Recorder for Booking<'_, R> {
    fn piece(&mut self, step: usize, piece: &Piece) {
        self.ledger.book(&self.span, piece);
        self.recorder.piece(step, piece);
    }
}

fn pass<R: Recorder>(
    inputs: &YearInputs<'_>,
    timeline: &Timeline,
    start: Stores,
    recorder: &mut R,
) -> (Stores, YearResult) {
    let Some(&first) = timeline.spans().first() else {
        return (start, result_of(inputs, Ledger::new(0), start, start));
    };
    let mut booking = Booking {
        ledger: Ledger::new(inputs.axis.days()),
        span: first,
        recorder,
    };
    let mut stores = start;
    for span in timeline.spans() {
        let Some(route) = inputs.schedule.routes.get(usize::from(span.route)) else {
            continue;
        };
        booking.span = *span;
        let mean_w = |loads: &Loads| loads.mean_power_w(span.start_s, span.length_s, span.month, span.hour);
        let dark = !route.utility;
        let around = Surroundings {
            offers: inputs.offers,
            tank: inputs.tank,
            battery: inputs.battery,
            generator: inputs.generator,
            export: inputs.export,
            export_paid: inputs.export.is_paid(span.month, span.hour),
            sun_to_pump_first: inputs.sun_to_pump_first,
            load_w: mean_w(inputs.loads),
            backed_up_w: if dark && inputs.battery.is_some() {
                mean_w(inputs.backed_up)
            } else {
                0.0
            },
            generator_load_w: if dark && inputs.generator.is_some() {
                mean_w(inputs.generator_loads)
            } else {
                0.0
            },
            demand_m3_s: inputs.demand.flow_m3_s(usize::from(span.month), usize::from(span.hour)),
        };
        settle(span, route, &around, &mut stores, &mut booking);
    }
    let result = result_of(inputs, booking.ledger, start, stores);
    (stores, result)
}

fn result_of(inputs: &YearInputs<'_>, ledger: Ledger, start: Stores, end: Stores) -> YearResult {
    let year = ledger.year();
    let (tank_start_m3, tank_end_m3) = (start.tank.content_m3, end.tank.content_m3);
    let stored_m3 = tank_end_m3 - tank_start_m3;
    let moved_m3 = year.pumped_m3.max(year.delivered_m3).max(1.0);
    let battery_j = [start, end].map(|stores| stores.battery.map_or(0.0, |b| b.content_j()));
    let battery_stored_j = battery_j[1] - battery_j[0];
    let into_battery_j = year.array_to_battery_j + year.grid.to_battery_j;
    let battery_missing_j = into_battery_j - year.battery.given_j - battery_stored_j;
    let year_s = inputs.axis.length_s();
    let residuals = Residuals {
        // Rounding of the content itself is no imbalance of the flow.
        energy: (battery_missing_j.abs() / into_battery_j.max(1e-6 * battery_j[0]).max(1.0)).max(ledger.worst_energy),
        water: ((year.pumped_m3 - year.delivered_m3 - stored_m3).abs() / moved_m3).max(ledger.worst_water),
        hours: (year.time_s - year_s).abs() / year_s.max(1.0),
    };
    YearResult {
        ledger,
        tank_start_m3,
        tank_end_m3,
        tank_agrees: stored_m3.abs() <= SAME_CONTENT * judged_by_m3(inputs, year.demand_m3),
        battery_j,
        battery_agrees: inputs.battery.is_none_or(|b| battery_stored_j.abs() <= SAME_CONTENT * b.capacity_j()),
        residuals,
    }
}
