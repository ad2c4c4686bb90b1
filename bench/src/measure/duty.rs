//! Duty points solved exactly, without the lookup table that a year uses.

use std::hint::black_box;

use daylift_lift::PumpSet;
use daylift_units::Month;
use daylift_validation::EpanetSet;
use serde::{Deserialize, Serialize};

use crate::engine;
use crate::timing::least_s;

/// Number of solves of each set in a run.
pub(crate) const SOLVES: u32 = 20_000;
const RUNS: usize = 5;
/// Fractional part of the golden ratio: its multiples are spread evenly, each far from the previous one.
const GOLDEN: f64 = 0.618_033_988_749_894_9;

/// All solves of one set.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub(crate) struct Solved {
    /// Name of the set.
    pub(crate) set: String,
    /// Time of all solves \[s\].
    pub(crate) seconds: f64,
    /// Mean flow of all solves \[m³/h\], to check that both programs solved the same task.
    pub(crate) mean_flow_m3_h: f64,
}

/// Solves every set at speeds from its minimum to full speed, a different speed each time.
pub(crate) fn measure() -> Result<Vec<Solved>, String> {
    // The motor does not affect the duty point, but a set needs one.
    let motor = engine::plant("bench/plants/greensboro")?.sets.raw[0].pump_set.motor().clone();
    let solved = |of: EpanetSet| {
        let set = of.pump_set(motor.clone())?;
        let least = of.speeds.iter().copied().fold(1.0, f64::min);
        let ratios: Vec<f64> = (0..SOLVES).map(|i| least + (1.0 - least) * (f64::from(i) * GOLDEN).fract()).collect();
        Ok(Solved {
            seconds: least_s(RUNS, || flows_m3_s(black_box(&set), &ratios)),
            mean_flow_m3_h: flows_m3_s(&set, &ratios) * 3600.0 / f64::from(SOLVES),
            set: of.name,
        })
    };
    EpanetSet::all()?.into_iter().map(solved).collect()
}

fn flows_m3_s(set: &PumpSet, ratios: &[f64]) -> f64 {
    let flow = |ratio: &f64| black_box(set.duty(Month::January, *ratio)).map_or(0.0, |duty| duty.flow_m3_s);
    ratios.iter().map(flow).sum()
}
