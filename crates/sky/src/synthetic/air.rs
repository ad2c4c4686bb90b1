//! Air temperature of a year generated from monthly values.

use std::f64::consts::PI;

use daylift_units::{Fault, Month, Monthly, fingerprint, root};

use super::{HOURS, HourlySun, PURPOSE_AIR};
use crate::draws::{AutoregressiveNoise, Draws};

/// Monthly air temperatures \[°C\].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MonthlyAir {
    /// Mean.
    pub mean_c: Monthly<f64>,
    /// Mean of the daily minima.
    pub low_c: Monthly<f64>,
    /// Mean of the daily maxima.
    pub high_c: Monthly<f64>,
}

fingerprint!(MonthlyAir { mean_c, low_c, high_c });

/// Mean at sea level on the equator \[°C\], and its fall with the square of the latitude \[°C/°²\]. From zonal climate
/// means: 27 °C at the equator, 20 °C at 30°, −1 °C at 60° (from memory).
const EQUATOR_C: f64 = 27.0;
const FALL_C_PER_DEG2: f64 = 0.0077;
/// Half of the difference between the warmest and the coldest month, inland, per degree of latitude \[°C/°\] (from
/// memory).
const SEASON_C_PER_DEG: f64 = 0.26;
/// Fall of air temperature with height in the standard atmosphere (ISO 2533) \[°C/m\].
pub const LAPSE_C_M: f64 = 0.0065;
/// Clearness divided by the square root of the daily temperature range, inland (Hargreaves, in Allen et al. 1998, eq.
/// 50).
const HARGREAVES: f64 = 0.16;
/// Smallest and largest daily range that the estimate gives \[°C\].
const RANGES_C: (f64, f64) = (5.0, 18.0);
/// Standard deviation of the daily means about the month's mean \[°C\], and their lag-1 correlation (from memory;
/// higher in middle latitudes, lower in the tropics).
const DAYS_C: f64 = 1.5;
const DAYS_MEMORY: f64 = 0.7;
/// Hours of solar time at which a day is coldest and warmest (usual practice).
const COLDEST_H: f64 = 5.5;
const WARMEST_H: f64 = 14.5;
/// Allowed position of the mean within the daily range, as shares of the range.
const MEAN_SHARES: (f64, f64) = (0.2, 0.8);

impl MonthlyAir {
    /// Monthly values, checked for consistency.
    ///
    /// # Errors
    /// A fault when, in some month, the mean is not between the minimum and the maximum, at least a fifth of the range
    /// from each.
    pub fn new(mean_c: Monthly<f64>, low_c: Monthly<f64>, high_c: Monthly<f64>) -> Result<Self, Vec<Fault>> {
        let (least, most) = MEAN_SHARES;
        let wrong: Vec<Month> = Month::ALL
            .into_iter()
            .filter(|&m| {
                let range = high_c[m] - low_c[m];
                !(range > 0.0 && (low_c[m] + least * range..=low_c[m] + most * range).contains(&mean_c[m]))
            })
            .collect();
        if let Some(&first) = wrong.first() {
            return Err(vec![Fault::new(
                "air_mean_c",
                "mean air temperature by month",
                format!(
                    "{} °C with days from {} to {} °C {}",
                    mean_c[first],
                    low_c[first],
                    high_c[first],
                    Month::in_words(&wrong)
                ),
                "a mean between the daily minimum and maximum, at least a fifth of their difference from each",
                "check `air_low_c` and `air_high_c`: mean daily minimum and maximum by month, January first",
            )]);
        }
        Ok(Self { mean_c, low_c, high_c })
    }

    /// Monthly air temperature from known means; the daily range is estimated from the clearness.
    #[must_use]
    pub fn from_mean(mean_c: Monthly<f64>, clearness: &Monthly<f64>) -> Self {
        let half = |m: Month| 0.5 * (clearness[m] / HARGREAVES).powi(2).clamp(RANGES_C.0, RANGES_C.1);
        Self {
            mean_c,
            low_c: Monthly::from_fn(|m| mean_c[m] - half(m)),
            high_c: Monthly::from_fn(|m| mean_c[m] + half(m)),
        }
    }
}

/// An estimate from latitude, altitude, month and clearness, for places where nothing is known. It can be about 5 °C
/// off near the sea, on a plateau or in a monsoon climate.
///
/// Mean: 27 − 0.0077·φ² − 0.0065·altitude, ± 0.26·|φ| with the season; warmest in July north of the equator and in
/// January south of it. The daily range is (K/0.16)² °C (Allen et al. 1998, eq. 50, solved for the range), limited to 5
/// to 18 °C.
#[must_use]
pub fn estimate(latitude_deg: f64, altitude_m: f64, clearness: &Monthly<f64>) -> MonthlyAir {
    let of_year = EQUATOR_C - FALL_C_PER_DEG2 * latitude_deg * latitude_deg - LAPSE_C_M * altitude_m;
    let season = SEASON_C_PER_DEG * latitude_deg;
    let mean_c = Monthly::from_fn(|m: Month| {
        let after_july = f64::from(m.number()) - f64::from(Month::July.number());
        of_year + season * (PI / 6.0 * after_july).cos()
    });
    MonthlyAir::from_mean(mean_c, clearness)
}

/// Air temperature of every hour \[°C\]. Each month keeps its mean, and its daily minima and maxima keep their means.
pub(crate) fn hours(air: &MonthlyAir, suns: &HourlySun, clearness: &[f64], seed: u32) -> Vec<f64> {
    let mut draws = Draws::new(seed, PURPOSE_AIR);
    let mut noise = AutoregressiveNoise::new(DAYS_MEMORY, &mut draws);
    let anomaly_c: Vec<f64> = (0..suns.days()).map(|_| DAYS_C * noise.next(&mut draws)).collect();
    // Clear days have a larger range.
    let monthly = suns.by_month(|d| clearness[d]);
    let swing: Vec<f64> = (0..suns.days())
        .map(|d| (clearness[d] / f64::max(monthly[suns.month_of_day[d]], 0.05)).clamp(0.3, 1.5))
        .collect();
    let (mean_anomaly_c, mean_swing) = (suns.by_month(|d| anomaly_c[d]), suns.by_month(|d| swing[d]));
    let shapes: Monthly<[f64; HOURS]> = Monthly::from_fn(|m| shape(air, m, suns.ahead_h));
    let mut out = Vec::with_capacity(suns.days() * HOURS);
    for (day, &m) in suns.month_of_day.iter().enumerate() {
        let of_day_c = air.mean_c[m] + anomaly_c[day] - mean_anomaly_c[m];
        let range_c = (air.high_c[m] - air.low_c[m]) * swing[day] / mean_swing[m];
        out.extend(shapes[m].iter().map(|share| of_day_c + range_c * share));
    }
    out
}

/// The daily course of a month, as shares of the range about its mean.
///
/// A half wave rises from 05:30 to 14:30 solar time and another falls back. The wave is raised to the power that gives
/// the month's mean.
fn shape(air: &MonthlyAir, month: Month, ahead_h: f64) -> [f64; HOURS] {
    let wave: [f64; HOURS] = std::array::from_fn(|h| {
        let sun_h = (f64::from(u8::try_from(h).unwrap_or(0)) + 0.5 + ahead_h).rem_euclid(24.0);
        let rising = (sun_h - COLDEST_H).rem_euclid(24.0) / (WARMEST_H - COLDEST_H);
        let falling = (sun_h - WARMEST_H).rem_euclid(24.0) / (24.0 - WARMEST_H + COLDEST_H);
        0.5 - 0.5
            * if rising < 1.0 {
                (PI * rising).cos()
            } else {
                -(PI * falling).cos()
            }
    });
    let (least, most) = wave.iter().fold((1.0, 0.0), |(a, b), &w| (f64::min(a, w), f64::max(b, w)));
    let of_range = wave.map(|w| (w - least) / (most - least));
    let mean_at = |power: f64| of_range.iter().map(|w| w.powf(power)).sum::<f64>() / 24.0;
    let wanted = (air.mean_c[month] - air.low_c[month]) / (air.high_c[month] - air.low_c[month]);
    let power = root::bracketed_within(1e-9, 0.05, 20.0, |power| mean_at(power) - wanted).unwrap_or(1.0);
    let mean = mean_at(power);
    of_range.map(|w| w.powf(power) - mean)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_estimate_by_hand() {
        // 30° S at 1000 m: 27 − 6.93 − 6.5 = 13.57; January 13.57 + 7.8, July 13.57 − 7.8; K 0.6: range 14.0625.
        let air = estimate(-30.0, 1000.0, &Monthly::from_array([0.6; 12]));
        assert!((air.mean_c[Month::January] - 21.37).abs() < 1e-9 && (air.mean_c[Month::July] - 5.77).abs() < 1e-9);
        assert!((air.high_c[Month::April] - air.low_c[Month::April] - 14.0625).abs() < 1e-9);
        // K 0.2 would give a range of 1.6 °C, K 0.8 one of 25 °C.
        let dull = MonthlyAir::from_mean(Monthly::from_array([10.0; 12]), &Monthly::from_array([0.2; 12]));
        let clear = MonthlyAir::from_mean(Monthly::from_array([10.0; 12]), &Monthly::from_array([0.8; 12]));
        assert!((dull.high_c[Month::January] - 12.5).abs() < 1e-9 && (clear.low_c[Month::January] - 1.0).abs() < 1e-9);
    }

    #[test]
    fn a_mean_outside_the_daily_range_is_a_fault() {
        let faults = MonthlyAir::new(
            Monthly::from_array([10.0; 12]),
            Monthly::from_array([12.0; 12]),
            Monthly::from_array([25.0; 12]),
        )
        .unwrap_err();
        assert!(
            faults[0].to_string().contains("10 °C with days from 12 to 25 °C"),
            "{}",
            faults[0]
        );
        assert!(
            MonthlyAir::new(
                Monthly::from_array([18.0; 12]),
                Monthly::from_array([12.0; 12]),
                Monthly::from_array([25.0; 12])
            )
            .is_ok()
        );
        assert!(
            MonthlyAir::new(
                Monthly::from_array([18.0; 12]),
                Monthly::from_array([25.0; 12]),
                Monthly::from_array([12.0; 12])
            )
            .is_err()
        );
    }
}
