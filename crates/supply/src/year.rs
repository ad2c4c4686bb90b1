//! A whole year: spans settled in order, with the tank starting at the level at which it ends.

use daylift_plant::BySet;

use crate::battery::BatteryState;
use crate::flow::Flow;
use crate::inputs::YearInputs;
use crate::ledger::{Ledger, Residuals};
use crate::levels::Levels;
use crate::pass::Passes;
use crate::piece::Recorder;
use crate::power_ups::{PowerUps, power_ups};
use crate::settle::Stores;
use crate::starts::MotorStarts;
use crate::tank::TankState;

/// Largest difference between the contents at the start and at the end of the year. For the tank it is a fraction of the
/// capacity, or of the year's demand if that is less; for the battery it is a fraction of its capacity.
const SAME_CONTENT: f64 = 1e-3;
/// Maximum number of passes through the year.
const MOST_PASSES: usize = 30;

/// A year's result.
#[derive(Debug, Clone, PartialEq)]
pub struct YearResult {
    /// The account.
    pub ledger: Ledger,
    /// Tank content at the start \[m³\].
    pub tank_start_m3: f64,
    /// Tank content at the end \[m³\].
    pub tank_end_m3: f64,
    /// Whether the two agree within 0.1 % of the capacity, or of the year's demand if that is less.
    pub tank_agrees: bool,
    /// Battery content at the start and at the end \[J\]; 0 without one.
    pub battery_j: [f64; 2],
    /// Whether the two agree within 0.1 % of the capacity.
    pub battery_agrees: bool,
    /// Worst residuals.
    pub residuals: Residuals,
    /// Starts of each set's motor.
    pub starts: BySet<MotorStarts>,
    /// Power-ups of each set's drive.
    pub power_ups: BySet<PowerUps>,
}

/// Runs the year repeatedly, each time from the contents at its end, until the contents of tank and battery agree. Then runs
/// it once more for a recorder that watches.
///
/// With a tank that takes days from full to its restart level, there may be no content that returns after a year. Then the
/// result is the pass whose end is nearest to its start, and it says that they do not agree.
#[must_use]
pub fn run_year<R: Recorder>(inputs: &YearInputs<'_>, recorder: &mut R) -> YearResult {
    let mut start = Stores {
        tank: TankState::full(&Levels::of(inputs.tank)),
        battery: inputs.battery.map(BatteryState::full),
    };
    let mut passes = Passes::new(inputs);
    let mut end = passes.run(start);
    let (mut best_start, mut best) = (start, result_of(inputs, &passes, start, end));
    for _ in 1..MOST_PASSES {
        if best.tank_agrees && best.battery_agrees {
            break;
        }
        start = end;
        end = passes.run(start);
        let result = result_of(inputs, &passes, start, end);
        if result.disagreement(inputs) < best.disagreement(inputs) {
            (best_start, best) = (start, result);
        }
    }
    if R::WATCHES {
        passes.show(best_start, recorder);
    }
    let generator = inputs.generator.map(|generator| generator.hours);
    best.power_ups = power_ups(inputs.timeline, inputs.routes, inputs.offers, generator);
    best
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

    /// The larger disagreement of tank and battery, each as a fraction of its own scale.
    fn disagreement(&self, inputs: &YearInputs<'_>) -> f64 {
        let battery = inputs.battery.map_or(0.0, |b| self.battery_stored_j().abs() / b.capacity_j());
        (self.stored_m3().abs() / judged_by_m3(inputs, self.ledger.year()[Flow::Demand])).max(battery)
    }
}

/// The scale for the difference of the tank's contents: its capacity, or the year's demand if that is less \[m³\].
fn judged_by_m3(inputs: &YearInputs<'_>, demand_m3: f64) -> f64 {
    inputs.tank.capacity_m3().min(demand_m3.max(1.0))
}

fn result_of(inputs: &YearInputs<'_>, passes: &Passes<'_>, start: Stores, end: Stores) -> YearResult {
    let ledger = passes.ledger();
    let year = ledger.year();
    let (tank_start_m3, tank_end_m3) = (start.tank.content_m3, end.tank.content_m3);
    let stored_m3 = tank_end_m3 - tank_start_m3;
    let moved_m3 = year[Flow::Pumped].max(year[Flow::Delivered]).max(1.0);
    let battery_j = [start, end].map(|stores| stores.battery.map_or(0.0, |b| b.content_j()));
    let battery_stored_j = battery_j[1] - battery_j[0];
    let into_battery_j = year[Flow::ArrayToBattery] + year[Flow::GridToBattery];
    let battery_missing_j = into_battery_j - year[Flow::Discharged] - battery_stored_j;
    let year_s = inputs.axis.length_s();
    let residuals = Residuals {
        // The rounding of the content itself is not an imbalance of the flow.
        energy: (battery_missing_j.abs() / into_battery_j.max(1e-6 * battery_j[0]).max(1.0)).max(ledger.worst_energy),
        water: ((year[Flow::Pumped] - year[Flow::Delivered] - stored_m3).abs() / moved_m3).max(ledger.worst_water),
        hours: (year[Flow::Time] - year_s).abs() / year_s.max(1.0),
    };
    YearResult {
        ledger,
        tank_start_m3,
        tank_end_m3,
        tank_agrees: stored_m3.abs() <= SAME_CONTENT * judged_by_m3(inputs, year[Flow::Demand]),
        battery_j,
        battery_agrees: inputs.battery.is_none_or(|b| battery_stored_j.abs() <= SAME_CONTENT * b.capacity_j()),
        residuals,
        starts: passes.starts(),
        power_ups: BySet::new(),
    }
}
