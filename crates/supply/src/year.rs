//! A year run through: spans settled in order, the tank beginning where it ends.

use daylift_grid::{Export, Loads};
use daylift_lift::{Demand, Tank};
use daylift_units::Axis;

use crate::ledger::{Ledger, Residuals};
use crate::offers::Offers;
use crate::piece::{NoRecorder, Piece, Recorder};
use crate::route::Schedule;
use crate::settle::{Surroundings, settle};
use crate::tank::TankState;
use crate::timeline::{Span, Timeline};

/// Begin and end of the year's tank content may differ by this fraction of the capacity, or of the year's demand where
/// that is less.
const SAME_CONTENT: f64 = 1e-3;
/// Passes through the year before giving up on the tank's content.
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
    /// What becomes of surplus.
    pub export: Export,
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
    /// Worst residuals.
    pub residuals: Residuals,
}

/// Runs the year again from its own end until the tank's content agrees, then once more for a recorder that watches.
///
/// A tank that takes days from full to its restart level may have no content that comes back after a year; then the pass
/// whose end is nearest to its begin is the result, and says that they do not agree.
#[must_use]
pub fn run_year<R: Recorder>(inputs: &YearInputs<'_>, recorder: &mut R) -> YearResult {
    let timeline = Timeline::new(inputs.axis, &inputs.schedule.phases);
    let mut start = TankState::new(inputs.tank.capacity_m3(), inputs.tank);
    let (mut end, mut result) = pass(inputs, &timeline, start, &mut NoRecorder);
    let (mut best_start, mut best) = (start, result.clone());
    for _ in 1..MOST_PASSES {
        if best.tank_agrees {
            break;
        }
        start = end;
        (end, result) = pass(inputs, &timeline, start, &mut NoRecorder);
        if result.stored_m3().abs() < best.stored_m3().abs() {
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
    start: TankState,
    recorder: &mut R,
) -> (TankState, YearResult) {
    let Some(&first) = timeline.spans().first() else {
        return (start, result_of(inputs, Ledger::new(0), start, start));
    };
    let mut booking = Booking {
        ledger: Ledger::new(inputs.axis.days()),
        span: first,
        recorder,
    };
    let mut state = start;
    for span in timeline.spans() {
        let Some(route) = inputs.schedule.routes.get(usize::from(span.route)) else {
            continue;
        };
        booking.span = *span;
        let around = Surroundings {
            offers: inputs.offers,
            tank: inputs.tank,
            export: inputs.export,
            sun_to_pump_first: inputs.sun_to_pump_first,
            load_w: inputs.loads.mean_power_w(span.start_s, span.length_s, span.month, span.hour),
            demand_m3_s: inputs.demand.flow_m3_s(usize::from(span.month), usize::from(span.hour)),
        };
        settle(span, route, &around, &mut state, &mut booking);
    }
    let result = result_of(inputs, booking.ledger, start, state);
    (state, result)
}

fn result_of(inputs: &YearInputs<'_>, ledger: Ledger, start: TankState, end: TankState) -> YearResult {
    let year = ledger.year();
    let stored_m3 = end.content_m3 - start.content_m3;
    let moved_m3 = year.pumped_m3.max(year.delivered_m3).max(1.0);
    let year_s = inputs.axis.length_s();
    let residuals = Residuals {
        energy: ledger.worst_energy,
        water: ((year.pumped_m3 - year.delivered_m3 - stored_m3).abs() / moved_m3).max(ledger.worst_water),
        hours: (year.time_s - year_s).abs() / year_s.max(1.0),
    };
    YearResult {
        ledger,
        tank_start_m3: start.content_m3,
        tank_end_m3: end.content_m3,
        tank_agrees: stored_m3.abs() <= SAME_CONTENT * inputs.tank.capacity_m3().min(year.demand_m3.max(1.0)),
        residuals,
    }
}
