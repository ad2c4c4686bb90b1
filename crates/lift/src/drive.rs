//! The drive (variable-frequency drive): its losses, its rating and the bus voltage it needs.

use std::f64::consts::{PI, SQRT_2};

use daylift_units::fields::drive;
use daylift_units::fingerprint;
use daylift_units::{Fault, LossCurve, TrackingLoss};

use crate::check::Faults;
use crate::start::StartRule;

#[cfg(test)]
mod tests;

/// Values from a drive's datasheet.
#[derive(Debug, Clone, PartialEq)]
pub struct DriveSheet {
    /// Name.
    pub name: String,
    /// Rated output \[W\].
    pub rated_power_w: f64,
    /// Load (output over rated output) and efficiency, fractions.
    pub efficiency_points: Vec<(f64, f64)>,
    /// Maximum output frequency \[Hz\]; the motor's rated frequency when `None`.
    pub greatest_frequency_hz: Option<f64>,
    /// Allowance d for the voltage drops in drive, filter and cable, a fraction.
    pub voltage_drop: f64,
}

/// Limits and needs of a drive's DC input; `None` where the datasheet is not available.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct DriveLimits {
    /// Maximum DC voltage \[V\].
    pub greatest_dc_v: Option<f64>,
    /// DC voltage at which it starts \[V\].
    pub start_dc_v: Option<f64>,
    /// Maximum operating current \[A\].
    pub dc_current_a: Option<f64>,
    /// Maximum short-circuit current of the strings \[A\].
    pub dc_short_circuit_a: Option<f64>,
    /// Maximum PV power that may be connected, at standard test conditions \[W\].
    pub greatest_dc_w: Option<f64>,
}

fingerprint!(DriveLimits {
    greatest_dc_v,
    start_dc_v,
    dc_current_a,
    dc_short_circuit_a,
    greatest_dc_w
});

impl DriveLimits {
    /// Faults of the single values; if there are none, faults of conflicting values.
    fn faults(&self) -> Vec<Fault> {
        let checks = [
            (&drive::GREATEST_DC_V, self.greatest_dc_v),
            (&drive::START_DC_V, self.start_dc_v),
            (&drive::DC_CURRENT, self.dc_current_a),
            (&drive::DC_SHORT_CIRCUIT, self.dc_short_circuit_a),
            (&drive::GREATEST_DC_POWER, self.greatest_dc_w),
        ];
        let faults: Vec<Fault> = checks.into_iter().filter_map(|(field, value)| field.check_si(value?).err()).collect();
        if !faults.is_empty() {
            return faults;
        }
        let pairs = [
            drive::GREATEST_DC_V.not_below(self.greatest_dc_v, &drive::START_DC_V, self.start_dc_v),
            drive::DC_SHORT_CIRCUIT.not_below(self.dc_short_circuit_a, &drive::DC_CURRENT, self.dc_current_a),
        ];
        pairs.into_iter().flatten().collect()
    }
}

/// How a drive follows the sun: what it misses of the maximum power, fractions, and when it starts.
#[derive(Debug, Clone, PartialEq)]
pub struct DriveControl {
    /// Missed in steady sun.
    pub static_loss: f64,
    /// Missed in addition as a clear or overcast day changes.
    pub clear_loss: f64,
    /// Missed in addition under broken cloud, in place of the clear loss.
    pub broken_loss: f64,
    /// Starting and stopping on the sun.
    pub start: StartRule,
}

impl DriveControl {
    fn faults(&self) -> Vec<Fault> {
        let checks = [
            drive::TRACKING_STATIC.check_si(self.static_loss),
            drive::TRACKING_CLEAR.check_si(self.clear_loss),
            drive::TRACKING_BROKEN.check_si(self.broken_loss),
        ];
        let mut faults: Vec<Fault> = checks.into_iter().filter_map(Result::err).collect();
        faults.extend(self.start.faults());
        faults
    }
}

/// A checked drive.
#[derive(Debug, Clone, PartialEq)]
pub struct Drive {
    name: String,
    losses: LossCurve,
    greatest_frequency_hz: Option<f64>,
    voltage_drop: f64,
    limits: DriveLimits,
    tracking: TrackingLoss,
    start_rule: StartRule,
}

fingerprint!(Drive {
    name,
    losses,
    greatest_frequency_hz,
    voltage_drop,
    limits,
    tracking,
    start_rule
});

impl Drive {
    /// A drive from its datasheet, with losses p0 + p1·x + p2·x² by least squares (see [`LossCurve`]).
    ///
    /// # Errors
    /// Faults for power, frequency, allowance, loads or efficiencies out of range.
    pub fn new(sheet: DriveSheet) -> Result<Self, Vec<Fault>> {
        let mut faults = Faults::default();
        faults.field(&drive::RATED, sheet.rated_power_w);
        faults.field(&drive::DROP, sheet.voltage_drop);
        if let Some(hz) = sheet.greatest_frequency_hz {
            faults.field(&drive::GREATEST, hz);
        }
        match fit_losses(&sheet) {
            Ok(losses) => faults.or(|| Self {
                name: sheet.name,
                losses,
                greatest_frequency_hz: sheet.greatest_frequency_hz,
                voltage_drop: sheet.voltage_drop,
                limits: DriveLimits::default(),
                tracking: TrackingLoss::NONE,
                start_rule: StartRule::at_once(),
            }),
            Err(more) => {
                let mut all = faults.into_vec();
                all.extend(more);
                Err(all)
            }
        }
    }

    /// The same drive with the limits of its DC input, which are all unknown before.
    ///
    /// # Errors
    /// A fault for each limit outside its range or in conflict with another.
    pub fn with_limits(self, limits: DriveLimits) -> Result<Self, Vec<Fault>> {
        let faults = limits.faults();
        if faults.is_empty() {
            Ok(Self { limits, ..self })
        } else {
            Err(faults)
        }
    }

    /// The same drive with its way of following the sun; before, it reaches all of the maximum power and starts at once.
    ///
    /// # Errors
    /// A fault for each value outside its range, and for a list of waits that is empty or too long.
    pub fn with_control(self, control: DriveControl) -> Result<Self, Vec<Fault>> {
        let faults = control.faults();
        if faults.is_empty() {
            Ok(Self {
                tracking: TrackingLoss::new(
                    control.static_loss + control.clear_loss,
                    control.static_loss + control.broken_loss,
                ),
                start_rule: control.start,
                ..self
            })
        } else {
            Err(faults)
        }
    }

    /// What it misses of the maximum power of its strings.
    #[must_use]
    pub fn tracking(&self) -> TrackingLoss {
        self.tracking
    }

    /// When it starts on the sun.
    #[must_use]
    pub fn start_rule(&self) -> &StartRule {
        &self.start_rule
    }

    /// Limits and needs of its DC input.
    #[must_use]
    pub fn limits(&self) -> &DriveLimits {
        &self.limits
    }

    /// Name.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Losses as a function of the output.
    #[must_use]
    pub fn losses(&self) -> &LossCurve {
        &self.losses
    }

    /// Rated output \[W\].
    #[must_use]
    pub fn rated_power_w(&self) -> f64 {
        self.losses.rated_w()
    }

    /// Maximum output frequency \[Hz\], if the datasheet gives one.
    #[must_use]
    pub fn greatest_frequency_hz(&self) -> Option<f64> {
        self.greatest_frequency_hz
    }

    /// Allowance for voltage drops, a fraction.
    #[must_use]
    pub fn voltage_drop(&self) -> f64 {
        self.voltage_drop
    }

    /// Bus voltage \[V\] needed for full flux at a frequency f: √2·V_LL·(f/f0)·(1 + d).
    ///
    /// V_LL is the motor's rated voltage between phases \[V\], f0 its rated frequency \[Hz\], d the allowance for
    /// drops. √2·V_LL is the limit of space-vector modulation: the peak voltage between phases is the bus voltage
    /// (Holmes & Lipo 2003, Pulse Width Modulation for Power Converters).
    ///
    /// ```
    /// # use daylift_lift::{Drive, DriveSheet};
    /// # let drive = Drive::new(DriveSheet { name: String::new(), rated_power_w: 15e3,
    /// #     efficiency_points: vec![(1.0, 0.97)], greatest_frequency_hz: None, voltage_drop: 0.0 }).unwrap();
    /// // 400 V at 50 Hz without drops: 565.7 V
    /// assert!((drive.bus_voltage_need_v(50.0, 400.0, 50.0) - 565.7).abs() < 0.05);
    /// ```
    #[must_use]
    pub fn bus_voltage_need_v(&self, frequency_hz: f64, motor_voltage_v: f64, rated_frequency_hz: f64) -> f64 {
        SQRT_2 * motor_voltage_v * (frequency_hz / rated_frequency_hz) * (1.0 + self.voltage_drop)
    }
}

/// Bus voltage \[V\] from a six-pulse rectifier on mains with `line_v` between phases: 3√2/π of it, the mean of the
/// rectified voltage without drops.
///
/// ```
/// assert!((daylift_lift::rectified_v(400.0) - 540.2).abs() < 0.05);
/// ```
#[must_use]
pub fn rectified_v(line_v: f64) -> f64 {
    3.0 * SQRT_2 / PI * line_v
}

fn fit_losses(sheet: &DriveSheet) -> Result<LossCurve, Vec<Fault>> {
    let points = &sheet.efficiency_points;
    let efficiencies: Vec<f64> = points.iter().map(|point| point.1).collect();
    match drive::EFFICIENCY.given_as_fractions(&efficiencies, 0.01) {
        Some(fault) => Err(vec![fault]),
        None => LossCurve::fit(
            sheet.rated_power_w,
            points,
            drive::EFFICIENCY.key,
            "efficiency of the drive",
        ),
    }
}
