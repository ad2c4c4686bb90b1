//! The pump set: pump, motor and drive on their system, solved for any month and frequency.

use daylift_units::{Month, Warning, fingerprint};

use crate::drive::Drive;
use crate::duty::DutySolver;
use crate::fitted::SetSheet;
use crate::flux::{AtSpeed, full_flux};
use crate::point::MapPoint;
use crate::motor::Motor;
use crate::pump::Pump;
use crate::rating::Ratings;
use crate::system::System;

mod checked;
#[cfg(test)]
mod drive_tests;
#[cfg(test)]
mod tests;

/// One pump with its motor, motor cable, output filter, drive (if any), and the system it works against.
#[derive(Debug, Clone, PartialEq)]
pub struct PumpSet {
    pump: Pump,
    motor: Motor,
    drive: Option<Drive>,
    system: System,
    solver: DutySolver,
    fitted: SetSheet,
    /// k/P_m,r: loss of the motor cable divided by the square of the power at the motor's terminals \[1/W\].
    cable_loss_per_w: f64,
    /// (k + k_f)/P_m,r: the same of motor cable and output filter, on the drive \[1/W\].
    feed_loss_per_w: f64,
    /// 1 + h: the motor's losses on the drive over those on mains.
    harmonics: f64,
    /// Whether the bus voltage limits the speed; only for comparison it does not.
    needs_voltage: bool,
    ratings: Option<Ratings>,
    greatest_hz: f64,
    wanted_hz: f64,
    warnings: Vec<Warning>,
}

fingerprint!(PumpSet { pump, motor, drive, system, fitted, needs_voltage, greatest_hz, wanted_hz }
    derived { solver, warnings, cable_loss_per_w, feed_loss_per_w, harmonics, ratings });

/// The duty point: where pump and system meet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Duty {
    /// Flow \[m³/s\].
    pub flow_m3_s: f64,
    /// Head of the pump \[m\].
    pub head_m: f64,
    /// Shaft power \[W\].
    pub shaft_w: f64,
    /// Power at the motor's terminals \[W\].
    pub motor_w: f64,
    /// Loss of the motor cable and, on a drive, of its output filter \[W\].
    pub cable_w: f64,
    /// Efficiency of the pump, a fraction.
    pub pump_efficiency: f64,
}

/// The set on mains, at rated frequency.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MainsPoint {
    /// Flow, head and powers. With a throttled valve, the head is the pump's; the valve takes a part of it.
    pub duty: Duty,
    /// Power from the mains \[W\]: motor and cable.
    pub supply_w: f64,
    /// Whether a valve limits the flow to the well's limit.
    pub throttled: bool,
}

/// The set on its drive, at one frequency and full flux.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DrivePoint {
    /// Frequency \[Hz\].
    pub hz: f64,
    /// Flow, head and powers.
    pub duty: Duty,
    /// Output of the drive \[W\]: motor, cable and output filter.
    pub drive_output_w: f64,
    /// Loss of the drive \[W\].
    pub drive_loss_w: f64,
    /// Input of the drive \[W\]: output and loss.
    pub dc_w: f64,
}

impl PumpSet {
    /// The pump.
    #[must_use]
    pub fn pump(&self) -> &Pump {
        &self.pump
    }

    /// The motor.
    #[must_use]
    pub fn motor(&self) -> &Motor {
        &self.motor
    }

    /// The drive, if there is one.
    #[must_use]
    pub fn drive(&self) -> Option<&Drive> {
        self.drive.as_ref()
    }

    /// The system.
    #[must_use]
    pub fn system(&self) -> &System {
        &self.system
    }

    /// How the set is fitted.
    #[must_use]
    pub fn fitted(&self) -> &SetSheet {
        &self.fitted
    }

    /// Extra losses h of the motor on the drive, a fraction of those on mains.
    #[must_use]
    pub fn harmonic_loss(&self) -> f64 {
        self.harmonics - 1.0
    }

    pub(crate) fn ratings(&self) -> Option<&Ratings> {
        self.ratings.as_ref()
    }

    pub(crate) fn ratio(&self, hz: f64) -> f64 {
        hz / self.motor.rated_frequency_hz()
    }

    /// What a reader of the results must know about this set.
    #[must_use]
    pub fn warnings(&self) -> &[Warning] {
        &self.warnings
    }

    /// Maximum frequency of the drive \[Hz\]; rated frequency where none is given.
    #[must_use]
    pub fn greatest_hz(&self) -> f64 {
        self.greatest_hz
    }

    /// Frequency at which the set should run \[Hz\].
    #[must_use]
    pub fn wanted_hz(&self) -> f64 {
        self.wanted_hz
    }

    /// Frequency at which flow begins \[Hz\]: f0·√(H_static/H0).
    ///
    /// Below it, the pump's shut-off head r²·H0 does not reach the standing lift (affinity law H ∝ n²). The pump of a
    /// curve that first rises delivers water at once when it starts.
    #[must_use]
    pub fn flow_begins_hz(&self, month: Month) -> f64 {
        let lift_m = self.system.static_head_m(month);
        self.motor.rated_frequency_hz() * (lift_m / self.pump.shut_off_head_m()).max(0.0).sqrt()
    }

    /// Start frequency \[Hz\]: the greatest of the motor's lowest frequency, that at which flow begins, and that of the
    /// least flow. Infinite where no frequency gives the least flow.
    #[must_use]
    pub fn start_hz(&self, month: Month) -> f64 {
        let turns_hz = self.flow_begins_hz(month).max(self.motor.least_frequency_hz());
        self.least_flow_hz(month).map_or(turns_hz, |hz| hz.max(turns_hz))
    }

    /// The duty point at a frequency ratio r = f/f0, with the losses on a sine wave at full flux; `None` without flow.
    #[must_use]
    pub fn duty(&self, month: Month, ratio: f64) -> Option<Duty> {
        let flow_m3_s = self.flow_m3_s(month, ratio);
        (flow_m3_s > 0.0).then(|| self.on_mains(flow_m3_s, ratio))
    }

    /// The set on mains: its duty point at rated frequency. If that would draw the well down too far, the point on the
    /// pump's curve at the well's limit (a throttled valve). `None` where the standing level is already too deep.
    #[must_use]
    pub fn mains(&self, month: Month) -> Option<MainsPoint> {
        let free_m3_s = self.flow_m3_s(month, 1.0);
        let limit_m3_s = self.system.well().flow_limit_m3_s(month).unwrap_or(f64::INFINITY);
        let flow_m3_s = free_m3_s.min(limit_m3_s);
        if flow_m3_s <= 0.0 {
            return None;
        }
        let duty = self.on_mains(flow_m3_s, 1.0);
        Some(MainsPoint {
            duty,
            supply_w: duty.motor_w + duty.cable_w,
            throttled: limit_m3_s < free_m3_s,
        })
    }

    /// The set on its drive at a frequency \[Hz\]; `None` without a drive or without flow.
    ///
    /// Start frequency, limits and wanted frequency are not applied here; the caller applies them.
    #[must_use]
    pub fn drive_point(&self, month: Month, hz: f64) -> Option<DrivePoint> {
        let drive = self.drive.as_ref()?;
        Some(self.on_drive(drive, month, hz)).filter(|point| point.duty.flow_m3_s > 0.0)
    }

    /// Input of the drive at a frequency \[W\], also where nothing flows yet; `None` without a drive.
    #[must_use]
    pub fn dc_w(&self, month: Month, hz: f64) -> Option<f64> {
        let drive = self.drive.as_ref()?;
        Some(self.on_drive(drive, month, hz).dc_w)
    }

    /// Frequency \[Hz\] above which the well would be drawn down too far. `None` when it is not below the greatest
    /// frequency, 0 when even the standing level is too deep.
    ///
    /// At the well's limit Q the pump must give H(Q): with r²·H0 + c·Q², r = √((H(Q) − c·Q²)/H0); see
    /// [`Pump::ratio`] for other curves.
    #[must_use]
    pub fn well_limit_hz(&self, month: Month) -> Option<f64> {
        let flow_m3_s = self.system.well().flow_limit_m3_s(month)?;
        if flow_m3_s <= 0.0 {
            return Some(0.0);
        }
        let head_m = self.system.head_m(month, flow_m3_s);
        let ratio = self.pump.ratio(flow_m3_s, head_m);
        Some(ratio * self.motor.rated_frequency_hz()).filter(|&hz| hz < self.greatest_hz)
    }

    /// Bus voltage per frequency needed for full flux \[V/Hz\], up to rated frequency; `None` without a drive.
    #[must_use]
    pub fn bus_v_per_hz(&self) -> Option<f64> {
        let (volts, hz) = (self.motor.rated_voltage_v(), self.motor.rated_frequency_hz());
        let per_hz = self.drive.as_ref()?.bus_voltage_need_v(1.0, volts, hz, self.fitted.filter_drop());
        Some(if self.needs_voltage { per_hz } else { 0.0 })
    }

    /// Bus voltage \[V\] that full flux needs at a frequency; above rated frequency that of rated frequency, as the flux
    /// falls there. `None` without a drive.
    #[must_use]
    pub fn bus_need_v(&self, hz: f64) -> Option<f64> {
        Some(self.bus_v_per_hz()? * hz.min(self.motor.rated_frequency_hz()))
    }

    /// The same set as it would be if full flux needed no bus voltage.
    #[must_use]
    pub fn without_voltage_need(&self) -> Self {
        Self {
            needs_voltage: false,
            ..self.clone()
        }
    }

    /// The set on its drive at a frequency, for every flux; also where nothing flows. `None` without a drive.
    #[must_use]
    pub fn at_speed(&self, month: Month, hz: f64) -> Option<AtSpeed<'_>> {
        let drive = self.drive.as_ref()?;
        let point = self.on_drive(drive, month, hz);
        let duty = point.duty;
        let full = MapPoint::new(hz, duty.motor_w, duty.cable_w, point.drive_loss_w, duty.flow_m3_s);
        let ratio = self.ratio(hz);
        let torque = self.motor.torque(duty.shaft_w, ratio);
        Some(AtSpeed::new(
            full,
            self.losses_on_drive_w(duty.shaft_w, ratio),
            torque,
            drive.losses(),
        ))
    }

    /// Flow at the duty point \[m³/s\], the largest at which pump and system agree; 0 where the pump's shut-off head does
    /// not reach the standing lift.
    pub(crate) fn flow_m3_s(&self, month: Month, ratio: f64) -> f64 {
        let spare_m = self.pump.head_m(0.0, ratio) - self.system.static_head_m(month);
        self.solver.flow_at_m3_s(spare_m, ratio)
    }

    /// The set on its drive at full flux, including points without flow.
    pub(crate) fn on_drive(&self, drive: &Drive, month: Month, hz: f64) -> DrivePoint {
        let ratio = self.ratio(hz);
        let flow_m3_s = self.flow_m3_s(month, ratio);
        let shaft_w = self.pump.shaft_power_w(flow_m3_s, ratio);
        let [fixed_w, torque_w] = self.losses_on_drive_w(shaft_w, ratio);
        let flux = full_flux(ratio);
        let motor_w = shaft_w + fixed_w + torque_w;
        let duty = self.work(
            flow_m3_s,
            ratio,
            [shaft_w, motor_w],
            self.feed_loss_per_w / (flux * flux),
        );
        let drive_output_w = duty.motor_w + duty.cable_w;
        let drive_loss_w = drive.losses().loss_w(drive_output_w);
        DrivePoint {
            hz,
            duty,
            drive_output_w,
            drive_loss_w,
            dc_w: drive_output_w + drive_loss_w,
        }
    }

    /// The motor's two losses on the drive at full flux \[W\]: (1 + h)·F·r^1.5·φ² and (1 + h)·V·t²·φ⁻².
    pub(crate) fn losses_on_drive_w(&self, shaft_w: f64, ratio: f64) -> [f64; 2] {
        let [fixed_w, torque_w] = self.motor.losses_w(shaft_w, ratio);
        let flux = full_flux(ratio);
        let square = flux * flux;
        [self.harmonics * fixed_w * square, self.harmonics * torque_w / square]
    }

    /// The pump at a flow with the motor on mains.
    fn on_mains(&self, flow_m3_s: f64, ratio: f64) -> Duty {
        let shaft_w = self.pump.shaft_power_w(flow_m3_s, ratio);
        self.work(
            flow_m3_s,
            ratio,
            [shaft_w, self.motor.input_w(shaft_w, ratio)],
            self.cable_loss_per_w,
        )
    }

    /// Head and powers of the pump on its own curve at a flow. Loss of the feed: a resistance at nearly constant voltage,
    /// in proportion to the square of the motor's input.
    fn work(&self, flow_m3_s: f64, ratio: f64, [shaft_w, motor_w]: [f64; 2], feed_loss_per_w: f64) -> Duty {
        Duty {
            flow_m3_s,
            head_m: self.pump.head_m(flow_m3_s, ratio),
            shaft_w,
            motor_w,
            cable_w: feed_loss_per_w * motor_w * motor_w,
            pump_efficiency: self.pump.efficiency(flow_m3_s, ratio),
        }
    }
}
