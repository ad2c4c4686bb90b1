//! Builds a pump set from its parts and checks it.

use daylift_units::Fault;
use daylift_units::fields::{drive as drive_fields, motor as motor_fields, pump_set};

use super::PumpSet;
use crate::check::Faults;
use crate::drive::Drive;
use crate::duty::DutySolver;
use crate::findings;
use crate::fitted::SetSheet;
use crate::motor::Motor;
use crate::pump::Pump;
use crate::rating::Ratings;
use crate::system::System;

impl PumpSet {
    /// A set from its parts, fitted as `fitted` says.
    ///
    /// # Errors
    /// Faults for:
    /// - a value of `fitted` out of range;
    /// - a pump that cannot reach the standing lift at rated frequency in some month;
    /// - a pump that gives no water at the wanted frequency in any month;
    /// - a pump that would run where its fitted efficiency is meaningless.
    pub fn new(
        pump: Pump,
        motor: Motor,
        drive: Option<Drive>,
        system: System,
        fitted: SetSheet,
    ) -> Result<Self, Vec<Fault>> {
        let greatest_hz = drive
            .as_ref()
            .and_then(Drive::greatest_frequency_hz)
            .unwrap_or(motor.rated_frequency_hz());
        let greatest_ratio = (greatest_hz / motor.rated_frequency_hz()).max(1.0);
        let wanted_frequency_hz = fitted.wanted_frequency_hz;
        let usual_harmonics = fitted.filter.usual_harmonic_loss(motor.rated_power_w());
        let ratings = drive
            .as_ref()
            .map(|drive| Ratings::new(drive, &motor, system.water().temperature_c(), fitted.altitude_m));
        let mut set = Self {
            solver: DutySolver::new(&pump, &system, greatest_ratio),
            cable_loss_per_w: fitted.motor_cable_loss / motor.rated_input_w(),
            feed_loss_per_w: (fitted.motor_cable_loss + fitted.filter_loss()) / motor.rated_input_w(),
            harmonics: 1.0 + fitted.harmonic_loss.unwrap_or(usual_harmonics),
            needs_voltage: true,
            ratings,
            fitted,
            pump,
            motor,
            drive,
            system,
            greatest_hz,
            wanted_hz: wanted_frequency_hz.unwrap_or(greatest_hz),
            warnings: Vec::new(),
        };
        let mut faults = Faults::default();
        fitted.check(&mut faults);
        set.check_frequencies(wanted_frequency_hz, &mut faults);
        findings::check_reach(&set, &mut faults);
        if faults.is_empty() {
            findings::check_wanted(&set, wanted_frequency_hz.is_some(), &mut faults);
            findings::check_extrapolation(&set, &mut faults);
        }
        if faults.is_empty() {
            set.warnings = findings::warnings(&set);
        }
        faults.or(|| set)
    }

    fn check_frequencies(&self, wanted_frequency_hz: Option<f64>, faults: &mut Faults) {
        let (least, greatest, wanted) = (motor_fields::LEAST, drive_fields::GREATEST, pump_set::WANTED);
        let (least_hz, greatest_hz) = (self.motor.least_frequency_hz(), self.greatest_hz);
        if greatest_hz < least_hz {
            faults.push(Fault::new(
                greatest.key,
                greatest.quantity,
                greatest.print_si(greatest_hz),
                format!("the motor's minimum frequency, {}, or more", least.print_si(least_hz)),
                "correct `greatest_frequency_hz` of the drive or `least_frequency_hz` of the motor",
            ));
        }
        let Some(wanted_hz) = wanted_frequency_hz else { return };
        if let Err(fault) = wanted.check_si(wanted_hz) {
            faults.push(fault);
        } else if greatest_hz >= least_hz && !(least_hz..=greatest_hz).contains(&wanted_hz) {
            faults.push(Fault::new(
                wanted.key,
                wanted.quantity,
                wanted.print_si(wanted_hz),
                format!(
                    "{} to {}, the motor's minimum to the drive's maximum frequency",
                    least.print_si(least_hz),
                    greatest.print_si(greatest_hz)
                ),
                "correct `wanted_frequency_hz`",
            ));
        }
    }
}
