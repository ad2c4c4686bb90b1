//! Properties of every generated year.

use daylift_units::{Axis, Month, Monthly, Step};
use proptest::prelude::*;

use super::air::MonthlyAir;
use super::{Climate, HOURS, HourlySun, MonthlySun, daily, year};
use crate::{Ephemeris, Observer, WeatherSeries};

fn suns(latitude_deg: f64, longitude_deg: f64) -> HourlySun {
    #[expect(clippy::cast_possible_truncation, reason = "hours of the day")]
    let offset_s = (longitude_deg / 15.0).round() as i32 * 3600;
    let axis = Axis::new(2025, 365, offset_s, "UTC", Step::Hour).unwrap();
    let observer = Observer::new(latitude_deg, longitude_deg, 500.0, 20.0).unwrap();
    #[expect(clippy::cast_precision_loss, reason = "seconds of our time are exact in f64")]
    let ephemeris = Ephemeris::new(axis.start_unix_s() as f64, axis.length_s());
    HourlySun::new(&ephemeris, &observer, (latitude_deg, longitude_deg), &axis)
}

/// A climate with the same clearness, and the same spread of it, all year.
fn climate(suns: &HourlySun, clearness: f64, spread: f64) -> Climate {
    let outside = suns.outside_by_day();
    let outside = suns.by_month(|day| outside[day]);
    Climate {
        sun: MonthlySun {
            mean_w_m2: outside.map(|_, w| clearness * w),
            spread_w_m2: outside.map(|_, w| spread * w),
        },
        air: MonthlyAir::new(
            Monthly::from_array([20.0; 12]),
            Monthly::from_array([13.0; 12]),
            Monthly::from_array([28.0; 12]),
        )
        .unwrap(),
        wind_m_s: Monthly::from_array([2.0; 12]),
    }
}

/// Monthly means.
fn monthly(suns: &HourlySun, values: &[f64]) -> Monthly<f64> {
    let by_day: Vec<f64> = values.chunks(HOURS).map(|day| day.iter().sum::<f64>() / 24.0).collect();
    suns.by_month(|day| by_day[day])
}

fn extremes(suns: &HourlySun, made: &WeatherSeries, of: fn(f64, f64) -> f64) -> Monthly<f64> {
    let by_day: Vec<f64> = made.air_c.chunks(HOURS).map(|day| day.iter().copied().reduce(of).unwrap()).collect();
    suns.by_month(|day| by_day[day])
}

#[test]
fn the_days_have_the_requested_spread_and_correlation() {
    let suns = suns(-15.0, 28.0);
    let outside = suns.outside_by_day();
    for (clearness, spread) in [(0.45, 0.15), (0.6, 0.12), (0.7, 0.06)] {
        let climate = climate(&suns, clearness, spread);
        let (mut squares, mut memory, mut days) = (0.0, 0.0, 0.0);
        for seed in 0..20 {
            let k = daily::clearness(&climate.sun, &suns, &outside, seed);
            let off: Vec<f64> = k.iter().map(|k| k - clearness).collect();
            squares += off.iter().map(|x| x * x).sum::<f64>();
            memory += off.windows(2).map(|x| x[0] * x[1]).sum::<f64>();
            days += 365.0;
        }
        // Fixing each month's mean reduces the variance of its days by about (1 + φ)/(1 − φ)/30 = 6 %.
        let found = (squares / days / 0.94).sqrt();
        assert!((found / spread - 1.0).abs() < 0.05, "spread {spread}: {found}");
        // Less than 0.29: the clearness is a nonlinear function of the noise, and the month's mean is subtracted.
        let found = memory / squares;
        assert!((0.15..0.33).contains(&found), "memory {found}");
    }
}

#[test]
fn the_clearest_day_follows_the_published_equation() {
    // Worked by hand from the equation: K̄ 0.5: 0.6313 + 0.1335 − 11.9·0.25⁸ = 0.764618.
    assert!((daily::clearest(0.5) - 0.764_618).abs() < 1e-6);
    assert!((daily::clearest(0.75) - 0.831_55).abs() < 1e-9);
}

#[test]
fn the_days_of_a_month_are_close_to_those_of_bendt() {
    // Bendt, Collares-Pereira & Rabl 1981 (from memory, as in Duffie & Beckman 2013, §2.9). The share of days duller
    // than K is (e^(γ·K_min) − e^(γ·K))/(e^(γ·K_min) − e^(γ·K_max)), with γ = −1.498 + (1.184·ξ −
    // 27.182·e^(−1.5·ξ))/(K_max − K_min) and ξ = (K_max − K_min)/(K_max − K̄). With that distribution's own spread
    // (0.184 at K̄ 0.5, integrated), the shares agree within 0.05.
    let (mean, most, least) = (0.5_f64, 0.764_618_f64, 0.05_f64);
    let xi = (most - least) / (most - mean);
    let gamma = -1.498 + (1.184 * xi - 27.182 * (-1.5 * xi).exp()) / (most - least);
    let share = |k: f64| ((gamma * least).exp() - (gamma * k).exp()) / ((gamma * least).exp() - (gamma * most).exp());
    let parts = 2000;
    let (mut first, mut second) = (0.0, 0.0);
    for i in 0..parts {
        let at = |i: i32| least + (most - least) * f64::from(i) / f64::from(parts);
        let (k, p) = (0.5 * (at(i) + at(i + 1)), share(at(i + 1)) - share(at(i)));
        first += p * k;
        second += p * k * k;
    }
    let spread = (second - first * first).sqrt();
    assert!((first - mean).abs() < 0.01, "{first}");
    let suns = suns(0.0, 0.0);
    let outside = suns.outside_by_day();
    let climate = climate(&suns, mean, spread);
    let mut days: Vec<f64> = (0..30).flat_map(|seed| daily::clearness(&climate.sun, &suns, &outside, seed)).collect();
    days.sort_by(f64::total_cmp);
    for k in [0.2, 0.3, 0.4, 0.5, 0.6, 0.7] {
        let ours = days.partition_point(|&d| d < k) as f64 / days.len() as f64;
        assert!((ours - share(k)).abs() < 0.05, "{k}: {ours} against {}", share(k));
    }
}

#[test]
fn impossible_means_are_a_fault_that_names_the_months() {
    let suns = suns(40.0, 0.0);
    let mut wrong = climate(&suns, 0.5, 0.1);
    wrong.sun.mean_w_m2[Month::December] *= 2.0;
    let faults = year(&wrong, &suns, 1).unwrap_err();
    assert_eq!((faults.len(), faults[0].key.as_str()), (1, "daily_ghi_kwh_m2"));
    // December at 40° N: about 3.8 kWh/m² a day outside the atmosphere; the climate demands all of it.
    let text = faults[0].to_string();
    assert!(
        text.contains("3.82 kWh/m² a day in December; allowed: in December 0.27 to 3.21"),
        "{text}"
    );
    wrong.sun.mean_w_m2 = Monthly::from_array([0.0; 12]);
    assert!(year(&wrong, &suns, 1).unwrap_err()[0].to_string().contains("in every month"));
}

#[test]
fn a_polar_night_is_dark_and_its_summer_is_not() {
    let suns = suns(65.9, 24.0);
    let made = year(&climate(&suns, 0.4, 0.12), &suns, 3).unwrap();
    let means = monthly(&suns, &made.ghi_w_m2);
    assert!(means[Month::December] < 2.0 && means[Month::June] > 150.0, "{means:?}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]
    #[test]
    fn months_keep_their_means_and_hours_stay_within_bounds(
        latitude_deg in -60.0..60.0_f64,
        longitude_deg in -179.0..179.0_f64,
        clearness in 0.15..0.78_f64,
        spread in 0.0..0.3_f64,
        seed in any::<u32>(),
    ) {
        let suns = suns(latitude_deg, longitude_deg);
        let climate = climate(&suns, clearness, spread);
        let made = year(&climate, &suns, seed).unwrap();
        let means = monthly(&suns, &made.ghi_w_m2);
        for (mean, wanted) in means.values().zip(climate.sun.mean_w_m2.values()) {
            prop_assert!((mean / wanted - 1.0).abs() < 1e-9, "{mean} {wanted}");
        }
        for (hour, &ghi) in made.ghi_w_m2.iter().enumerate() {
            let outside = suns.outside_w_m2[hour];
            prop_assert!(ghi >= 0.0 && ghi <= 0.95 * outside * (1.0 + 1e-9), "hour {hour}: {ghi} of {outside}");
            prop_assert!(outside > 0.0 || ghi == 0.0);
        }
        let air = monthly(&suns, &made.air_c);
        let (low, high) = (extremes(&suns, &made, f64::min), extremes(&suns, &made, f64::max));
        for month in Month::ALL {
            prop_assert!((air[month] - 20.0).abs() < 1e-6);
            prop_assert!((low[month] - 13.0).abs() < 1e-6 && (high[month] - 28.0).abs() < 1e-6, "{} {}", low[month], high[month]);
        }
        let again = year(&climate, &suns, seed).unwrap();
        prop_assert!(made == again);
        let other = year(&climate, &suns, seed.wrapping_add(1)).unwrap();
        prop_assert!(made.ghi_w_m2 != other.ghi_w_m2);
    }
}
