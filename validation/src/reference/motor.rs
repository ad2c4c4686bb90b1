//! The motor on a drive: its input with harmonics and reduced flux, and its current (§7a).

use daylift_lift::Motor;

use super::derating;
use super::devices::OfSet;

/// Magnetising current as a share of the rated current.
const MAGNETISING: f64 = 0.45;

/// A motor on its drive.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct OnDrive {
    rated_w: f64,
    /// F and V, with harmonics \[W\].
    fixed_w: f64,
    torque_w: f64,
    /// I_n \[A\].
    rated_a: f64,
    /// (k + k_f)/P_m,r \[1/W\].
    feed_per_w: f64,
    /// Greatest current that the motor allows \[A\].
    allowed_a: f64,
    /// I_d, where it is known \[A\].
    drive_a: f64,
}

impl OnDrive {
    /// The motor of a set whose cable loses `cable_loss` at rated power, behind a drive of a rated output.
    pub(super) fn new(motor: &Motor, of_set: &OfSet, cable_loss: f64, drive_w: f64) -> Self {
        let rated_w = motor.rated_power_w();
        let rated_in_w = motor.input_w(rated_w, 1.0);
        // On mains and without load only the fixed loss is left.
        let fixed_w = motor.input_w(0.0, 1.0);
        let torque_w = rated_in_w - rated_w - fixed_w;
        let per_a = |power_factor: f64| 3.0_f64.sqrt() * motor.rated_voltage_v() * power_factor;
        let currents = of_set.currents;
        let by_power_a = rated_in_w / per_a(currents.motor_power_factor);
        let rated_a = currents.motor_a.unwrap_or(by_power_a);
        let by_output_a = currents.drive_power_factor.map(|power_factor| drive_w / per_a(power_factor));
        Self {
            rated_w,
            fixed_w: (1.0 + of_set.harmonic_loss) * fixed_w,
            torque_w: (1.0 + of_set.harmonic_loss) * torque_w,
            rated_a,
            feed_per_w: (cable_loss + of_set.filter_loss) / rated_in_w,
            allowed_a: currents.motor_a.map_or(f64::INFINITY, |a| a * derating::by_water(of_set.water)),
            drive_a: currents.drive_a.or(by_output_a).unwrap_or(f64::INFINITY),
        }
    }

    /// t: torque over rated torque.
    fn torque(&self, shaft_w: f64, ratio: f64) -> f64 {
        if ratio > 0.0 {
            shaft_w / self.rated_w / ratio
        } else {
            0.0
        }
    }

    /// Power at the terminals \[W\].
    pub(super) fn input_w(&self, shaft_w: f64, ratio: f64, flux: f64) -> f64 {
        if ratio <= 0.0 {
            return 0.0;
        }
        let load = self.torque(shaft_w, ratio) / flux;
        shaft_w + self.fixed_w * ratio.powf(1.5) * flux * flux + self.torque_w * load * load
    }

    /// What motor cable and filter lose \[W\].
    pub(super) fn feed_w(&self, motor_w: f64, flux: f64) -> f64 {
        self.feed_per_w * motor_w * motor_w / (flux * flux)
    }

    /// Current \[A\].
    pub(super) fn current_a(&self, shaft_w: f64, ratio: f64, flux: f64) -> f64 {
        let magnetising = MAGNETISING * flux;
        let load = self.torque(shaft_w, ratio) / flux;
        let squares = magnetising * magnetising + (1.0 - MAGNETISING * MAGNETISING) * load * load;
        self.rated_a * squares.sqrt()
    }

    /// Greatest current of motor and drive, with the drive derated \[A\].
    pub(super) fn most_a(&self, derating: f64) -> f64 {
        self.allowed_a.min(if self.drive_a.is_finite() {
            derating * self.drive_a
        } else {
            f64::INFINITY
        })
    }

    /// The least flux at which the current keeps a limit; infinite where none does.
    ///
    /// a·φ² + b/φ² = L² is a quadratic in φ²; below its smaller root the part with torque is too great.
    pub(super) fn least_flux(&self, shaft_w: f64, ratio: f64, most_a: f64) -> f64 {
        if most_a.is_infinite() {
            return 0.0;
        }
        let a = MAGNETISING * MAGNETISING;
        let torque = self.torque(shaft_w, ratio);
        let b = (1.0 - a) * torque * torque;
        let square = (most_a / self.rated_a).powi(2);
        let under = square * square - 4.0 * a * b;
        if under < 0.0 {
            return f64::INFINITY;
        }
        // The smaller root, written so that nothing cancels.
        (2.0 * b / (square + under.sqrt())).sqrt()
    }
}

#[cfg(test)]
mod tests {
    use daylift_lift::MotorSheet;

    use super::super::devices::{Currents, WaterHeat};
    use super::*;

    /// 10 kW, 400 V, 50 Hz; 90 % at full load, so a loss of 1111.11 W, half of it fixed.
    fn motor() -> Motor {
        let sheet = MotorSheet {
            name: String::new(),
            rated_power_w: 10e3,
            rated_frequency_hz: 50.0,
            rated_voltage_v: 400.0,
            efficiency_points: vec![(1.0, 0.9)],
            curve: daylift_units::CurveForm::Fitted,
            least_frequency_hz: 20.0,
            rated_current_a: None,
            power_factor: None,
            cooling_flow_m3_s: None,
            water_derating_per_k: 0.0,
        };
        Motor::new(sheet).unwrap()
    }

    fn near(a: f64, b: f64) -> bool {
        (a / b - 1.0).abs() < 1e-5
    }

    #[test]
    fn input_with_harmonics_and_less_flux() {
        let of_set = OfSet {
            harmonic_loss: 0.15,
            filter_loss: 0.003,
            ..OfSet::default()
        };
        let on_drive = OnDrive::new(&motor(), &of_set, 0.02, 11e3);
        // By hand: F = V = 1.15·555.5556 = 638.8889 W. At r = 0.8 and P = 5 kW: t = 0.625, r^1.5 = 0.7155418.
        // Full flux: 5000 + 457.1517 + 249.5660 = 5706.7177 W.
        let full_w = on_drive.input_w(5e3, 0.8, 1.0);
        assert!(near(full_w, 5706.7177), "{full_w}");
        // φ = 0.9: 5000 + 370.2929 + 308.1061 = 5678.3990 W.
        let less_w = on_drive.input_w(5e3, 0.8, 0.9);
        assert!(near(less_w, 5678.3990), "{less_w}");
        // Feed: 0.023·5678.399²/11111.111/0.81 = 82.4020 W.
        assert!(near(on_drive.feed_w(less_w, 0.9), 82.4020));
    }

    #[test]
    fn current_with_and_without_a_plate() {
        let plain = OnDrive::new(&motor(), &OfSet::default(), 0.0, 11e3);
        // By hand: I_n = 11111.11/(√3·400·0.85) = 18.867656 A; it is the current at full load.
        assert!(near(plain.current_a(10e3, 1.0, 1.0), 18.867656));
        // t = 0.5, φ = 0.9: √(0.405² + 0.7975·(0.5/0.9)²) = √(0.164025 + 0.246142) = 0.640443.
        assert!(near(plain.current_a(4e3, 0.8, 0.9), 18.867656 * 0.640_443));
        assert!(plain.most_a(0.5).is_infinite());
        let currents = Currents {
            motor_a: Some(20.0),
            drive_power_factor: Some(0.8),
            ..Currents::default()
        };
        let water = WaterHeat {
            submersible: true,
            water_c: 40.0,
            per_k: 0.015,
        };
        let of_set = OfSet {
            currents,
            water,
            ..OfSet::default()
        };
        let known = OnDrive::new(&motor(), &of_set, 0.0, 11e3);
        // By hand: the motor allows 0.85·20 = 17 A; the drive 11000/(√3·400·0.8) = 19.846415 A, of which 80 % are 15.877132.
        assert!(near(known.most_a(1.0), 17.0));
        assert!(near(known.most_a(0.8), 15.877132));
    }

    #[test]
    fn least_flux_for_a_current() {
        let plain = OnDrive::new(&motor(), &OfSet::default(), 0.0, 11e3);
        // By hand, t = 0.8, L = 1: a = 0.2025, b = 0.5104; φ² = (1 − √(1 − 0.413424))/0.405 = 0.578068, φ = 0.760308.
        let flux = plain.least_flux(8e3, 1.0, 18.867656);
        assert!((flux - 0.760_308).abs() < 2e-5, "{flux}");
        assert!(near(plain.current_a(8e3, 1.0, flux), 18.867656));
        // Less than the least that any flux needs, √(2·√(a·b)) = 0.80185 of I_n.
        assert!(plain.least_flux(8e3, 1.0, 0.80 * 18.867656).is_infinite());
        assert!(plain.least_flux(8e3, 1.0, f64::INFINITY) <= 0.0);
    }
}
