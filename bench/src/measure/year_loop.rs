//! The year loop on one-minute steps.

use std::hint::black_box;

use daylift_study::Memory;
use daylift_units::Step;
use serde::{Deserialize, Serialize};

use crate::engine;
use crate::timing::least_s;

const RUNS: usize = 10;
/// One pump whose array feeds drive or inverter.
pub(crate) const PLANT: &str = "examples/mulenga-ridge";

/// The year of `dual-mode`.
#[derive(Debug, Clone, Copy, Serialize, Deserialize)]
pub(crate) struct YearLoop {
    /// Schedule and all passes through the year \[s\].
    pub(crate) seconds: f64,
    /// Steps of the year, each counted once whatever the number of passes.
    pub(crate) steps: usize,
}

/// With the stages computed beforehand.
pub(crate) fn measure() -> Result<YearLoop, String> {
    let plant = engine::plant(PLANT)?;
    let memory = Memory::none();
    let stages = engine::stages(&plant, Step::Minute, &memory);
    Ok(YearLoop {
        seconds: least_s(RUNS, || engine::year(black_box(&stages))),
        steps: stages.axis.steps(),
    })
}
