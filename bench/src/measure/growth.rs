//! How the cost grows with the steps of a year and with the number of designs.

use std::hint::black_box;

use daylift_plant::{Facing, Plant};
use daylift_sky::Plane;
use daylift_study::Memory;
use daylift_units::Step;
use daylift_units::fit::least_squares;
use serde::{Deserialize, Serialize};

use crate::engine;
use crate::measure::year_loop::PLANT;
use crate::timing::least_s;

const RUNS: usize = 5;
const STEPS: [Step; 3] = [Step::Hour, Step::TenMinutes, Step::Minute];
const DESIGNS: [u32; 5] = [1, 2, 4, 8, 16];

/// Both ways.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub(crate) struct Growth {
    /// A year at each length of step.
    pub(crate) steps: Vec<AtStep>,
    /// Several designs in a row.
    pub(crate) designs: Vec<OfDesigns>,
}

/// A year at a length of step.
#[derive(Debug, Clone, Copy, Serialize, Deserialize)]
pub(crate) struct AtStep {
    /// Length of a step \[s\].
    pub(crate) step_s: u32,
    /// Steps in the year.
    pub(crate) steps: usize,
    /// Sun to DC \[s\].
    pub(crate) dc_seconds: f64,
    /// Drive and inverter in every step \[s\]: all stages less sun to DC.
    pub(crate) devices_seconds: f64,
    /// The year loop of `dual-mode` \[s\].
    pub(crate) year_seconds: f64,
}

impl AtStep {
    /// All of it \[s\].
    pub(crate) fn seconds(&self) -> f64 {
        self.dc_seconds + self.devices_seconds + self.year_seconds
    }
}

impl Growth {
    /// The power of the number of steps with which a part of the cost grows.
    pub(crate) fn power_of_steps(&self, part: fn(&AtStep) -> f64) -> Option<f64> {
        power(self.steps.iter().map(|at| (exact(at.steps), part(at))))
    }

    /// The power of the number of designs with which the cost grows.
    pub(crate) fn power_of_designs(&self) -> Option<f64> {
        power(self.designs.iter().map(|of| (f64::from(of.count), of.seconds)))
    }
}

/// Slope of cost against count, both as logarithms; 1 means proportional.
fn power(of: impl Iterator<Item = (f64, f64)>) -> Option<f64> {
    let (rows, costs): (Vec<[f64; 2]>, Vec<f64>) = of.map(|(count, cost)| ([1.0, count.ln()], cost.ln())).unzip();
    least_squares(&rows, &costs).map(|[_, slope]| slope)
}

/// Steps of a year as a floating-point number.
#[expect(clippy::cast_precision_loss, reason = "steps of one year are exact in f64")]
pub(crate) fn exact(steps: usize) -> f64 {
    steps as f64
}

/// Designs that share nothing, one after the other.
#[derive(Debug, Clone, Copy, Serialize, Deserialize)]
pub(crate) struct OfDesigns {
    /// How many.
    pub(crate) count: u32,
    /// Time of all \[s\].
    pub(crate) seconds: f64,
}

/// Measures both.
pub(crate) fn measure() -> Result<Growth, String> {
    let plant = engine::plant(PLANT)?;
    let steps = STEPS.into_iter().map(|step| at_step(&plant, step));
    let designs = DESIGNS.into_iter().map(|count| of_designs(&plant, count));
    Ok(Growth {
        steps: steps.collect::<Result<_, _>>()?,
        designs: designs.collect::<Result<_, _>>()?,
    })
}

fn at_step(plant: &Plant, step: Step) -> Result<AtStep, String> {
    let array = plant.array.as_ref().ok_or("no array")?;
    let axis = plant.site.axis.with_step(step);
    let memory = Memory::none();
    let dc_seconds = least_s(RUNS, || engine::sun_to_dc(black_box(plant), array, &axis));
    let all_seconds = least_s(RUNS, || engine::stages(black_box(plant), step, &memory));
    let stages = engine::stages(plant, step, &memory);
    Ok(AtStep {
        step_s: step.seconds(),
        steps: axis.steps(),
        dc_seconds,
        devices_seconds: (all_seconds - dc_seconds).max(0.0),
        year_seconds: least_s(RUNS, || engine::year(black_box(&stages))),
    })
}

/// Designs with different tilts, so that they share no stage.
fn of_designs(plant: &Plant, count: u32) -> Result<OfDesigns, String> {
    let designs = (0..count).map(|i| tilted(plant, 5.0 + 1.5 * f64::from(i)));
    let designs = designs.collect::<Result<Vec<_>, _>>()?;
    for design in &designs {
        engine::answer(design)?;
    }
    Ok(OfDesigns {
        count,
        seconds: least_s(RUNS, || designs.iter().map(engine::answer).collect::<Vec<_>>()),
    })
}

fn tilted(plant: &Plant, tilt_deg: f64) -> Result<Plant, String> {
    let mut plant = plant.clone();
    for of in plant.array.iter_mut().flat_map(|array| &mut array.planes) {
        let Facing::Fixed { azimuth_deg, .. } = of.facing else {
            return Err("the plant's modules are on a tracker".to_owned());
        };
        let plane = Plane::new(tilt_deg, azimuth_deg, 0.2).map_err(|faults| format!("{} faults", faults.len()))?;
        of.surface = plane.into();
        of.facing = Facing::Fixed { tilt_deg, azimuth_deg };
    }
    Ok(plant)
}

#[cfg(test)]
mod tests {
    use super::power;

    #[test]
    fn a_proportional_cost_grows_with_the_first_power() {
        let slope = power([(1.0, 0.5), (2.0, 1.0), (8.0, 4.0)].into_iter()).unwrap();
        assert!((slope - 1.0).abs() < 1e-12);
        assert!((power([(1.0, 1.0), (2.0, 4.0)].into_iter()).unwrap() - 2.0).abs() < 1e-12);
    }
}
