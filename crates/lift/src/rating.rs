//! What the drive's rating allows: its power, its current and the motor's current.

use daylift_units::{Month, root};

use crate::drive::{Drive, DriveRating};
use crate::flux::full_flux;
use crate::motor::Motor;
use crate::set::{DrivePoint, PumpSet};

/// The ratings that limit a set on its drive.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Ratings {
    pub(crate) rating: DriveRating,
    output_w: f64,
    /// Rated current of the drive, as a share of the motor's.
    drive_current: Option<f64>,
    /// Current that the motor may carry, as a share of its rated current.
    motor_current: Option<f64>,
    /// D_h.
    at_altitude: f64,
}

/// How much of the ratings a point takes, at full flux; above 1 it is too much.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Load {
    /// Of the drive's own rating, without derating: the greater of power and current.
    pub(crate) of_drive: f64,
    /// Of the motor's current.
    pub(crate) of_motor: f64,
}

impl Load {
    /// The share taken when the drive keeps `derating` of its rating.
    fn with(&self, derating: f64) -> f64 {
        (self.of_drive / derating).max(self.of_motor)
    }
}

impl Ratings {
    pub(crate) fn new(drive: &Drive, motor: &Motor, water_c: f64, altitude_m: f64) -> Self {
        let drive_a = drive.rated_current_a(motor.rated_voltage_v());
        Self {
            rating: *drive.rating(),
            output_w: drive.rated_power_w(),
            drive_current: drive_a.map(|a| a / motor.rated_current_a()),
            motor_current: motor.gives_current().then(|| motor.water_derating(water_c)),
            at_altitude: drive.rating().at_altitude(altitude_m),
        }
    }

    /// D = D_h·D_T, for a share `by_heat` D_T.
    pub(crate) fn derating(&self, by_heat: f64) -> f64 {
        self.at_altitude * by_heat
    }

    /// The highest current that drive and motor allow, as a share of the motor's rated current; `None` where neither is
    /// known.
    pub(crate) fn most_current(&self, by_heat: f64) -> Option<f64> {
        let of_drive = self.drive_current.map(|most| most * self.derating(by_heat));
        [of_drive, self.motor_current].into_iter().flatten().reduce(f64::min)
    }

    /// What a point at full flux takes, with its torque as a share of the rated torque.
    pub(crate) fn load(&self, point: &DrivePoint, torque: f64, ratio: f64) -> Load {
        let current = Motor::current(torque, full_flux(ratio));
        let of_current = self.drive_current.map_or(0.0, |most| current / most);
        Load {
            of_drive: (point.drive_output_w / self.output_w).max(of_current),
            of_motor: self.motor_current.map_or(0.0, |most| current / most),
        }
    }
}

impl PumpSet {
    /// Frequency \[Hz\] at which drive or motor reaches its rating, at full flux: the drive's output, its current, or the
    /// current of a motor whose datasheet gives it. `None` when that is not below the maximum frequency, 0 when it is
    /// exceeded already at the start frequency. The drive is derated by altitude, not by heat.
    #[must_use]
    pub fn drive_limit_hz(&self, month: Month) -> Option<f64> {
        self.drive_limit_by_heat_hz(month, 1.0)
    }

    /// The same with the drive in air of this temperature \[°C\].
    #[must_use]
    pub fn drive_limit_in_air_hz(&self, month: Month, air_c: f64) -> Option<f64> {
        self.drive_limit_by_heat_hz(month, self.drive()?.rating().at_air(air_c))
    }

    fn drive_limit_by_heat_hz(&self, month: Month, by_heat: f64) -> Option<f64> {
        let (drive, ratings) = (self.drive()?, self.ratings()?);
        let derating = ratings.derating(by_heat);
        let over = |hz: f64| {
            let point = self.on_drive(drive, month, hz);
            let ratio = self.ratio(hz);
            ratings.load(&point, self.motor().torque(point.duty.shaft_w, ratio), ratio).with(derating) - 1.0
        };
        let (start_hz, greatest_hz) = (self.start_hz(month), self.greatest_hz());
        if start_hz > greatest_hz || over(greatest_hz) <= 0.0 {
            return None;
        }
        if over(start_hz) > 0.0 {
            return Some(0.0);
        }
        root::bracketed(start_hz, greatest_hz, over)
    }

    /// The highest current that drive and motor allow in air of this temperature \[°C\], as a share of the motor's rated
    /// current; `None` where neither is known.
    #[must_use]
    pub fn most_current_in_air(&self, air_c: f64) -> Option<f64> {
        self.ratings()?.most_current(self.drive()?.rating().at_air(air_c))
    }
}
