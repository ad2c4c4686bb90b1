use proptest::prelude::*;

use super::*;
use crate::fixture::cloudless;
use crate::{RowShade, SkyModel};

fn sky(model: SkyModel) -> SkyYear {
    let place = cloudless(-15.6, 28.3);
    let weather = place.weather.with_sky_model(model);
    SkyYear::new(&weather, &place.ephemeris, &place.observer, &place.axis)
}

fn fixed(tilt_deg: f64, azimuth_deg: f64) -> Mounting {
    Mounting::Fixed(Plane::new(tilt_deg, azimuth_deg, 0.2).unwrap())
}

fn rows(pitch_m: f64, shade: RowShade) -> Rows {
    Rows::new(pitch_m, 2.0, shade).unwrap()
}

fn sum(year: &PlaneYear) -> f64 {
    year.plane_w_m2.iter().sum()
}

#[test]
fn light_on_a_row_among_others_by_hand() {
    // Tilt 30°, rows 2 m wide and 4 m apart, sun straight in front at 10°. 0.45970 of the row is in shade (`rows`), and
    // shadows cover the whole ground: 0.64279/(2·0.17365) = 1.85 of it. d² = 20 − 16·cos 30°, d = 2.47863; e² = 20 +
    // 16·cos 30°, e = 5.81863. Left of the sky: 8/(6 + d) = 0.943549, of the ground: 8/(6 + e) = 0.676897. The ground
    // sees (d + e − 4)/8 = 0.537158 of the sky. DHI/GHI = 60/(400·0.173648 + 60) = 0.463467; 0.676897·0.463467·0.537158
    // = 0.168518.
    let mut on_plane = PlaneIrradiance {
        beam_w_m2: 100.0,
        circumsolar_w_m2: 10.0,
        sky_w_m2: 50.0,
        horizon_w_m2: 0.0,
        ground_w_m2: 10.0,
    };
    let (up, level) = 10.0_f64.to_radians().sin_cos();
    let light = Irradiance {
        ghi_w_m2: 400.0 * up + 60.0,
        dni_w_m2: 400.0,
        dhi_w_m2: 60.0,
        extraterrestrial_w_m2: 1361.0,
    };
    let plane = Plane::new(30.0, 0.0, 0.2).unwrap();
    let pose = ModulePose {
        plane,
        rotation_cos: plane.normal()[0],
        sun_up: up,
        hidden_sky: 0.0,
    };
    let incidence_cos = plane.incidence_cos_of(up, level, 0.0);
    among_rows(
        &mut on_plane,
        &rows(4.0, RowShade::InProportion),
        &light,
        &pose,
        incidence_cos,
    );
    assert!((on_plane.beam_w_m2 - 54.030).abs() < 1e-3, "{on_plane:?}");
    assert!((on_plane.circumsolar_w_m2 - 5.4030).abs() < 1e-4);
    assert!((on_plane.sky_w_m2 - 47.177_45).abs() < 1e-4);
    assert!((on_plane.ground_w_m2 - 1.685_18).abs() < 1e-4, "{on_plane:?}");
}

#[test]
fn hiding_negative_light_does_not_increase_the_total() {
    // Perez's horizon band can be more negative than the sky is bright; with the sun hidden, only the ground's light is
    // left.
    let mut on_plane = PlaneIrradiance {
        beam_w_m2: 10.0,
        circumsolar_w_m2: 6.0,
        sky_w_m2: 4.0,
        horizon_w_m2: -5.0,
        ground_w_m2: 2.0,
    };
    below_horizon(&mut on_plane, false, 0.5);
    assert!((on_plane.total_w_m2() - 17.0).abs() < 1e-12);
    below_horizon(&mut on_plane, true, 0.5);
    assert!((on_plane.total_w_m2() - 2.0).abs() < 1e-12);
}

#[test]
fn a_flat_horizon_changes_nothing_and_distant_rows_almost_nothing() {
    let free = Horizon::new(&[0.0; 8]).unwrap();
    let tracker = Mounting::SingleAxis(Tracker::new(10.0, 5.0, 55.0, 0.2).unwrap());
    for model in [SkyModel::HayDavies, SkyModel::Perez] {
        let sky = sky(model);
        for mounting in [fixed(25.0, 0.0), fixed(10.0, 90.0), tracker] {
            let open = Surface::new(mounting, None, None).year(&sky);
            let under = Surface::new(mounting, None, Some(free.clone())).year(&sky);
            assert!(open == under);
            let far = Rows::new(200.0, 0.2, RowShade::InProportion).unwrap();
            let far = Surface::new(mounting, Some(far), None).year(&sky);
            let left = sum(&far) / sum(&open);
            // A low sun behind a tilted axis is below the plane of the axes and lights no row.
            assert!(left <= 1.0 && left > 0.998, "{left}");
        }
    }
}

#[test]
fn a_tracker_that_cannot_turn_is_a_level_plane() {
    let sky = sky(SkyModel::Perez);
    let tracker = Tracker::new(30.0, 0.0, 0.0, 0.2).unwrap();
    let hills = || Some(Horizon::new(&[5.0, 20.0, 10.0, 0.0, 30.0]).unwrap());
    for rows in [None, Some(rows(5.0, RowShade::Whole))] {
        let still = Surface::new(Mounting::SingleAxis(tracker), rows, hills()).year(&sky);
        let level = Surface::new(fixed(0.0, 77.0), rows, hills()).year(&sky);
        assert!(still.plane_w_m2.iter().zip(&level.plane_w_m2).all(|(a, b)| (a - b).abs() < 1e-9));
        assert!(still.absorbed_w_m2.iter().zip(&level.absorbed_w_m2).all(|(a, b)| (a - b).abs() < 1e-9));
        assert!((still.shade.horizon_j_m2 / level.shade.horizon_j_m2 - 1.0).abs() < 1e-9);
    }
}

#[test]
fn only_rows_without_backtracking_lose_beam() {
    let sky = sky(SkyModel::HayDavies);
    let rows = rows(4.5, RowShade::Whole);
    let tracker = Tracker::new(0.0, 0.0, 60.0, 0.2).unwrap();
    let year = |tracker| Surface::new(Mounting::SingleAxis(tracker), Some(rows), None).year(&sky);
    let (back, straight) = (year(tracker.backtracking(&rows)), year(tracker));
    assert!(back.shade.direct_to_rows_j_m2.abs() < 1e-9 && back.shade.rows_j_m2 > 0.0);
    assert!(straight.shade.direct_to_rows_j_m2 > 0.02 * straight.shade.direct_j_m2);
    assert!(sum(&back) > sum(&straight));
    // In the tropics tracking gains more than 15 % over a level plane.
    let level = Surface::new(fixed(0.0, 0.0), None, None).year(&sky);
    assert!(sum(&back) > 1.15 * sum(&level));
}

#[test]
fn remaining_and_lost_light_add_up_to_the_unshaded_light() {
    let sky = sky(SkyModel::Perez);
    let hills = Horizon::new(&[0.0, 15.0, 5.0, 20.0, 40.0, 0.0]).unwrap();
    let tracker = Mounting::SingleAxis(Tracker::new(350.0, 8.0, 50.0, 0.2).unwrap());
    for mounting in [fixed(30.0, 0.0), tracker] {
        let open = Surface::new(mounting, None, None).year(&sky);
        let shaded = Surface::new(mounting, Some(rows(4.0, RowShade::InProportion)), Some(hills.clone())).year(&sky);
        let taken = shaded.shade.horizon_j_m2 + shaded.shade.rows_j_m2;
        let [open_j_m2, left_j_m2] = [&open, &shaded].map(|year| sum(year) * sky.step_s);
        assert!(shaded.shade.horizon_j_m2 > 0.0 && shaded.shade.rows_j_m2 > 0.0);
        assert!(((left_j_m2 + taken) / open_j_m2 - 1.0).abs() < 1e-12);
    }
}

#[test]
fn closer_rows_lose_more_and_whole_loses_most() {
    let sky = sky(SkyModel::HayDavies);
    let lost = |pitch_m, shade| {
        let of = Surface::new(fixed(25.0, 0.0), Some(rows(pitch_m, shade)), None).year(&sky);
        of.shade.direct_to_rows_j_m2 / of.shade.direct_j_m2
    };
    let [near, far] = [2.5, 6.0].map(|pitch_m| lost(pitch_m, RowShade::InProportion));
    assert!(near > 2.0 * far && far > 0.0 && near < 0.2);
    assert!(lost(2.5, RowShade::Whole) > 1.5 * near);
}

#[test]
fn the_interpolated_hidden_sky_agrees_with_the_sum() {
    let hills = Horizon::new(&[30.0, 5.0, 45.0, 0.0, 12.0, 60.0, 20.0]).unwrap();
    let skyline = hills.skyline();
    let tracker = Tracker::new(20.0, 10.0, 60.0, 0.2).unwrap();
    let shares = HiddenSky::new(&skyline, &tracker);
    for rotation_deg in [-60.0, -33.27, -0.1, 12.26, 59.99, 60.0_f64] {
        let turned = tracker.pose_at(rotation_deg.to_radians(), 0.0);
        let [up, north, east] = turned.normal;
        assert!((shares.at(&turned) - skyline.hidden_share(up, north, east)).abs() < 1e-5);
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]

    #[test]
    fn a_higher_horizon_never_gives_more_light(
        low in proptest::collection::vec(0.0..40.0_f64, 4..12),
        more in 0.0..20.0_f64,
        turns in any::<bool>(),
        perez in any::<bool>(),
        tilt_deg in 0.0..60.0_f64,
        azimuth_deg in 0.0..360.0_f64,
        in_rows in any::<bool>(),
    ) {
        let sky = sky(if perez { SkyModel::Perez } else { SkyModel::HayDavies });
        let mounting = if turns {
            Mounting::SingleAxis(Tracker::new(azimuth_deg, tilt_deg / 2.0, tilt_deg, 0.2).unwrap())
        } else {
            fixed(tilt_deg, azimuth_deg)
        };
        let high: Vec<f64> = low.iter().map(|e| e + more).collect();
        let beside = in_rows.then(|| rows(3.0, RowShade::Whole));
        let year = |of: &[f64]| Surface::new(mounting, beside, Some(Horizon::new(of).unwrap())).year(&sky);
        let (less, greater) = (year(&high), year(&low));
        for (less, greater) in less.plane_w_m2.iter().zip(&greater.plane_w_m2) {
            prop_assert!(*less >= 0.0 && less <= &(greater + 1e-9));
        }
        for (less, greater) in less.absorbed_w_m2.iter().zip(&greater.absorbed_w_m2) {
            prop_assert!(*less >= 0.0 && less <= &(greater + 1e-9));
        }
    }
}
