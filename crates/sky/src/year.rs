//! Sun and weather in every step of the simulation year.

use daylift_units::Axis;

use crate::ephemeris::Ephemeris;
use crate::light::{Irradiance, SkyModel};
use crate::sun::{Observer, extraterrestrial_at_w_m2};

mod mapped;
#[cfg(test)]
mod tests;

/// Sun and weather by step, one array per quantity. The sun's position is that at the middle of the step.
#[derive(Debug, Clone, PartialEq)]
pub struct SkyYear {
    /// Model for diffuse light on tilted planes.
    pub model: SkyModel,
    /// Length of a step \[s\].
    pub step_s: f64,
    /// Cosine of the sun's apparent zenith angle; the sun is up where it is above 0.
    pub zenith_cos: Vec<f64>,
    /// Northward component of the unit vector towards the sun.
    pub north: Vec<f64>,
    /// Eastward component of the unit vector towards the sun.
    pub east: Vec<f64>,
    /// Irradiance outside the atmosphere on a surface that faces the sun \[W/m²\].
    pub extraterrestrial_w_m2: Vec<f64>,
    /// Global horizontal irradiance \[W/m²\].
    pub ghi_w_m2: Vec<f64>,
    /// Direct normal irradiance \[W/m²\].
    pub dni_w_m2: Vec<f64>,
    /// Diffuse horizontal irradiance \[W/m²\].
    pub dhi_w_m2: Vec<f64>,
    /// Air temperature \[°C\].
    pub air_c: Vec<f64>,
    /// Wind speed \[m/s\].
    pub wind_m_s: Vec<f64>,
    /// Global horizontal irradiation that is left out, from intervals in which no step has sun \[J/m²\].
    pub dropped_j_m2: f64,
}

impl SkyYear {
    /// The sun in every step, without weather.
    fn of_sun(ephemeris: &Ephemeris, observer: &Observer, axis: &Axis) -> Self {
        let steps = axis.steps();
        let step_s = axis.step_s();
        let empty = || Vec::with_capacity(steps);
        let (mut zenith_cos, mut north, mut east, mut extraterrestrial_w_m2) = (empty(), empty(), empty(), empty());
        #[expect(clippy::cast_precision_loss, reason = "seconds of our time are exact in f64")]
        let start_unix_s = axis.start_unix_s() as f64;
        for step in 0..steps {
            #[expect(clippy::cast_precision_loss, reason = "steps of one year are exact in f64")]
            let middle_s = (step as f64 + 0.5) * step_s;
            let (sun, distance_au) = ephemeris.direction(observer, start_unix_s + middle_s);
            zenith_cos.push(sun.up);
            north.push(sun.north);
            east.push(sun.east);
            extraterrestrial_w_m2.push(extraterrestrial_at_w_m2(distance_au));
        }
        Self {
            model: SkyModel::default(),
            step_s,
            zenith_cos,
            north,
            east,
            extraterrestrial_w_m2,
            ghi_w_m2: Vec::new(),
            dni_w_m2: Vec::new(),
            dhi_w_m2: Vec::new(),
            air_c: Vec::new(),
            wind_m_s: Vec::new(),
            dropped_j_m2: 0.0,
        }
    }

    /// Number of steps.
    #[must_use]
    pub fn steps(&self) -> usize {
        self.zenith_cos.len()
    }

    /// Whether the sun is up at the middle of a step; false for a step after the end of the year.
    #[must_use]
    pub fn is_up(&self, step: usize) -> bool {
        self.zenith_cos.get(step).is_some_and(|&c| c > 0.0)
    }

    /// Global horizontal irradiation of the year, as used \[J/m²\].
    #[must_use]
    pub fn ghi_j_m2(&self) -> f64 {
        self.ghi_w_m2.iter().sum::<f64>() * self.step_s
    }

    /// Irradiance of a step.
    pub(crate) fn irradiance(&self, step: usize) -> Irradiance {
        Irradiance {
            ghi_w_m2: self.ghi_w_m2[step],
            dni_w_m2: self.dni_w_m2[step],
            dhi_w_m2: self.dhi_w_m2[step],
            extraterrestrial_w_m2: self.extraterrestrial_w_m2[step],
        }
    }
}
