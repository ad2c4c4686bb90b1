//! Broken cloud: how much the light of an hour changes, judged by its direct part.

use crate::clouds::clear_beam_w_m2;
use crate::year::SkyYear;

/// Broken cloud against the direct light of the hour as a share of the clear beam; linear in between, 0 outside. The points
/// are our own choice: an overcast hour and a clear hour are steady.
const POINTS: [(f64, f64); 4] = [(0.10, 0.0), (0.30, 1.0), (0.50, 1.0), (0.75, 0.0)];

/// Broken cloud, 0 to 1, from the direct light as a share of the clear beam.
///
/// ```
/// // Half way from 0.10 to 0.30, and one fifth of the way from 0.50 to 0.75.
/// assert!((daylift_sky::broken_cloud::of_share(0.20) - 0.5).abs() < 1e-12);
/// assert!((daylift_sky::broken_cloud::of_share(0.55) - 0.8).abs() < 1e-12);
/// ```
#[must_use]
pub fn of_share(share: f64) -> f64 {
    let between = |pair: &[(f64, f64)]| match *pair {
        [(x0, y0), (x1, y1)] if (x0..=x1).contains(&share) => Some(y0 + (y1 - y0) * (share - x0) / (x1 - x0)),
        _ => None,
    };
    POINTS.windows(2).find_map(between).unwrap_or(0.0)
}

/// Broken cloud, 0 to 1, in every whole hour of the year, counted from its beginning; `per_hour` steps make an hour. An
/// hour without sun has none.
#[must_use]
pub fn of_hours(sky: &SkyYear, per_hour: usize) -> Vec<f64> {
    let of_hour = |begin: usize| {
        let up = (begin..(begin + per_hour).min(sky.steps())).filter(|step| sky.is_up(*step));
        let sums = up.fold((0.0, 0.0), |(direct, clear), step| {
            let clear_w_m2 = clear_beam_w_m2(sky.extraterrestrial_w_m2[step], sky.zenith_cos[step]);
            (direct + sky.dni_w_m2[step], clear + clear_w_m2)
        });
        if sums.1 > 0.0 { of_share(sums.0 / sums.1) } else { 0.0 }
    };
    (0..sky.steps()).step_by(per_hour.max(1)).map(of_hour).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::light::SkyModel;

    #[test]
    fn overcast_and_clear_hours_are_steady() {
        for (share, broken) in [
            (0.0, 0.0),
            (0.10, 0.0),
            (0.25, 0.75),
            (0.30, 1.0),
            (0.40, 1.0),
            (0.50, 1.0),
            (0.70, 0.2),
            (0.75, 0.0),
            (1.1, 0.0),
        ] {
            assert!((of_share(share) - broken).abs() < 1e-12, "{share}");
        }
    }

    #[test]
    fn an_hour_counts_the_steps_with_the_sun_up() {
        // Worked by hand. With the sun overhead the air mass is 0.9997, and 0.7^(0.9997^0.678) = 0.70005: a clear beam of
        // 700.05 W/m² under 1000 W/m². First hour: the sun is down in one of two steps, so p = 420.03/700.05 = 0.6 and
        // b = (0.75 − 0.6)/0.25 = 0.6. Second hour: p = (140.01 + 140.01)/1400.1 = 0.2 and b = 0.5. Third hour: night.
        let sky = SkyYear {
            model: SkyModel::default(),
            step_s: 1800.0,
            zenith_cos: vec![-0.1, 1.0, 1.0, 1.0, -0.1, -0.1],
            north: vec![0.0; 6],
            east: vec![0.0; 6],
            extraterrestrial_w_m2: vec![1000.0; 6],
            ghi_w_m2: vec![0.0; 6],
            dni_w_m2: vec![0.0, 420.03, 140.01, 140.01, 0.0, 0.0],
            dhi_w_m2: vec![0.0; 6],
            air_c: vec![20.0; 6],
            wind_m_s: vec![1.0; 6],
            dropped_j_m2: 0.0,
        };
        let broken = of_hours(&sky, 2);
        for (found, wanted) in broken.iter().zip([0.6, 0.5, 0.0]) {
            assert!((found - wanted).abs() < 1e-3, "{broken:?}");
        }
    }
}
