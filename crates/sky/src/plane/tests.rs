use proptest::prelude::*;

use super::*;
use crate::fixture::cloudless;
use crate::{Observer, SkyYear};

/// The sun from latitude, declination and hour angle, positive in the afternoon (Duffie & Beckman 2013, eq. 1.6.5 and
/// 1.6.6): no parallax, no refraction.
fn textbook_sun(latitude_deg: f64, declination_deg: f64, hour_angle_deg: f64) -> SunPosition {
    let (sin_l, cos_l) = latitude_deg.to_radians().sin_cos();
    let (sin_d, cos_d) = declination_deg.to_radians().sin_cos();
    let (sin_h, cos_h) = hour_angle_deg.to_radians().sin_cos();
    let zenith_deg = (sin_l * sin_d + cos_l * cos_d * cos_h).acos().to_degrees();
    let azimuth_deg = (-cos_d * sin_h).atan2(sin_d * cos_l - cos_d * cos_h * sin_l).to_degrees();
    SunPosition::from_angles(zenith_deg, azimuth_deg, 1.0)
}

#[test]
fn each_invalid_value_of_a_plane_is_a_separate_fault() {
    let faults = Plane::new(-1.0, 400.0, f64::NAN).unwrap_err();
    let keys: Vec<&str> = faults.iter().map(|f| f.key.as_str()).collect();
    assert_eq!(keys, ["tilt_deg", "azimuth_deg", "albedo"]);
}

#[test]
fn zenith_and_azimuth_match_the_textbook() {
    // Duffie & Beckman, Example 1.6.2: 43° N, 13 February 9:30: 66.5° and 40.0° east of south (140° from north);
    // 1 July 18:30: 79.6° and 112.0° west of south (292°).
    let february = textbook_sun(43.0, -14.0, -37.5);
    assert!((february.zenith_deg() - 66.5).abs() < 0.1 && (february.azimuth_deg() - 140.0).abs() < 0.1);
    let july = textbook_sun(43.0, 23.1, 97.5);
    assert!((july.zenith_deg() - 79.6).abs() < 0.1 && (july.azimuth_deg() - 292.0).abs() < 0.1);
}

#[test]
fn incidence_matches_the_textbook() {
    // Duffie & Beckman, Examples 1.6.1 and 1.8.1: Madison, 43° N, 13 February (δ = −14°), 10:30 solar time, tilt 45°,
    // 15° west of south: cos θ = 0.817, θ = 35°, R_b = 0.817/0.491 = 1.66.
    let sun = textbook_sun(43.0, -14.0, -22.5);
    let incidence_cos = Plane::new(45.0, 195.0, 0.2).unwrap().incidence_cos(&sun);
    assert!((incidence_cos - 0.817).abs() < 0.001, "{incidence_cos}");
    assert!((incidence_cos / sun.zenith_cos - 1.66).abs() < 0.01);
}

#[test]
fn hay_davies_matches_a_textbook_hour() {
    // Duffie & Beckman, Examples 2.15.1 and 2.16.1: 40° N, 20 February (δ = −11.6°), 9–10 h, tilt 60° south, albedo
    // 0.6. In MJ/m²: I = 1.04, I_b = 0.244, I_d = 0.796, I_0 = 2.34. A_i = 0.104, R_b = 1.71, ground 0.156. Beam and
    // circumsolar: (I_b + I_d·A_i)·R_b = (0.244 + 0.796 · 0.1045) · 1.713 = 0.560. The sky's 0.567 in the example
    // includes the horizon factor 1 + 0.4843 · sin³ 30° = 1.0605, which Hay and Davies do not have: 0.567/1.0605 =
    // 0.535.
    let sun = textbook_sun(40.0, -11.6, -37.5);
    let plane = Plane::new(60.0, 180.0, 0.6).unwrap();
    let incidence_cos = plane.incidence_cos(&sun);
    assert!((incidence_cos / sun.zenith_cos - 1.71).abs() < 0.01);
    let light = Irradiance {
        ghi_w_m2: 1.04,
        dni_w_m2: 0.244 / sun.zenith_cos,
        dhi_w_m2: 0.796,
        extraterrestrial_w_m2: 2.34 / sun.zenith_cos,
    };
    let on_plane = plane.hay_davies(&light, sun.zenith_cos, incidence_cos);
    assert!((on_plane.beam_w_m2 - 0.417).abs() < 0.002, "{on_plane:?}");
    assert!(
        (on_plane.beam_w_m2 + on_plane.circumsolar_w_m2 - 0.560).abs() < 0.002,
        "{on_plane:?}"
    );
    assert!((on_plane.sky_w_m2 - 0.535).abs() < 0.002, "{on_plane:?}");
    assert!((on_plane.ground_w_m2 - 0.156).abs() < 0.001, "{on_plane:?}");
}

#[test]
fn perez_matches_the_same_hour_worked_by_hand() {
    // Worked by hand from Perez et al. (1990), no published source, with the textbook hour above: cos z = 0.4661, z =
    // 1.0859 rad, κ·z³ = 1.3331; DNI = 0.244/0.4661 = 0.5235; ε = (1.3195/0.796 + 1.3331)/2.3331 = 1.2819: third class.
    // m (Kasten & Young) = 2.1382; E0 = 2.34/0.4661 = 5.0204; Δ = 0.3390.
    // F1 = 0.330 + 0.487·0.3390 − 0.221·1.0859 = 0.2551; F2 = 0.055 − 0.064·0.3390 − 0.026·1.0859 = 0.00507.
    // Circumsolar 0.796·0.2551·1.713 = 0.3479; sky 0.796·0.7449·0.75 = 0.4447; horizon 0.796·0.00507·0.8660 = 0.0035.
    let sun = textbook_sun(40.0, -11.6, -37.5);
    let plane = Plane::new(60.0, 180.0, 0.6).unwrap();
    let light = Irradiance {
        ghi_w_m2: 1.04,
        dni_w_m2: 0.244 / sun.zenith_cos,
        dhi_w_m2: 0.796,
        extraterrestrial_w_m2: 2.34 / sun.zenith_cos,
    };
    let on_plane = plane.perez(&light, sun.zenith_cos, plane.incidence_cos(&sun));
    assert!((on_plane.beam_w_m2 - 0.417).abs() < 0.002, "{on_plane:?}");
    assert!((on_plane.circumsolar_w_m2 - 0.3479).abs() < 0.002, "{on_plane:?}");
    assert!((on_plane.sky_w_m2 - 0.4447).abs() < 0.002, "{on_plane:?}");
    assert!((on_plane.horizon_w_m2 - 0.0035).abs() < 0.0005, "{on_plane:?}");
    assert!((on_plane.ground_w_m2 - 0.156).abs() < 0.001, "{on_plane:?}");
}

#[test]
fn the_year_uses_the_sky_model_of_the_weather() {
    let place = cloudless(-15.6, 28.3);
    let plane = Plane::new(30.0, 90.0, 0.2).unwrap();
    let year = |model: SkyModel| {
        let weather = place.weather.clone().with_sky_model(model);
        let sky = SkyYear::new(&weather, &place.ephemeris, &place.observer, &place.axis);
        PlaneYear::new(&sky, &plane).plane_w_m2
    };
    let (hay, perez) = (year(SkyModel::HayDavies), year(SkyModel::Perez));
    let (sum, other): (f64, f64) = (hay.iter().sum(), perez.iter().sum());
    assert!((sum / other - 1.0).abs() < 0.05, "{sum} {other}");
    assert!(hay.iter().zip(&perez).filter(|(a, b)| (*a - *b).abs() > 1.0).count() > 1000);
}

#[test]
fn glass_reduces_each_component() {
    // Tilt 0, so the sky's effective angle is 59.7°; the sun's angle is 45°. With the sine and tangent form of De Soto
    // et al. (2006): τ(45°)/τ(0) = 0.987978, τ(59.7°)/τ(0) = 0.947543.
    let plane = Plane::new(0.0, 180.0, 0.2).unwrap();
    let on_plane = PlaneIrradiance {
        beam_w_m2: 100.0,
        circumsolar_w_m2: 10.0,
        sky_w_m2: 50.0,
        horizon_w_m2: 4.0,
        ground_w_m2: 0.0,
    };
    let through = plane.transmitted(&on_plane, 45.0_f64.to_radians().cos());
    assert!((through.beam_w_m2 - 98.7978).abs() < 1e-3 && (through.circumsolar_w_m2 - 9.879_78).abs() < 1e-4);
    assert!((through.sky_w_m2 - 47.3771).abs() < 1e-3, "{through:?}");
    assert!((through.horizon_w_m2 - 3.790_17).abs() < 1e-4, "{through:?}");
}

#[test]
fn south_of_the_equator_a_plane_faces_north() {
    // 15.6° S in June: the sun is in the north all day.
    let place = cloudless(-15.6, 28.3);
    let sky = SkyYear::new(&place.weather, &place.ephemeris, &place.observer, &place.axis);
    let june = 151 * 24..181 * 24;
    let sum = |azimuth_deg: f64| -> f64 {
        let plane = Plane::new(20.0, azimuth_deg, 0.2).unwrap();
        PlaneYear::new(&sky, &plane).absorbed_w_m2[june.clone()].iter().sum()
    };
    let flat: f64 = sky.ghi_w_m2[june.clone()].iter().sum();
    assert!(sum(0.0) > 1.05 * flat && sum(180.0) < 0.95 * flat);
    assert!(sum(0.0) > 1.3 * sum(180.0));
}

#[test]
fn an_error_of_half_an_hour_in_the_sun_shows_in_most_hours() {
    let place = cloudless(-15.6, 28.3);
    let slipped = Observer::new(-15.6, 28.3 + 7.5, 1200.0, 20.0).unwrap(); // 7.5° of longitude is half an hour
    let plane = Plane::new(20.0, 0.0, 0.2).unwrap();
    let light = |observer: &Observer| {
        let sky = SkyYear::new(&place.weather, &place.ephemeris, observer, &place.axis);
        PlaneYear::new(&sky, &plane).plane_w_m2
    };
    let right = light(&place.observer);
    let wrong = light(&slipped);
    let daylight: Vec<(f64, f64)> = right.into_iter().zip(wrong).filter(|(r, w)| *r > 0.0 || *w > 0.0).collect();
    assert!(daylight.len() > 4000);
    let seen = daylight.iter().filter(|(r, w)| (r - w).abs() > 0.5 + 0.001 * r).count();
    assert!(seen * 10 > daylight.len() * 8, "{seen} of {}", daylight.len());
}

proptest! {
    #[test]
    fn no_component_is_ever_negative_and_glass_never_adds(
        tilt_deg in 0.0..=90.0_f64,
        facing_deg in 0.0..=360.0_f64,
        zenith_deg in 0.0..90.0_f64,
        azimuth_deg in 0.0..360.0_f64,
        dni_w_m2 in 0.0..2000.0_f64,
        dhi_w_m2 in 0.0..1000.0_f64,
    ) {
        let sun = SunPosition::from_angles(zenith_deg, azimuth_deg, 1.0);
        let plane = Plane::new(tilt_deg, facing_deg, 0.3).unwrap();
        let light = Irradiance {
            ghi_w_m2: dni_w_m2 * sun.zenith_cos + dhi_w_m2,
            dni_w_m2,
            dhi_w_m2,
            extraterrestrial_w_m2: sun.extraterrestrial_w_m2(),
        };
        let incidence_cos = plane.incidence_cos(&sun);
        let under_perez = plane.perez(&light, sun.zenith_cos, incidence_cos);
        prop_assert!(under_perez.total_w_m2() >= 0.0 && under_perez.total_w_m2().is_finite());
        let on_plane = plane.hay_davies(&light, sun.zenith_cos, incidence_cos);
        let through = plane.transmitted(&on_plane, incidence_cos);
        for (before, after) in [
            (on_plane.beam_w_m2, through.beam_w_m2),
            (on_plane.circumsolar_w_m2, through.circumsolar_w_m2),
            (on_plane.sky_w_m2, through.sky_w_m2),
            (on_plane.ground_w_m2, through.ground_w_m2),
        ] {
            prop_assert!(after >= 0.0 && after <= before && before.is_finite());
        }
    }

    #[test]
    fn a_flat_plane_receives_what_the_ground_does(zenith_deg in 0.0..88.0_f64, dni_w_m2 in 0.0..1100.0_f64, dhi_w_m2 in 0.0..600.0_f64) {
        let sun = SunPosition::from_angles(zenith_deg, 77.0, 1.0);
        let light = Irradiance {
            ghi_w_m2: dni_w_m2 * sun.zenith_cos + dhi_w_m2,
            dni_w_m2,
            dhi_w_m2,
            extraterrestrial_w_m2: 1361.0,
        };
        let plane = Plane::new(0.0, 180.0, 0.2).unwrap();
        for model in [SkyModel::HayDavies, SkyModel::Perez] {
            // Perez limits the zenith angle in the circumsolar part to 85°.
            if model == SkyModel::Perez && zenith_deg > 85.0 {
                continue;
            }
            let on_plane = plane.irradiance(model, &light, sun.zenith_cos, plane.incidence_cos(&sun));
            prop_assert!((on_plane.total_w_m2() - light.ghi_w_m2).abs() < 1e-9 * (1.0 + light.ghi_w_m2));
        }
    }
}
