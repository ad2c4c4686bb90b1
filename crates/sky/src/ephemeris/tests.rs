use solar_positioning::{Location, RefractionCorrection};

use super::*;
use crate::plane::Plane;
use daylift_units::constants::pressure_at_altitude_pa;

/// 17 October 2003, 12:30:30 at UTC−7 (Reda & Andreas 2004, Table A5.1).
const EXAMPLE_UNIX_S: f64 = 1_066_419_030.0;

fn example() -> SunPosition {
    let observer = Observer::new(39.742_476, -105.1786, 1830.14, 11.0).unwrap();
    // The table starts with that year in UTC−7, so that the example is far from its ends.
    Ephemeris::new(1_041_404_400.0, 365.0 * DAY_S).position(&observer, EXAMPLE_UNIX_S)
}

#[test]
fn the_published_example_of_the_algorithm() {
    // Reda & Andreas 2004, Table A5.1. Their 820 mbar instead of 811.9 mbar of the standard atmosphere makes 0.00016°.
    let sun = example();
    assert!((sun.zenith_deg() - 50.111_62).abs() < 0.001, "{sun:?}");
    assert!((sun.azimuth_deg() - 194.340_24).abs() < 0.001, "{sun:?}");
    assert!((sun.distance_au - 0.996_542_297_4).abs() < 1e-8, "{sun:?}");
}

#[test]
fn incidence_of_the_published_example() {
    // Slope 30°, rotated −10° from south with west positive, which is 170° from north: 25.18700°.
    let plane = Plane::new(30.0, 170.0, 0.2).unwrap();
    let incidence_deg = plane.incidence_cos(&example()).acos().to_degrees();
    assert!((incidence_deg - 25.187_00).abs() < 0.001, "{incidence_deg}");
}

#[test]
fn hour_angle_and_nutation_of_the_published_example() {
    // Reda & Andreas 2004, Table A5.1: H = 11.105902°, Δψ = −0.003998404°.
    let place = Ephemeris::new(EXAMPLE_UNIX_S, DAY_S).place(EXAMPLE_UNIX_S);
    let greenwich_rad = mean_sidereal_rad(EXAMPLE_UNIX_S) - place.right_ascension_rad;
    let hour_angle_deg = (greenwich_rad.to_degrees() - 105.1786).rem_euclid(360.0);
    assert!((hour_angle_deg - 11.105_902).abs() < 0.0002, "{hour_angle_deg}");
    let nutation_deg = nutation_in_longitude_deg(days_after_j2000(EXAMPLE_UNIX_S));
    assert!((nutation_deg + 0.003_998_404).abs() < 0.5 / 3600.0, "{nutation_deg}");
}

#[test]
fn agrees_with_the_full_algorithm_over_years_and_latitudes() {
    let mut worst_zenith_deg = 0.0_f64;
    let mut worst_azimuth_deg = 0.0_f64;
    let mut compared = 0;
    for year in (0..=70).step_by(5) {
        let start_unix_s = 631_152_000.0 + f64::from(year) * 365.25 * DAY_S; // about 1 January 1990 and on
        let ephemeris = Ephemeris::new(start_unix_s, 366.0 * DAY_S);
        for instant in 0..500 {
            // A step that has no common period with the day or the knots.
            let unix_s = start_unix_s + f64::from(instant) * 63_211.7;
            let date = JulianDate::new(unix_s / DAY_S + UNIX_EPOCH_JD, DELTA_T_S).unwrap();
            let full = SolarPositions::new().for_time_from_julian(date).unwrap();
            for (place, latitude_deg) in (-65..=65).step_by(13).map(f64::from).enumerate() {
                let longitude_deg = f64::from(instant * 37 % 360 - 180);
                let altitude_m = [0.0, 900.0, 3800.0][place % 3];
                let location = Location {
                    latitude: latitude_deg,
                    longitude: longitude_deg,
                };
                let air = RefractionCorrection::new(pressure_at_altitude_pa(altitude_m) / 100.0, 17.0).unwrap();
                let bare = full.at(location, altitude_m, None).unwrap();
                if (bare.elevation_angle() + 0.833_37).abs() < 0.001 {
                    continue; // at the cutoff of refraction the algorithm itself jumps by half a degree
                }
                let expected = full.at(location, altitude_m, Some(air)).unwrap();
                let observer = Observer::new(latitude_deg, longitude_deg, altitude_m, 17.0).unwrap();
                let sun = ephemeris.position(&observer, unix_s);
                worst_zenith_deg = worst_zenith_deg.max((sun.zenith_deg() - expected.zenith_angle()).abs());
                if (10.0..170.0).contains(&expected.zenith_angle()) {
                    let turn_deg = (sun.azimuth_deg() - expected.azimuth() + 180.0).rem_euclid(360.0) - 180.0;
                    worst_azimuth_deg = worst_azimuth_deg.max(turn_deg.abs());
                }
                assert!((sun.zenith_cos.acos().to_degrees() - sun.zenith_deg()).abs() < 1e-5);
                assert!((sun.zenith_cos.hypot(sun.zenith_sin) - 1.0).abs() < 1e-12);
                compared += 1;
            }
        }
    }
    assert!(compared > 80_000);
    assert!(worst_zenith_deg < 0.001, "zenith off by {worst_zenith_deg}°");
    assert!(worst_azimuth_deg < 0.001, "azimuth off by {worst_azimuth_deg}°");
}

#[test]
fn the_distance_agrees_with_the_full_algorithm() {
    let ephemeris = Ephemeris::new(1_735_689_600.0, 365.0 * DAY_S);
    for hour in (0..8760).step_by(7) {
        let unix_s = 1_735_689_600.0 + f64::from(hour) * 3600.0;
        let date = JulianDate::new(unix_s / DAY_S + UNIX_EPOCH_JD, DELTA_T_S).unwrap();
        let full = SolarPositions::new().for_time_from_julian(date).unwrap();
        let distance_au = ephemeris.place(unix_s).distance_au;
        assert!((distance_au - full.earth_radius_vector().unwrap()).abs() < 1e-8);
    }
}

#[test]
fn nonsensical_instants_still_give_a_finite_position() {
    let observer = Observer::new(-15.0, 28.0, 1200.0, 21.0).unwrap();
    for ephemeris in [Ephemeris::new(f64::NAN, f64::NAN), Ephemeris::new(1e300, -1.0)] {
        for unix_s in [f64::NAN, f64::INFINITY, -1e12, 0.0, 1e12] {
            let sun = ephemeris.position(&observer, unix_s);
            assert!(sun.elevation_deg.is_finite() && sun.azimuth_rad.is_finite() && sun.distance_au > 0.9);
        }
    }
}
