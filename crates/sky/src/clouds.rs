//! Passing clouds within the hour: direct light that varies from minute to minute about the mean of the weather.

use daylift_units::root;

use crate::draws::{AutoregressiveNoise, Draws};
use crate::light::relative_air_mass;
use crate::year::SkyYear;

/// Time in which the noise decorrelates to 1/e \[min\], and its width at a medium share of clear-sky beam. Both are
/// fitted to the one-minute beam of the BSRN station Payerne in June 2016 (`validation/scripts/clouds.py`).
const DECORRELATION_MIN: f64 = 12.0;
const WIDTH: f64 = 4.2;
/// The share of the clear beam is clamped to at least this, and at most 1 minus this, when the noise width is computed.
const LEAST_SHARE: f64 = 0.02;
/// Upper limit of a minute's beam, as a multiple of the smooth beam, where the clear beam is lower.
const HEADROOM: f64 = 1.03;
/// Search limit for the common shift of an interval's minutes.
const SHIFT_LIMIT: f64 = 60.0;
/// Number of this random stream; the streams of days, hours and air are 1 to 3.
const PURPOSE: u64 = 4;

/// Beam of a cloudless minute, facing the sun \[W/m²\]: E0·0.7^(m^0.678), m the relative air mass (Meinel & Meinel
/// 1976, at sea level; from memory).
///
/// ```
/// // Sun overhead: 0.7 of the extraterrestrial irradiance.
/// assert!((daylift_sky::clouds::clear_beam_w_m2(1361.0, 1.0) - 952.7).abs() < 0.5);
/// ```
#[must_use]
pub fn clear_beam_w_m2(extraterrestrial_w_m2: f64, zenith_cos: f64) -> f64 {
    if zenith_cos <= 0.0 {
        return 0.0;
    }
    extraterrestrial_w_m2 * 0.7_f64.powf(relative_air_mass(zenith_cos).powf(0.678))
}

/// Cloud noise, minute after minute.
pub struct PassingClouds {
    draws: Draws,
    noise: AutoregressiveNoise,
}

impl PassingClouds {
    /// Starts the noise from a seed.
    #[must_use]
    pub fn new(seed: u32) -> Self {
        let mut draws = Draws::new(seed, PURPOSE);
        let noise = AutoregressiveNoise::new((-1.0 / DECORRELATION_MIN).exp(), &mut draws);
        Self { draws, noise }
    }

    /// The beam in the minutes of an interval, with the same mean as `smooth_w_m2` \[W/m²\]. No minute exceeds the
    /// clear beam, or 1.03 times the smooth beam if that is more.
    ///
    /// Let p be the smooth beam as a share of the clear beam c, clamped to 0.02 to 0.98. A minute's beam is c·L(ln(p/(1
    /// − p)) + 4.2·√(4·p·(1 − p))·z + v). L is the logistic function, and z standard normal noise that decorrelates to
    /// 1/e in 12 minutes. v is one number for the interval, chosen so that the mean is kept.
    pub fn beam_w_m2(&mut self, smooth_w_m2: &[f64], clear_w_m2: &[f64]) -> Vec<f64> {
        let noises: Vec<f64> = smooth_w_m2.iter().map(|_| self.noise.next(&mut self.draws)).collect();
        let whole: f64 = smooth_w_m2.iter().sum();
        if whole <= 0.0 {
            return smooth_w_m2.to_vec();
        }
        let minutes: Vec<(f64, f64)> = smooth_w_m2
            .iter()
            .zip(clear_w_m2)
            .zip(&noises)
            .map(|((&smooth, &clear), &noise)| {
                let most = if smooth > 0.0 {
                    clear.max(HEADROOM * smooth)
                } else {
                    0.0
                };
                let share = if most > 0.0 {
                    (smooth / most).clamp(LEAST_SHARE, 1.0 - LEAST_SHARE)
                } else {
                    0.5
                };
                let width = WIDTH * (4.0 * share * (1.0 - share)).sqrt();
                (most, (share / (1.0 - share)).ln() + width * noise)
            })
            .collect();
        let at = |moved: f64, (most, drawn): &(f64, f64)| most / (1.0 + (-drawn - moved).exp());
        let off = |moved: f64| minutes.iter().map(|minute| at(moved, minute)).sum::<f64>() / whole - 1.0;
        let moved = root::bracketed_within(1e-9, -SHIFT_LIMIT, SHIFT_LIMIT, off).unwrap_or(0.0);
        let rest = 1.0 / (1.0 + off(moved));
        minutes.iter().map(|minute| at(moved, minute) * rest).collect()
    }
}

/// Applies passing clouds to a year of minutes with smoothly shared light; `parts` minutes make one interval of the
/// weather.
///
/// The diffuse light does not change. The global light follows the beam and is scaled so that its mean over the
/// interval is kept.
pub(crate) fn pass_over(year: &mut SkyYear, parts: usize, seed: u32) {
    let mut passing = PassingClouds::new(seed);
    for begin in (0..year.steps()).step_by(parts.max(1)) {
        let minutes = begin..(begin + parts).min(year.steps());
        let clear: Vec<f64> = minutes
            .clone()
            .map(|i| clear_beam_w_m2(year.extraterrestrial_w_m2[i], year.zenith_cos[i]))
            .collect();
        let beam = passing.beam_w_m2(&year.dni_w_m2[minutes.clone()], &clear);
        let before: f64 = year.ghi_w_m2[minutes.clone()].iter().sum();
        for (i, beam) in minutes.clone().zip(beam) {
            let more = (beam - year.dni_w_m2[i]) * year.zenith_cos[i].max(0.0);
            year.ghi_w_m2[i] = (year.ghi_w_m2[i] + more).max(0.0);
            year.dni_w_m2[i] = beam;
        }
        keep_sum(&mut year.ghi_w_m2[minutes], before);
    }
}

/// Applies the clouds of a year of minutes to longer steps: each step's beam changes in the same ratio as that of its
/// minutes.
pub(crate) fn onto_steps(year: &mut SkyYear, smooth: &SkyYear, broken: &SkyYear, parts: usize) {
    let merged = smooth.steps() / year.steps().max(1);
    for begin in (0..year.steps()).step_by(parts.max(1)) {
        let steps = begin..(begin + parts).min(year.steps());
        let sums = [&year.dni_w_m2, &year.ghi_w_m2].map(|of| of[steps.clone()].iter().sum::<f64>());
        for i in steps.clone() {
            let minutes = i * merged..(i + 1) * merged;
            for (values, was, is) in [
                (&mut year.dni_w_m2, &smooth.dni_w_m2, &broken.dni_w_m2),
                (&mut year.ghi_w_m2, &smooth.ghi_w_m2, &broken.ghi_w_m2),
            ] {
                let (was, is): (f64, f64) = (was[minutes.clone()].iter().sum(), is[minutes.clone()].iter().sum());
                values[i] *= if was > 0.0 { is / was } else { 1.0 };
            }
        }
        keep_sum(&mut year.dni_w_m2[steps.clone()], sums[0]);
        keep_sum(&mut year.ghi_w_m2[steps], sums[1]);
    }
}

fn keep_sum(values: &mut [f64], sum: f64) {
    let now: f64 = values.iter().sum();
    if now > 0.0 {
        values.iter_mut().for_each(|value| *value *= sum / now);
    }
}

#[cfg(test)]
mod tests {
    use daylift_units::Step;
    use proptest::prelude::*;

    use super::*;
    use crate::fixture::cloudless;
    use crate::{Weather, WeatherSeries};

    proptest! {
        #[test]
        fn an_interval_keeps_its_mean_and_its_bounds(
            share in 0.0..1.2_f64,
            clear in 1.0..1000.0_f64,
            count in 2..60_usize,
            seed in any::<u32>(),
        ) {
            let smooth: Vec<f64> = (0..count).map(|i| if i == 0 { 0.0 } else { share * clear }).collect();
            let beam = PassingClouds::new(seed).beam_w_m2(&smooth, &vec![clear; count]);
            let (sum, wanted): (f64, f64) = (beam.iter().sum(), smooth.iter().sum());
            prop_assert!((sum - wanted).abs() <= 1e-9 * wanted);
            prop_assert!(beam[0] == 0.0);
            let most = clear.max(1.03 * share * clear) * (1.0 + 1e-6);
            prop_assert!(beam.iter().all(|b| (0.0..=most).contains(b)), "{beam:?}");
        }
    }

    #[test]
    fn partly_cloudy_hours_vary_and_clear_ones_do_not() {
        let spread = |share: f64| {
            let mut passing = PassingClouds::new(5);
            let mut squares = 0.0;
            for _ in 0..200 {
                let beam = passing.beam_w_m2(&[share * 800.0; 60], &[800.0; 60]);
                squares += beam.iter().map(|b| (b / 800.0 - share).powi(2)).sum::<f64>() / 60.0;
            }
            (squares / 200.0).sqrt()
        };
        // A beam that is either fully on or off has a standard deviation of √(p·(1 − p)), at most 0.5.
        assert!(spread(0.5) > 0.3 && spread(0.5) < 0.5);
        let spreads = [0.02, 0.98, 1.0].map(spread);
        assert!(spreads.iter().all(|spread| *spread < 0.07), "{spreads:?}");
    }

    #[test]
    fn every_hour_of_the_year_keeps_its_means_at_one_and_at_ten_minutes() {
        let place = cloudless(-15.6, 28.1);
        let dim = |values: &[f64]| -> Vec<f64> {
            values
                .iter()
                .enumerate()
                .map(|(hour, v)| v * (0.2 + 0.7 * f64::from(u8::from(hour % 3 > 0))))
                .collect()
        };
        let weather = Weather::new(WeatherSeries {
            interval_s: 3600,
            utc_offset_s: place.weather.utc_offset_s(),
            ghi_w_m2: dim(place.weather.ghi_w_m2()),
            dni_w_m2: dim(place.weather.dni_w_m2()),
            dhi_w_m2: place.weather.dhi_w_m2().to_vec(),
            air_c: place.weather.air_c().to_vec(),
            wind_m_s: place.weather.wind_m_s().to_vec(),
        })
        .unwrap();
        for (step, parts) in [(Step::Minute, 60), (Step::TenMinutes, 6)] {
            let axis = place.axis.with_step(step);
            let year = |weather: &Weather| SkyYear::new(weather, &place.ephemeris, &place.observer, &axis);
            let smooth = year(&weather);
            let broken = year(&weather.clone().with_clouds(Some(3)));
            let other = year(&weather.clone().with_clouds(Some(4)));
            assert!(broken.dni_w_m2 != smooth.dni_w_m2 && broken.dni_w_m2 != other.dni_w_m2);
            assert!(broken.dhi_w_m2 == smooth.dhi_w_m2 && broken.air_c == smooth.air_c);
            for (a, b) in [
                (&smooth.dni_w_m2, &broken.dni_w_m2),
                (&smooth.ghi_w_m2, &broken.ghi_w_m2),
            ] {
                for (a, b) in a.chunks(parts).zip(b.chunks(parts)) {
                    let (a, b): (f64, f64) = (a.iter().sum(), b.iter().sum());
                    assert!((a - b).abs() <= 1e-9 * a.max(1.0), "{a} {b}");
                }
            }
            for step in (0..broken.steps()).filter(|&step| !broken.is_up(step)) {
                assert!(broken.dni_w_m2[step] == 0.0 && broken.ghi_w_m2[step] == 0.0);
            }
        }
        let hourly = place.axis.with_step(Step::Hour);
        let year = |weather: &Weather| SkyYear::new(weather, &place.ephemeris, &place.observer, &hourly);
        assert!(year(&weather) == year(&weather.clone().with_clouds(Some(3))));
    }
}
