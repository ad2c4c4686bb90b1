//! Hourly irradiance: the day's clearness, its usual shape from sunrise to sunset, and noise from hour to hour.

use std::f64::consts::PI;

use daylift_units::root;

use super::daily::{clearest, logistic};
use super::{HOURS, HourlySun, PURPOSE_HOURS};
use crate::draws::{AutoregressiveNoise, Draws};

/// Extinction of the cloudless sky by air mass (Haurwitz 1945: e^(−0.057/cos z)).
const HAURWITZ: f64 = 0.057;
/// How far an hour's clearness may exceed that of a cloudless day at that hour: light reflected from cloud edges.
const ABOVE_CLOUDLESS: f64 = 1.08;
/// Upper limit of any hour's clearness.
const GREATEST: f64 = 0.95;
/// Factor by which the hours' limits must exceed the day's light.
const LEAST_ROOM: f64 = 1.02;
/// The share of the limit is clamped to at least this, and at most 1 minus this, when the noise width is computed.
const LEAST_SHARE: f64 = 0.05;
/// Largest width of the noise before the logistic function.
const WIDEST: f64 = 4.0;
/// Search limit for the common shift of a day's hours.
const SHIFT_LIMIT: f64 = 60.0;

/// Global horizontal irradiance of every hour \[W/m²\]; each day has exactly its clearness.
pub(crate) fn irradiance(suns: &HourlySun, clearness: &[f64], seed: u32) -> Vec<f64> {
    let mut draws = Draws::new(seed, PURPOSE_HOURS);
    let mut out = Vec::with_capacity(suns.outside_w_m2.len());
    for (day, &of_day) in clearness.iter().enumerate() {
        let mut noise = AutoregressiveNoise::new(memory(of_day), &mut draws);
        let noises: [f64; HOURS] = std::array::from_fn(|_| noise.next(&mut draws));
        out.extend(Day::new(suns, day).hours(of_day, &noises));
    }
    out
}

/// The sun of one day.
struct Day<'a> {
    zenith_cos: &'a [f64],
    outside_w_m2: &'a [f64],
    /// Sum of the hours' extraterrestrial irradiance.
    whole: f64,
    /// Usual clearness of each hour, relative to that of the day.
    shape: [f64; HOURS],
    /// Clearness of each hour of a cloudless day, relative to that of the day.
    cloudless: [f64; HOURS],
}

impl<'a> Day<'a> {
    fn new(suns: &'a HourlySun, day: usize) -> Self {
        let hours = day * HOURS..(day + 1) * HOURS;
        let (zenith_cos, outside_w_m2) = (&suns.zenith_cos[hours.clone()], &suns.outside_w_m2[hours]);
        let whole = outside_w_m2.iter().sum::<f64>();
        let latitude_rad = suns.latitude_deg.to_radians();
        let shape = of_mean_one(outside_w_m2, usual(latitude_rad, declination_rad(day), zenith_cos));
        let clear = std::array::from_fn(|h| {
            if zenith_cos[h] > 0.0 {
                (-HAURWITZ / zenith_cos[h]).exp()
            } else {
                0.0
            }
        });
        Self {
            zenith_cos,
            outside_w_m2,
            whole,
            shape,
            cloudless: of_mean_one(outside_w_m2, clear),
        }
    }

    /// Irradiance of the hours of a day with this clearness \[W/m²\].
    fn hours(&self, of_day: f64, noises: &[f64; HOURS]) -> [f64; HOURS] {
        if self.whole <= 0.0 || of_day <= 0.0 {
            return [0.0; HOURS];
        }
        let limit = self.limit(of_day);
        let drawn: [f64; HOURS] = std::array::from_fn(|h| {
            if limit[h] <= 0.0 {
                return 0.0;
            }
            let share = (of_day * self.shape[h] / limit[h]).clamp(LEAST_SHARE, 1.0 - LEAST_SHARE);
            let width = spread(of_day, self.zenith_cos[h]) / (limit[h] * share * (1.0 - share));
            (share / (1.0 - share)).ln() + width.min(WIDEST) * noises[h]
        });
        let at = |moved: f64, h: usize| limit[h] * logistic(drawn[h] + moved) * self.outside_w_m2[h];
        let wanted = of_day * self.whole;
        let off = |moved: f64| (0..HOURS).map(|h| at(moved, h)).sum::<f64>() / wanted - 1.0;
        let moved = root::bracketed_within(1e-9, -SHIFT_LIMIT, SHIFT_LIMIT, off).unwrap_or(0.0);
        // Corrects the error of the root, a share of 1e-8 at most.
        let rest = 1.0 / (1.0 + off(moved));
        std::array::from_fn(|h| at(moved, h) * rest)
    }
}

impl Day<'_> {
    /// Upper limit of the clearness in each hour of a day.
    fn limit(&self, of_day: f64) -> [f64; HOURS] {
        let most = ABOVE_CLOUDLESS * f64::max(clearest(of_day), of_day);
        let limit = self.cloudless.map(|of_mean| (most * of_mean).min(GREATEST));
        let light: f64 = limit.iter().zip(self.outside_w_m2).map(|(l, o)| l * o).sum();
        if light > LEAST_ROOM * of_day * self.whole {
            return limit;
        }
        // A clear winter day with a low sun, far from the equator.
        std::array::from_fn(|h| if self.outside_w_m2[h] > 0.0 { GREATEST } else { 0.0 })
    }
}

/// Scales values so that their mean, weighted by the extraterrestrial light, is 1; 0 where the sun is down.
fn of_mean_one(outside_w_m2: &[f64], values: [f64; HOURS]) -> [f64; HOURS] {
    let weighted: f64 = values.iter().zip(outside_w_m2).map(|(v, o)| v * o).sum();
    let whole: f64 = outside_w_m2.iter().sum();
    let factor = if weighted > 0.0 { whole / weighted } else { 0.0 };
    std::array::from_fn(|h| if outside_w_m2[h] > 0.0 { values[h] * factor } else { 0.0 })
}

/// Clearness of the hours relative to the day's, up to a factor: a + b·cos ω, with a = 0.409 + 0.5016·sin(ω_s − 60°)
/// and b = 0.6609 − 0.4767·sin(ω_s − 60°) (Collares-Pereira & Rabl 1979).
///
/// cos ω = (cos z − sin φ·sin δ)/(cos φ·cos δ).
fn usual(latitude_rad: f64, declination_rad: f64, zenith_cos: &[f64]) -> [f64; HOURS] {
    let along = latitude_rad.sin() * declination_rad.sin();
    let across = latitude_rad.cos() * declination_rad.cos();
    let sunset_rad = (-along / across).clamp(-1.0, 1.0).acos();
    let of_sunset = (sunset_rad - PI / 3.0).sin();
    let (a, b) = (0.409 + 0.5016 * of_sunset, 0.6609 - 0.4767 * of_sunset);
    std::array::from_fn(|h| (a + b * ((zenith_cos[h] - along) / across).clamp(-1.0, 1.0)).max(0.0))
}

/// Declination of the sun on a day of the year (Spencer 1971, in Iqbal 1983, eq. 1.3.1), accurate to 0.05°.
fn declination_rad(day: usize) -> f64 {
    let angle = 2.0 * PI * f64::from(u16::try_from(day).unwrap_or(0)) / 365.0;
    0.006_918 - 0.399_912 * angle.cos() + 0.070_257 * angle.sin() - 0.006_758 * (2.0 * angle).cos()
        + 0.000_907 * (2.0 * angle).sin()
        - 0.002_697 * (3.0 * angle).cos()
        + 0.001_48 * (3.0 * angle).sin()
}

/// Standard deviation of an hour's clearness about the day's usual shape, from the day's clearness and the sun's
/// height.
///
/// 0.14·e^(−20·(K − 0.35)²) · e^((3·(K − 0.45)² + 16·K⁵)·(1 − cos z)) (Aguiar & Collares-Pereira 1992; from memory).
fn spread(of_day: f64, zenith_cos: f64) -> f64 {
    let least = 0.14 * (-20.0 * (of_day - 0.35).powi(2)).exp();
    let towards_horizon = 3.0 * (of_day - 0.45).powi(2) + 16.0 * of_day.powi(5);
    least * (towards_horizon * (1.0 - zenith_cos.max(0.0))).exp()
}

/// Lag-1 correlation of the hours' noise: 0.38 + 0.06·cos(7.4·K − 2.5) (Aguiar & Collares-Pereira 1992; from memory).
fn memory(of_day: f64) -> f64 {
    0.38 + 0.06 * (7.4 * of_day - 2.5).cos()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_usual_day_at_the_equinox_on_the_equator() {
        // Collares-Pereira & Rabl 1979, ω_s = 90°: r_t at 0.5, 1.5 … 5.5 h from noon is 0.1400, 0.1270, 0.1033, 0.0731,
        // 0.0412, 0.0122. Their hours add up to 0.995, ours to 1.
        let zenith_cos: Vec<f64> = (0..24).map(|h| ((f64::from(h) + 0.5 - 12.0) * PI / 12.0).cos()).collect();
        let outside: Vec<f64> = zenith_cos.iter().map(|c| 1361.0 * c.max(0.0)).collect();
        let shape = of_mean_one(&outside, usual(0.0, 0.0, &zenith_cos));
        let whole: f64 = outside.iter().sum();
        for (from_noon, r) in [0.1400, 0.1270, 0.1033, 0.0731, 0.0412, 0.0122].into_iter().enumerate() {
            let share = shape[12 + from_noon] * outside[12 + from_noon] / whole;
            assert!((share * 0.995 - r).abs() < 4e-4, "{from_noon}: {share}");
        }
    }

    #[test]
    fn declination_at_solstices_and_equinox() {
        // Solstices ±23.44°, equinox 0 (almanac); days 171 (21 June), 354 (21 December), 79 (21 March).
        for (day, deg) in [(171, 23.44), (354, -23.44), (79, 0.2)] {
            assert!((declination_rad(day).to_degrees() - deg).abs() < 0.3, "{day}");
        }
    }

    #[test]
    fn spread_and_memory_worked_by_hand() {
        // Worked by hand from the equations: K 0.35, sun overhead: 0.14; K 0.5, cos z 0.5: 0.14·e^−0.45·e^(0.5075·0.5)
        // = 0.14 · 0.637628 · 1.288858 = 0.115053; memory at K 0.5: 0.38 + 0.06·cos 1.2 = 0.401741.
        assert!((spread(0.35, 1.0) - 0.14).abs() < 1e-12);
        assert!((spread(0.5, 0.5) - 0.115_053).abs() < 1e-6);
        assert!((memory(0.5) - 0.401_741).abs() < 1e-6);
    }
}
