use daylift_units::Step;

use super::*;
use crate::fixture::{Place, cloudless};
use crate::sharing::block_means;
use crate::{Plane, PlaneYear, Weather, WeatherSeries};

fn sky(place: &Place, weather: &Weather, step: Step) -> SkyYear {
    SkyYear::new(weather, &place.ephemeris, &place.observer, &place.axis.with_step(step))
}

fn weather_of(place: &Place, change: impl Fn(&mut WeatherSeries)) -> Weather {
    let weather = &place.weather;
    let mut series = WeatherSeries {
        interval_s: weather.interval_s(),
        utc_offset_s: weather.utc_offset_s(),
        ghi_w_m2: weather.ghi_w_m2().to_vec(),
        dni_w_m2: weather.dni_w_m2().to_vec(),
        dhi_w_m2: weather.dhi_w_m2().to_vec(),
        air_c: weather.air_c().to_vec(),
        wind_m_s: weather.wind_m_s().to_vec(),
    };
    change(&mut series);
    Weather::new(series).unwrap()
}

#[test]
fn at_the_steps_of_the_file_values_are_unchanged() {
    let place = cloudless(-15.6, 28.3);
    let year = sky(&place, &place.weather, Step::Hour);
    assert_eq!(year.ghi_w_m2, place.weather.ghi_w_m2());
    assert_eq!(year.dni_w_m2, place.weather.dni_w_m2());
    assert_eq!(year.air_c, place.weather.air_c());
    assert!(year.dropped_j_m2.abs() < 1e-9);
    assert!((year.ghi_j_m2() - place.weather.ghi_j_m2()).abs() < 1.0);
}

#[test]
fn each_hour_with_sun_keeps_its_mean_at_ten_minutes_and_at_one() {
    // Every third hour is darkened as by clouds, so that clearness varies.
    let place = cloudless(35.0, -101.7);
    let cloudy = weather_of(&place, |series| {
        for hour in (0..8760).step_by(3) {
            series.ghi_w_m2[hour] *= 0.37;
            series.dni_w_m2[hour] *= 0.05;
            series.dhi_w_m2[hour] *= 1.4;
        }
    });
    for (step, parts) in [(Step::TenMinutes, 6), (Step::Minute, 60)] {
        let year = sky(&place, &cloudy, step);
        assert_eq!(year.steps(), 8760 * parts);
        for (values, means) in [
            (&year.ghi_w_m2, cloudy.ghi_w_m2()),
            (&year.dni_w_m2, cloudy.dni_w_m2()),
            (&year.dhi_w_m2, cloudy.dhi_w_m2()),
        ] {
            let mut lit = 0;
            for (hour, (part, &mean)) in values.chunks(parts).zip(means).enumerate() {
                assert!(
                    part.iter()
                        .enumerate()
                        .all(|(i, &v)| v >= 0.0 && (v == 0.0 || year.is_up(hour * parts + i)))
                );
                if (hour * parts..(hour + 1) * parts).any(|i| year.is_up(i)) {
                    let kept = part.iter().sum::<f64>() / f64::from(u32::try_from(parts).unwrap());
                    assert!(
                        (kept - mean).abs() <= 1e-12 * mean,
                        "hour {hour}: {kept} against {mean}"
                    );
                    lit += 1;
                }
            }
            assert!(lit > 4300);
        }
        let whole = year.ghi_j_m2() + year.dropped_j_m2;
        assert!((whole / cloudy.ghi_j_m2() - 1.0).abs() < 1e-12);
    }
}

#[test]
fn constant_clearness_is_reproduced_at_every_step() {
    // Hourly means of 0.6·E0·cos z over the true path of the sun; distribution among the steps must reproduce the path.
    let place = cloudless(-15.6, 28.3);
    let sun = sky(&place, &place.weather, Step::TenMinutes);
    let path: Vec<f64> = sun.potential(|c| 0.6 * c);
    let steady = weather_of(&place, |series| series.ghi_w_m2 = block_means(&path, 6));
    let year = sky(&place, &steady, Step::TenMinutes);
    for (shared, wanted) in year.ghi_w_m2.iter().zip(&path) {
        assert!((shared - wanted).abs() < 1e-9, "{shared} against {wanted}");
    }
}

#[test]
fn light_in_hours_without_sun_is_dropped_and_reported() {
    let place = cloudless(-15.6, 28.3);
    // 5 W/m² in the hour from 00:00 of every day: 365 · 5 W/m² · 3600 s = 6.57 MJ/m².
    let glowing = weather_of(&place, |series| {
        for hour in (0..8760).step_by(24) {
            series.ghi_w_m2[hour] = 5.0;
        }
    });
    for step in [Step::Hour, Step::TenMinutes] {
        let year = sky(&place, &glowing, step);
        assert!((year.dropped_j_m2 - 6.57e6).abs() < 1e-3, "{}", year.dropped_j_m2);
        assert!((year.ghi_j_m2() - place.weather.ghi_j_m2()).abs() < 1.0);
    }
}

#[test]
fn temperature_is_interpolated_between_the_middles_of_the_hours() {
    let place = cloudless(-15.6, 28.3);
    let year = sky(&place, &place.weather, Step::TenMinutes);
    let hours = place.weather.air_c();
    for hour in 1..8759 {
        // The two parts next to the hour's middle are a twelfth of an hour from it.
        let after = hours[hour] + (hours[hour + 1] - hours[hour]) / 12.0;
        let before = hours[hour] + (hours[hour - 1] - hours[hour]) / 12.0;
        assert!((year.air_c[hour * 6 + 3] - after).abs() < 1e-12 && (year.air_c[hour * 6 + 2] - before).abs() < 1e-12);
    }
    assert!(year.wind_m_s.iter().all(|&v| (v - 2.0).abs() < 1e-12));
}

#[test]
fn weather_finer_than_the_step_is_averaged() {
    let place = cloudless(-15.6, 28.3);
    let fine = sky(&place, &place.weather, Step::TenMinutes);
    let weather = weather_of(&place, |series| {
        series.interval_s = 600;
        series.ghi_w_m2.clone_from(&fine.ghi_w_m2);
        series.dni_w_m2 = fine.dni_w_m2.iter().map(|v| v.min(1500.0)).collect();
        series.dhi_w_m2.clone_from(&fine.dhi_w_m2);
        series.air_c.clone_from(&fine.air_c);
        series.wind_m_s.clone_from(&fine.wind_m_s);
    });
    let year = sky(&place, &weather, Step::Hour);
    assert_eq!(year.steps(), 8760);
    for (mean, hour) in year.ghi_w_m2.iter().zip(place.weather.ghi_w_m2()) {
        assert!((mean - hour).abs() < 1e-9);
    }
    let minute = sky(&place, &weather, Step::Minute);
    for (part, ten) in minute.ghi_w_m2.chunks(10).zip(weather.ghi_w_m2()) {
        assert!((part.iter().sum::<f64>() / 10.0 - ten).abs() <= 1e-12 * ten || *ten < 1.0);
    }
}

#[test]
fn the_yearly_light_on_a_plane_hardly_depends_on_the_step() {
    // Hourly light with the sun at the hour's middle, compared with its path minute by minute.
    let place = cloudless(-15.6, 28.3);
    let plane = Plane::new(20.0, 0.0, 0.2).unwrap();
    let sum = |step: Step| {
        let year = sky(&place, &place.weather, step);
        PlaneYear::new(&year, &plane).plane_w_m2.iter().sum::<f64>() * year.step_s
    };
    let (hour, ten, one) = (sum(Step::Hour), sum(Step::TenMinutes), sum(Step::Minute));
    assert!((ten / one - 1.0).abs() < 1e-3, "{ten} {one}");
    assert!((hour / one - 1.0).abs() < 1e-2, "{hour} {one}");
}
