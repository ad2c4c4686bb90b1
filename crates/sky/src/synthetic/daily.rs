//! Daily clearness: random between the dullest and the clearest sky, with correlation from day to day.
//!
//! K = K_min + (K_max − K_min)·L(m + s·z). L is the logistic function, z standard normal noise with a lag-1
//! correlation. For each month, s sets the spread and m the mean of the distribution. Then m is shifted so that the
//! drawn days have exactly the month's mean.

use daylift_units::{Month, root};

use super::{HourlySun, MonthlySun};
use crate::draws::{AutoregressiveNoise, Draws};

/// Clearness of the dullest day (Bendt, Collares-Pereira & Rabl 1981, as in Duffie & Beckman 2013, §2.9; from memory).
const DULLEST: f64 = 0.05;
/// Lag-1 correlation of the days' normal scores (Graham, Hollands & Huget 1988: 0.29; from memory).
pub const DAY_MEMORY: f64 = 0.29;
/// Largest plausible mean clearness of a month; months in the clearest deserts reach 0.8 (from memory).
pub(crate) const GREATEST_MEAN: f64 = 0.84;
/// Smallest plausible mean clearness of a month.
pub(crate) const LEAST_MEAN: f64 = 0.07;
/// Smallest standard deviation of a month's clearness: nowhere are all days alike.
const LEAST_SPREAD: f64 = 0.01;
/// Largest s: almost all days are then either the dullest or the clearest.
const WIDEST: f64 = 6.0;
/// Largest |m|: almost all days are then the clearest, or the dullest.
const SHIFT_LIMIT: f64 = 60.0;

/// Clearness of a month's clearest day, from the month's mean clearness.
///
/// 0.6313 + 0.267·K̄ − 11.9·(K̄ − 0.75)⁸ (Hollands & Huget 1983, in Duffie & Beckman 2013, eq. 2.9.7; from memory).
#[must_use]
pub fn clearest(mean: f64) -> f64 {
    0.6313 + 0.267 * mean - 11.9 * (mean - 0.75).powi(8)
}

/// Distribution of the daily clearness in a month.
#[derive(Debug, Clone, Copy)]
struct Days {
    clearest: f64,
    middle: f64,
    width: f64,
}

impl Days {
    /// The distribution with this mean and standard deviation, or with the nearest standard deviation that the bounds
    /// allow.
    fn new(mean: f64, spread: f64) -> Self {
        let clearest = clearest(mean);
        let of_width = |width: f64| {
            let off = |middle: f64| moments(clearest, middle, width).0 - mean;
            let middle = root::bracketed_within(1e-9, -SHIFT_LIMIT, SHIFT_LIMIT, off).unwrap_or(0.0);
            Self {
                clearest,
                middle,
                width,
            }
        };
        let off = |width: f64| {
            let days = of_width(width);
            moments(clearest, days.middle, width).1 - spread
        };
        let width = root::bracketed_within(1e-6, 0.0, WIDEST, off);
        of_width(width.unwrap_or(WIDEST))
    }

    fn clearness(&self, noise: f64, moved: f64) -> f64 {
        DULLEST + (self.clearest - DULLEST) * logistic(self.middle + moved + self.width * noise)
    }
}

/// Mean and standard deviation of the distribution, computed from 32 equally likely values of the noise.
fn moments(clearest: f64, middle: f64, width: f64) -> (f64, f64) {
    let (mut sum, mut squares) = (0.0, 0.0);
    for noise in QUANTILES {
        for noise in [-noise, noise] {
            let k = logistic(middle + width * noise);
            sum += k;
            squares += k * k;
        }
    }
    let n = 2.0 * f64::from(u8::try_from(QUANTILES.len()).unwrap_or(1));
    let (mean, square) = (sum / n, squares / n);
    let range = clearest - DULLEST;
    (DULLEST + range * mean, range * (square - mean * mean).max(0.0).sqrt())
}

/// Standard normal quantiles at 1/2 + (i + 1/2)/32, i = 0 … 15, scaled so that all 32 have a variance of 1 (computed
/// with SciPy's `norm.ppf`).
#[rustfmt::skip]
const QUANTILES: [f64; 16] = [
    0.039_959_931, 0.120_126_246, 0.201_042_695, 0.283_246_544,
    0.367_335_467, 0.454_002_135, 0.544_082_310, 0.638_626_168,
    0.739_010_660, 0.847_127_961, 0.965_725_218, 1.099_074_786,
    1.254_466_101, 1.446_164_801, 1.709_472_372, 2.196_969_993,
];

pub(crate) fn logistic(x: f64) -> f64 {
    1.0 / (1.0 + (-x).exp())
}

/// Clearness of every day: its irradiation divided by the extraterrestrial irradiation.
pub(crate) fn clearness(sun: &MonthlySun, suns: &HourlySun, outside_w_m2: &[f64], seed: u32) -> Vec<f64> {
    let mut draws = Draws::new(seed, super::PURPOSE_DAYS);
    let mut noise = AutoregressiveNoise::new(DAY_MEMORY, &mut draws);
    let noises: Vec<f64> = (0..suns.days()).map(|_| noise.next(&mut draws)).collect();
    let mut out = vec![0.0; suns.days()];
    for month in Month::ALL {
        let days: Vec<usize> = (0..suns.days()).filter(|&d| suns.month_of_day[d] == month).collect();
        let outside = moments_of(&days, outside_w_m2);
        if outside.mean <= super::DARK_W_M2 {
            continue;
        }
        let mean = sun.mean_w_m2[month] / outside.mean;
        let distribution = Days::new(mean, spread(sun.spread_w_m2[month], mean, &outside));
        let weighted = |moved: f64| -> f64 {
            days.iter().map(|&d| distribution.clearness(noises[d], moved) * outside_w_m2[d]).sum()
        };
        let whole = mean * days.iter().map(|&d| outside_w_m2[d]).sum::<f64>();
        let moved = root::bracketed(-SHIFT_LIMIT, SHIFT_LIMIT, |moved| weighted(moved) / whole - 1.0).unwrap_or(0.0);
        for &day in &days {
            out[day] = distribution.clearness(noises[day], moved);
        }
    }
    out
}

/// Mean and variance of the daily extraterrestrial irradiance in a month.
struct Outside {
    mean: f64,
    variance: f64,
}

fn moments_of(days: &[usize], outside_w_m2: &[f64]) -> Outside {
    let n = f64::from(u16::try_from(days.len()).unwrap_or(1));
    let mean = days.iter().map(|&d| outside_w_m2[d]).sum::<f64>() / n;
    let variance = days.iter().map(|&d| (outside_w_m2[d] - mean).powi(2)).sum::<f64>() / n;
    Outside { mean, variance }
}

/// Spread of the clearness that gives a spread of the irradiance. The part caused by the sun's own change during the
/// month is subtracted: var(K·H) = H̄²·var K + K̄²·var H.
fn spread(spread_w_m2: f64, mean: f64, outside: &Outside) -> f64 {
    let own = spread_w_m2 * spread_w_m2 - mean * mean * outside.variance;
    (own.max(0.0).sqrt() / outside.mean).max(LEAST_SPREAD)
}
