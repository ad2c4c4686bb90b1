//! Weather mapped onto the steps of the simulation year.

use daylift_units::{Axis, Step};

use super::SkyYear;
use crate::clouds;
use crate::ephemeris::Ephemeris;
use crate::sharing::{between_middles, block_means, by_clearness, unplaced};
use crate::sun::Observer;
use crate::weather::Weather;

impl SkyYear {
    /// Maps the weather onto the steps of an axis.
    ///
    /// If steps are shorter than the weather's intervals, irradiance is distributed among them by clearness, which
    /// keeps each interval's mean; temperature and wind are interpolated. If steps are longer, intervals are averaged.
    /// The axis must have the weather's number of days and offset from UTC; weather that is too short is repeated from
    /// its start.
    #[must_use]
    pub fn new(weather: &Weather, ephemeris: &Ephemeris, observer: &Observer, axis: &Axis) -> Self {
        let mut year = Self::of_sun(ephemeris, observer, axis);
        year.model = weather.sky_model();
        let (step_s, interval_s) = (axis.step().seconds(), weather.interval_s());
        let parts = (interval_s / step_s).max(1) as usize;
        let merged = (step_s / interval_s).max(1) as usize;
        let intervals = axis.steps().div_ceil(parts);
        let on_axis =
            |values: &[f64]| -> Vec<f64> { block_means(values, merged).into_iter().cycle().take(intervals).collect() };
        let normal = year.potential(|_| 1.0);
        let horizontal = year.potential(|zenith_cos| zenith_cos);
        let ghi_w_m2 = on_axis(weather.ghi_w_m2());
        year.dropped_j_m2 = unplaced(&ghi_w_m2, &horizontal, parts) * f64::from(step_s.max(interval_s));
        year.ghi_w_m2 = by_clearness(&ghi_w_m2, &horizontal, parts);
        year.dhi_w_m2 = by_clearness(&on_axis(weather.dhi_w_m2()), &horizontal, parts);
        year.dni_w_m2 = by_clearness(&on_axis(weather.dni_w_m2()), &normal, parts);
        year.air_c = between_middles(&on_axis(weather.air_c()), parts);
        year.wind_m_s = between_middles(&on_axis(weather.wind_m_s()), parts);
        if let Some(seed) = weather.clouds().filter(|_| parts > 1) {
            year.under_clouds(weather, (ephemeris, observer, axis), parts, seed);
        }
        year
    }

    /// Adds clouds that pass by the minute; longer steps get the means of their minutes.
    fn under_clouds(
        &mut self,
        weather: &Weather,
        (ephemeris, observer, axis): (&Ephemeris, &Observer, &Axis),
        parts: usize,
        seed: u32,
    ) {
        if axis.step() == Step::Minute {
            return clouds::pass_over(self, parts, seed);
        }
        let minutes = axis.with_step(Step::Minute);
        let smooth = Self::new(&weather.clone().with_clouds(None), ephemeris, observer, &minutes);
        let mut broken = smooth.clone();
        clouds::pass_over(
            &mut broken,
            (weather.interval_s() / Step::Minute.seconds()) as usize,
            seed,
        );
        clouds::onto_steps(self, &smooth, &broken, parts);
    }

    /// Extraterrestrial irradiance times a function of the zenith angle's cosine; 0 where the sun is down.
    pub(super) fn potential(&self, of: impl Fn(f64) -> f64) -> Vec<f64> {
        let suns = self.extraterrestrial_w_m2.iter().zip(&self.zenith_cos);
        suns.map(|(&e0, &c)| if c > 0.0 { e0 * of(c) } else { 0.0 }).collect()
    }
}
