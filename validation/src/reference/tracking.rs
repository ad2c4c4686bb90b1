//! What a tracker of the maximum power misses, and how broken the clouds are (§5a).

use daylift_sky::year::SkyYear;

use super::devices::{DriveTracking, OfFeeder};

/// Share of the clear beam, and how broken the clouds are at it.
const BROKEN: [(f64, f64); 4] = [(0.10, 0.0), (0.30, 1.0), (0.50, 1.0), (0.75, 0.0)];

/// b at a share p of the clear beam.
fn broken_at(p: f64) -> f64 {
    let between = BROKEN.windows(2).find(|ends| p >= ends[0].0 && p <= ends[1].0);
    between.map_or(0.0, |ends| {
        let ((from, low), (to, high)) = (ends[0], ends[1]);
        low + (high - low) * (p - from) / (to - from)
    })
}

/// Clear beam C = E0·0.7^(m^0.678) \[W/m²\], m by Kasten & Young on the apparent zenith.
fn clear_w_m2(outside_w_m2: f64, zenith_cos: f64) -> f64 {
    let zenith_deg = zenith_cos.acos().to_degrees();
    let mass = 1.0 / (zenith_cos + 0.505_72 * (96.079_95 - zenith_deg).powf(-1.6364));
    outside_w_m2 * 0.7_f64.powf(mass.powf(0.678))
}

/// b of every step: one value for each whole hour of the year.
pub(super) fn broken(sky: &SkyYear, steps_per_hour: usize) -> Vec<f64> {
    let mut all = Vec::with_capacity(sky.steps());
    let mut first = 0;
    while first < sky.steps() {
        let end = (first + steps_per_hour).min(sky.steps());
        let (mut beam, mut clear) = (0.0, 0.0);
        for step in first..end {
            if sky.zenith_cos[step] > 0.0 {
                beam += sky.dni_w_m2[step];
                clear += clear_w_m2(sky.extraterrestrial_w_m2[step], sky.zenith_cos[step]);
            }
        }
        let b = if clear > 0.0 { broken_at(beam / clear) } else { 0.0 };
        all.extend((first..end).map(|_| b));
        first = end;
    }
    all
}

/// t of a drive.
pub(super) fn of_drive(tracking: DriveTracking, b: f64) -> f64 {
    tracking.steady + tracking.clear + b * (tracking.broken - tracking.clear)
}

/// t of an inverter.
pub(super) fn of_inverter(inverter: &OfFeeder, b: f64) -> f64 {
    inverter.tracking + b * (inverter.tracking_broken - inverter.tracking)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(a: f64, b: f64) -> bool {
        (a - b).abs() < 1e-9
    }

    #[test]
    fn broken_cloud_rises_and_falls_between_its_points() {
        // By hand: half way from 0.10 to 0.30; 3/5 of the way down from 0.50 to 0.75.
        for (p, b) in [
            (0.0, 0.0),
            (0.10, 0.0),
            (0.20, 0.5),
            (0.30, 1.0),
            (0.40, 1.0),
            (0.50, 1.0),
            (0.65, 0.4),
            (0.75, 0.0),
            (0.95, 0.0),
        ] {
            assert!(near(broken_at(p), b), "{p}");
        }
    }

    #[test]
    fn the_clear_beam_overhead_and_at_sixty_degrees() {
        // By hand. Overhead m = 1/(1 + 0.50572·96.07995^−1.6364) = 0.999712, so C = 1361·0.7^0.999805 = 952.77.
        assert!((clear_w_m2(1361.0, 1.0) - 952.77).abs() < 0.01);
        // At 60° m = 1/(0.5 + 0.50572·36.07995^−1.6364) = 1.994274; m^0.678 = 1.596812; C = 1361·0.7^1.596812 = 770.03.
        assert!((clear_w_m2(1361.0, 0.5) - 770.03).abs() < 0.05);
    }

    #[test]
    fn the_losses_of_the_defaults_in_half_broken_cloud() {
        // By hand: 1 % + 2 % + 0.5·3 % = 4.5 %; 0.5 % + 0.5·0.5 % = 0.75 %.
        let tracking = DriveTracking {
            steady: 0.01,
            clear: 0.02,
            broken: 0.05,
        };
        assert!(near(of_drive(tracking, 0.5), 0.045));
        let inverter = OfFeeder {
            tracking: 0.005,
            tracking_broken: 0.01,
            ..OfFeeder::default()
        };
        assert!(near(of_inverter(&inverter, 0.5), 0.0075));
    }
}
