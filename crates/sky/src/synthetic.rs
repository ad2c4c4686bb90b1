//! A year of hourly weather generated from twelve monthly means, for a place without a weather file.
//!
//! Global horizontal irradiance is drawn for each day (`daily`), then for each hour of the day (`hourly`); every month
//! keeps the given mean. Air temperature follows the month, the day's clearness and the hour (`air`). Direct and
//! diffuse light are split afterwards, as for a file without them. The same climate, place and seed give the same year.

pub mod air;
pub mod daily;
pub mod hourly;
#[cfg(test)]
mod tests;

use daylift_units::constants::{DAY_S, HOUR_S};
use daylift_units::fields::weather::DAILY_GHI;
use daylift_units::{Axis, Fault, Month, Monthly};

use crate::ephemeris::Ephemeris;
use crate::sun::Observer;
use crate::weather::WeatherSeries;
use air::MonthlyAir;

pub(crate) const HOURS: usize = 24;

/// Random stream for each purpose.
const PURPOSE_DAYS: u64 = 1;
const PURPOSE_HOURS: u64 = 2;
const PURPOSE_AIR: u64 = 3;

/// Monthly sunlight: mean of all hours, and standard deviation of the daily means \[W/m²\].
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct MonthlySun {
    /// Global horizontal irradiance, mean over day and night.
    pub mean_w_m2: Monthly<f64>,
    /// Standard deviation of the daily means within the month.
    pub spread_w_m2: Monthly<f64>,
}

impl MonthlySun {
    pub(crate) fn add(&mut self, other: &Self, weight: f64) {
        for month in Month::ALL {
            self.mean_w_m2[month] += weight * other.mean_w_m2[month];
            self.spread_w_m2[month] += weight * other.spread_w_m2[month];
        }
    }

    pub(crate) fn scale(&mut self, factor: f64) {
        for value in self.mean_w_m2.values_mut().chain(self.spread_w_m2.values_mut()) {
            *value *= factor;
        }
    }
}

/// The known climate of a place, by month.
#[derive(Debug, Clone, PartialEq)]
pub struct Climate {
    /// Sunlight.
    pub sun: MonthlySun,
    /// Air temperature.
    pub air: MonthlyAir,
    /// Wind speed, constant within each month \[m/s\].
    pub wind_m_s: Monthly<f64>,
}

/// The sun over a place at the middle of every hour of a year.
pub struct HourlySun {
    /// Latitude \[°\].
    latitude_deg: f64,
    /// Cosine of the zenith angle.
    zenith_cos: Vec<f64>,
    /// Extraterrestrial irradiance on the horizontal, 0 where the sun is down \[W/m²\].
    outside_w_m2: Vec<f64>,
    /// Month of each day.
    month_of_day: Vec<Month>,
    /// How far solar time is ahead of the clock \[h\], from the longitude and without the equation of time.
    ahead_h: f64,
    utc_offset_s: i32,
}

impl HourlySun {
    /// The sun at the middle of every hour of an axis, seen from a place (latitude, longitude \[°\]).
    #[must_use]
    pub fn new(ephemeris: &Ephemeris, observer: &Observer, place: (f64, f64), axis: &Axis) -> Self {
        let (latitude_deg, longitude_deg) = place;
        #[expect(clippy::cast_precision_loss, reason = "seconds of our time are exact in f64")]
        let start_s = axis.start_unix_s() as f64;
        let offset_s = start_s.rem_euclid(DAY_S);
        // At the axis's midnight, UTC is −offset, up to half a day and a little more away.
        let utc_offset_s = if offset_s > 0.45 * DAY_S {
            DAY_S - offset_s
        } else {
            -offset_s
        };
        let hours = axis.days() as usize * HOURS;
        let (mut zenith_cos, mut outside_w_m2) = (Vec::with_capacity(hours), Vec::with_capacity(hours));
        let mut middle_s = start_s + 0.5 * HOUR_S;
        for _ in 0..hours {
            let sun = ephemeris.position(observer, middle_s);
            zenith_cos.push(sun.zenith_cos);
            outside_w_m2.push(sun.extraterrestrial_w_m2() * sun.zenith_cos.max(0.0));
            middle_s += HOUR_S;
        }
        #[expect(clippy::cast_possible_truncation, reason = "an offset is less than a day")]
        Self {
            latitude_deg,
            zenith_cos,
            outside_w_m2,
            month_of_day: Month::of_days(axis.days()),
            ahead_h: longitude_deg / 15.0 - utc_offset_s / HOUR_S,
            utc_offset_s: utc_offset_s as i32,
        }
    }

    /// Number of days.
    #[must_use]
    pub fn days(&self) -> usize {
        self.month_of_day.len()
    }

    /// Mean clearness of each month: its irradiance divided by the extraterrestrial one; 0 in a polar night.
    #[must_use]
    pub fn clearness(&self, sun: &MonthlySun) -> Monthly<f64> {
        let outside_w_m2 = self.outside_by_day();
        let outside_w_m2 = self.by_month(|day| outside_w_m2[day]);
        Monthly::from_fn(|m: Month| {
            if outside_w_m2[m] > DARK_W_M2 {
                sun.mean_w_m2[m] / outside_w_m2[m]
            } else {
                0.0
            }
        })
    }

    /// Mean extraterrestrial irradiance on the horizontal, for each day \[W/m²\].
    fn outside_by_day(&self) -> Vec<f64> {
        self.outside_w_m2.chunks(HOURS).map(|day| day.iter().sum::<f64>() / 24.0).collect()
    }

    /// Monthly means of a daily value.
    fn by_month(&self, daily: impl Fn(usize) -> f64) -> Monthly<f64> {
        let (mut sums, mut days) = (Monthly::<f64>::default(), Monthly::<f64>::default());
        for (day, &month) in self.month_of_day.iter().enumerate() {
            sums[month] += daily(day);
            days[month] += 1.0;
        }
        Monthly::from_fn(|month: Month| sums[month] / f64::max(days[month], 1.0))
    }
}

/// Generates a year of hours: global irradiance, air temperature and wind. Direct and diffuse irradiance are left
/// empty.
///
/// # Errors
/// A fault that names the months whose mean is outside what the sky can give.
pub fn year(climate: &Climate, suns: &HourlySun, seed: u32) -> Result<WeatherSeries, Vec<Fault>> {
    let outside_w_m2 = suns.outside_by_day();
    possible(&climate.sun, &suns.by_month(|day| outside_w_m2[day]))?;
    let clearness = daily::clearness(&climate.sun, suns, &outside_w_m2, seed);
    let wind = suns.month_of_day.iter().flat_map(|&m| [climate.wind_m_s[m]; HOURS]);
    Ok(WeatherSeries {
        interval_s: 3600,
        utc_offset_s: suns.utc_offset_s,
        ghi_w_m2: hourly::irradiance(suns, &clearness, seed),
        dni_w_m2: Vec::new(),
        dhi_w_m2: Vec::new(),
        air_c: air::hours(&climate.air, suns, &clearness, seed),
        wind_m_s: wind.collect(),
    })
}

/// A fault when a monthly mean is impossible under any sky.
fn possible(sun: &MonthlySun, outside_w_m2: &Monthly<f64>) -> Result<(), Vec<Fault>> {
    let most = |m: Month| (daily::GREATEST_MEAN * outside_w_m2[m]).max(DARK_W_M2);
    let least = |m: Month| {
        if outside_w_m2[m] > DARK_W_M2 {
            daily::LEAST_MEAN * outside_w_m2[m]
        } else {
            0.0
        }
    };
    let wrong: Vec<Month> = Month::ALL
        .into_iter()
        .filter(|&m| !(least(m)..=most(m)).contains(&sun.mean_w_m2[m]))
        .collect();
    let Some(&first) = wrong.first() else {
        return Ok(());
    };
    let kwh = |w_m2: f64| format!("{:.2}", w_m2 / DAILY_GHI.unit.factor);
    Err(vec![Fault::new(
        DAILY_GHI.key,
        DAILY_GHI.quantity,
        format!(
            "{} {} {}",
            kwh(sun.mean_w_m2[first]),
            DAILY_GHI.unit.symbol,
            Month::in_words(&wrong)
        ),
        format!(
            "in {} {} to {} {}, of {} outside the atmosphere",
            first.name(),
            kwh(least(first)),
            kwh(most(first)),
            DAILY_GHI.unit.symbol,
            kwh(outside_w_m2[first])
        ),
        "give means of days, not sums of months, January first; check the latitude's sign",
    )])
}

/// A month with less than this outside the atmosphere is a polar night \[W/m²\].
const DARK_W_M2: f64 = 1.0;
