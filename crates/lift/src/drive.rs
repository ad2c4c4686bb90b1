//! The drive (variable-frequency drive): its losses, its rating and the bus voltage it needs.

use std::f64::consts::{PI, SQRT_2};

use daylift_units::fields::drive;
use daylift_units::fingerprint;
use daylift_units::{CurveForm, Fault, LossCurve, TrackingLoss, Warning};

use crate::check::Faults;
use crate::start::StartRule;

#[cfg(test)]
mod tests;

const EFFICIENCY: &str = "efficiency of the drive";

/// Values from a drive's datasheet.
#[derive(Debug, Clone, PartialEq)]
pub struct DriveSheet {
    /// Name.
    pub name: String,
    /// Rated output \[W\].
    pub rated_power_w: f64,
    /// Load (output over rated output) and efficiency, fractions.
    pub efficiency_points: Vec<(f64, f64)>,
    /// How the losses follow the efficiencies.
    pub curve: CurveForm,
    /// Maximum output frequency \[Hz\]; the motor's rated frequency when `None`.
    pub greatest_frequency_hz: Option<f64>,
    /// Allowance d for the voltage drops in drive and cable, a fraction.
    pub voltage_drop: f64,
    /// What its output can carry, and how low it may set the motor's flux.
    pub rating: DriveRating,
}

/// Output current, derating and least flux of a drive.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DriveRating {
    /// Rated output current \[A\].
    pub current_a: Option<f64>,
    /// Power factor of the motor at which it gives its rated output; it matters only without a rated current.
    pub power_factor: Option<f64>,
    /// Lowest flux that it sets, a fraction of full flux.
    pub least_flux: f64,
    /// Share of the rating lost per metre above the rated altitude \[1/m\].
    pub altitude_derating_per_m: f64,
    /// Altitude up to which it keeps its rating \[m\].
    pub rated_altitude_m: f64,
    /// Share of the rating lost per kelvin above the rated temperature \[1/K\].
    pub heat_derating_per_k: f64,
    /// Temperature of the air in the cabinet up to which it keeps its rating \[°C\].
    pub rated_temperature_c: f64,
    /// Temperature of the air in the cabinet above that outside \[K\].
    pub cabinet_rise_k: f64,
}

fingerprint!(DriveRating {
    current_a,
    power_factor,
    least_flux,
    altitude_derating_per_m,
    rated_altitude_m,
    heat_derating_per_k,
    rated_temperature_c,
    cabinet_rise_k
});

impl DriveRating {
    /// Unknown current, full flux only, no derating.
    pub const PLAIN: Self = Self {
        current_a: None,
        power_factor: None,
        least_flux: 1.0,
        altitude_derating_per_m: 0.0,
        rated_altitude_m: 1000.0,
        heat_derating_per_k: 0.0,
        rated_temperature_c: 40.0,
        cabinet_rise_k: 10.0,
    };

    /// D_h: share of the rating that it keeps at an altitude \[m\].
    #[must_use]
    pub fn at_altitude(&self, altitude_m: f64) -> f64 {
        (1.0 - self.altitude_derating_per_m * (altitude_m - self.rated_altitude_m).max(0.0)).max(0.0)
    }

    /// D_T: share of the rating that it keeps at a temperature of the air outside \[°C\].
    ///
    /// ```
    /// # use daylift_lift::DriveRating;
    /// let rating = DriveRating { heat_derating_per_k: 0.015, ..DriveRating::PLAIN };
    /// // 38 °C outside are 48 °C in the cabinet, 8 K above 40 °C: 12 % less.
    /// assert!((rating.at_air(38.0) - 0.88).abs() < 1e-12);
    /// ```
    #[must_use]
    pub fn at_air(&self, air_c: f64) -> f64 {
        let above_k = (air_c + self.cabinet_rise_k - self.rated_temperature_c).max(0.0);
        (1.0 - self.heat_derating_per_k * above_k).max(0.0)
    }

    fn check(&self, faults: &mut Faults) {
        let values = [
            (&drive::CURRENT, self.current_a),
            (&drive::POWER_FACTOR, self.power_factor),
            (&drive::LEAST_FLUX, Some(self.least_flux)),
            (&drive::ALTITUDE_DERATING, Some(self.altitude_derating_per_m)),
            (&drive::RATED_ALTITUDE, Some(self.rated_altitude_m)),
            (&drive::HEAT_DERATING, Some(self.heat_derating_per_k)),
            (&drive::RATED_TEMPERATURE, Some(self.rated_temperature_c)),
            (&drive::CABINET_RISE, Some(self.cabinet_rise_k)),
        ];
        for (field, value) in values {
            if let Some(value) = value {
                faults.field(field, value);
            }
        }
    }
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
    rating: DriveRating,
    limits: DriveLimits,
    tracking: TrackingLoss,
    start_rule: StartRule,
}

fingerprint!(Drive {
    name,
    losses,
    greatest_frequency_hz,
    voltage_drop,
    rating,
    limits,
    tracking,
    start_rule
});

impl Drive {
    /// A drive from its datasheet, with losses p0 + p1·x + p2·x² by least squares, or through the points (see
    /// [`LossCurve`]).
    ///
    /// # Errors
    /// Faults for power, frequency, allowance, rating, loads or efficiencies out of range, and for losses too far from the
    /// datasheet.
    pub fn new(sheet: DriveSheet) -> Result<Self, Vec<Fault>> {
        let mut faults = Faults::default();
        faults.field(&drive::RATED, sheet.rated_power_w);
        faults.field(&drive::DROP, sheet.voltage_drop);
        sheet.rating.check(&mut faults);
        if let Some(hz) = sheet.greatest_frequency_hz {
            faults.field(&drive::GREATEST, hz);
        }
        match fit_losses(&sheet) {
            Ok(losses) => faults.or(|| Self {
                name: sheet.name,
                losses,
                greatest_frequency_hz: sheet.greatest_frequency_hz,
                voltage_drop: sheet.voltage_drop,
                rating: sheet.rating,
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

    /// A warning where the losses are far from the datasheet.
    #[must_use]
    pub fn misfit_warning(&self) -> Option<Warning> {
        self.losses.misfit_warning("drive", &self.name, EFFICIENCY)
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

    /// Allowance for voltage drops in drive and cable, a fraction.
    #[must_use]
    pub fn voltage_drop(&self) -> f64 {
        self.voltage_drop
    }

    /// Output current, derating and least flux.
    #[must_use]
    pub fn rating(&self) -> &DriveRating {
        &self.rating
    }

    /// Rated output current \[A\] with a motor of this voltage between phases \[V\]; `None` where neither current nor
    /// power factor is given.
    #[must_use]
    pub fn rated_current_a(&self, motor_voltage_v: f64) -> Option<f64> {
        let worked_a = |power_factor: f64| self.rated_power_w() / (3.0_f64.sqrt() * motor_voltage_v * power_factor);
        self.rating.current_a.or_else(|| self.rating.power_factor.map(worked_a))
    }

    /// Bus voltage \[V\] needed for full flux at a frequency f: √2·V_LL·(f/f0)·(1 + d + d_f).
    ///
    /// V_LL is the motor's rated voltage between phases \[V\], f0 its rated frequency \[Hz\], d the allowance for
    /// drops in drive and cable, d_f the drop of the output filter. √2·V_LL is the limit of space-vector modulation: the peak voltage between phases is the bus voltage
    /// (Holmes & Lipo 2003, Pulse Width Modulation for Power Converters).
    ///
    /// ```
    /// # use daylift_lift::{Drive, DriveRating, DriveSheet};
    /// # let drive = Drive::new(DriveSheet { name: String::new(), rated_power_w: 15e3,
    /// #     efficiency_points: vec![(1.0, 0.97)], curve: Default::default(), greatest_frequency_hz: None,
    /// #     voltage_drop: 0.0, rating: DriveRating::PLAIN }).unwrap();
    /// // 400 V at 50 Hz without drops: 565.7 V
    /// assert!((drive.bus_voltage_need_v(50.0, 400.0, 50.0, 0.0) - 565.7).abs() < 0.05);
    /// ```
    #[must_use]
    pub fn bus_voltage_need_v(
        &self,
        frequency_hz: f64,
        motor_voltage_v: f64,
        rated_frequency_hz: f64,
        filter_drop: f64,
    ) -> f64 {
        SQRT_2 * motor_voltage_v * (frequency_hz / rated_frequency_hz) * (1.0 + self.voltage_drop + filter_drop)
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
        None => LossCurve::new(
            sheet.curve,
            sheet.rated_power_w,
            points,
            drive::EFFICIENCY.key,
            EFFICIENCY,
        ),
    }
}
