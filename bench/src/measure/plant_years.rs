//! Plant-years of ten-minute steps with money on all cores, with the shared stages already in memory.

use daylift_lift::{Tank, TankSheet};
use daylift_plant::Plant;
use daylift_study::{Against, Memory, Stages};
use daylift_units::Step;
use rayon::prelude::*;
use serde::{Deserialize, Serialize};

use crate::engine::{DUAL_MODE, plant};
use crate::timing::least_s;

/// Designs, each with a tank of another size.
const DESIGNS: u32 = 32;
/// Plant-years of each design in a run.
const YEARS: u32 = 8;
const RUNS: usize = 5;

/// Many designs that differ only after the shared stages.
#[derive(Debug, Clone, Copy, Serialize, Deserialize)]
pub(crate) struct PlantYears {
    /// Plant-years.
    pub(crate) count: u32,
    /// Time of all plant-years together \[s\].
    pub(crate) seconds: f64,
}

/// Years of `dual-mode` on Mulenga Ridge with tanks of 60 to 184 m³. For each, the stages are looked up, the year is run
/// again, and the money is calculated against today's arrangement.
pub(crate) fn measure() -> Result<PlantYears, String> {
    let farm = plant("examples/mulenga-ridge")?;
    let memory = Memory::new();
    let against = Against::new(&Stages::for_rows(&farm, Step::TenMinutes, &[farm.reference], &memory));
    let designs: Vec<Plant> = (0..DESIGNS).map(|i| design(&farm, i)).collect::<Result<_, _>>()?;
    let row = |design: &Plant| {
        let stages = Stages::for_rows(design, Step::TenMinutes, &[DUAL_MODE], &memory);
        against.row(&stages, DUAL_MODE)
    };
    // Puts the stages into memory.
    designs.first().map(row);
    let count = DESIGNS * YEARS;
    let all = || -> f64 {
        let years = (0..count).into_par_iter().filter_map(|i| designs.get((i % DESIGNS) as usize));
        years.filter_map(|design| row(design).money.npv).sum()
    };
    Ok(PlantYears {
        count,
        seconds: least_s(RUNS, all),
    })
}

fn design(farm: &Plant, number: u32) -> Result<Plant, String> {
    let mut design = farm.clone();
    design.tank = Tank::new(TankSheet {
        capacity_m3: 60.0 + 4.0 * f64::from(number),
        restart_level: farm.tank.restart_m3() / farm.tank.capacity_m3(),
        low_mark: farm.tank.low_mark_m3() / farm.tank.capacity_m3(),
    })
    .map_err(|faults| format!("tank {number}: {} faults", faults.len()))?;
    Ok(design)
}
