//! The motor: the electrical power it takes to turn the pump's shaft.

use daylift_units::conversion::losses_through;
use daylift_units::fields::motor as fields;
use daylift_units::fingerprint;
use daylift_units::fit::least_squares_non_negative;
use daylift_units::misfit::FOLLOW_POINTS;
use daylift_units::{CurveForm, Fault, Judged, Misfit, Pchip, Unit, Warning};

use crate::check::{Faults, print};

#[cfg(test)]
mod tests;

/// Values from a motor's datasheet.
#[derive(Debug, Clone, PartialEq)]
pub struct MotorSheet {
    /// Name.
    pub name: String,
    /// Rated shaft power \[W\].
    pub rated_power_w: f64,
    /// Rated frequency \[Hz\].
    pub rated_frequency_hz: f64,
    /// Rated voltage between phases \[V\].
    pub rated_voltage_v: f64,
    /// Load (shaft power over rated power) and efficiency, fractions.
    pub efficiency_points: Vec<(f64, f64)>,
    /// How the losses follow the efficiencies.
    pub curve: CurveForm,
    /// Lowest frequency for steady running \[Hz\].
    pub least_frequency_hz: f64,
    /// Rated current \[A\]; `None` where the datasheet does not give it.
    pub rated_current_a: Option<f64>,
    /// Power factor at full load; `None` where the datasheet does not give it.
    pub power_factor: Option<f64>,
    /// Flow that cools the motor \[m³/s\]; `None` where the datasheet asks for none.
    pub cooling_flow_m3_s: Option<f64>,
    /// Share of the rated current lost per kelvin of the water above 30 °C \[1/K\]; 0 for a motor outside the water.
    pub water_derating_per_k: f64,
}

fingerprint!(MotorSheet {
    name,
    rated_power_w,
    rated_frequency_hz,
    rated_voltage_v,
    efficiency_points,
    curve,
    least_frequency_hz,
    rated_current_a,
    power_factor,
    cooling_flow_m3_s,
    water_derating_per_k
});

/// Power factor at full load of a motor whose datasheet gives neither current nor power factor (usual practice).
pub(crate) const USUAL_POWER_FACTOR: f64 = 0.85;
/// Magnetising current at full flux, as a share of the rated current (usual practice, no source).
const MAGNETISING: f64 = 0.45;
/// Largest difference between a rated current and that of power, voltage, power factor and efficiency, a fraction.
const CONTRADICTION: f64 = 0.15;
/// Water temperature up to which a motor keeps its rating \[°C\].
const COOL_WATER_C: f64 = 30.0;

const JUDGED: Judged<'_> = Judged {
    key: fields::EFFICIENCY.key,
    quantity: "efficiency of the motor",
    unit: Unit::PERCENT,
    at: (Unit::PERCENT, "load"),
    of: "",
    otherwise: FOLLOW_POINTS,
};

/// A motor whose losses are split into a fixed part and one proportional to torque².
///
/// Losses at rated frequency and load y are F + V·y². With two points or more, F and V are a least-squares fit to the
/// losses at the datasheet's efficiencies, both at least 0. With one point the parts cannot be separated; they are
/// taken as equal at full load (usual practice).
///
/// Through the points the losses at rated frequency are instead a monotone curve through the datasheet's losses and
/// through (0, F), with F as fitted, but no more than the smallest loss given. Beyond the last load the loss grows as V·y².
#[derive(Debug, Clone, PartialEq)]
pub struct Motor {
    sheet: MotorSheet,
    fixed_w: f64,
    torque_w: f64,
    /// Losses over rated shaft power, as a function of the load; `None` for the two fitted parts.
    through: Option<Pchip>,
    misfit: Misfit,
}

fingerprint!(Motor { sheet } derived { fixed_w, torque_w, through, misfit });

impl Motor {
    /// A motor from its datasheet.
    ///
    /// # Errors
    /// Faults for power, frequencies, voltage, loads or efficiencies out of range, for points from which the two parts of
    /// the loss cannot be separated, and for fitted efficiencies more than 8 % from the datasheet. Through the points:
    /// faults for a load given twice, and where more shaft power would take less input.
    pub fn new(sheet: MotorSheet) -> Result<Self, Vec<Fault>> {
        let mut faults = Faults::default();
        check_plate(&sheet, &mut faults);
        check_points(&sheet, &mut faults);
        if !faults.is_empty() {
            return Err(faults.into_vec());
        }
        let Some([fixed, torque]) = split(&sheet.efficiency_points) else {
            return Err(vec![Fault::new(
                "load_pct",
                "loads of the motor's efficiencies",
                format!("{} points", sheet.efficiency_points.len()),
                "different loads",
                "give each load once",
            )]);
        };
        let mut motor = Self {
            fixed_w: fixed * sheet.rated_power_w,
            torque_w: torque * sheet.rated_power_w,
            through: None,
            misfit: Misfit::default(),
            sheet,
        };
        if let Some(fault) = motor.contradiction() {
            return Err(vec![fault]);
        }
        let points = &motor.sheet.efficiency_points;
        if motor.sheet.curve == CurveForm::ThroughPoints {
            let losses = losses_through(points, fixed, JUDGED.key, JUDGED.quantity)?;
            motor.fixed_w = losses.first().y * motor.sheet.rated_power_w;
            motor.through = Some(losses);
            return Ok(motor);
        }
        motor.misfit = Misfit::of_given(points.iter().map(|&(load, given)| (load, given, motor.efficiency(load))));
        motor.misfit.check(&JUDGED).map_err(|fault| vec![fault])?;
        Ok(motor)
    }

    /// A fault if rated current and power factor are given and contradict each other.
    fn contradiction(&self) -> Option<Fault> {
        let (current_a, power_factor) = (self.sheet.rated_current_a?, self.sheet.power_factor?);
        let worked_a = self.full_load_a(power_factor);
        ((current_a / worked_a - 1.0).abs() > CONTRADICTION).then(|| {
            Fault::new(
                fields::CURRENT.key,
                fields::CURRENT.quantity,
                fields::CURRENT.print_si(current_a),
                format!(
                    "within {:.0}% of {}, which follows from rated power, voltage, efficiency and `{}`",
                    100.0 * CONTRADICTION,
                    print(worked_a, Unit::A),
                    fields::POWER_FACTOR.key
                ),
                "compare the five values with the motor's plate: current and voltage belong to the same connection",
            )
        })
    }

    /// P/(√3·V·cos φ·η) at full load \[A\], η fitted.
    fn full_load_a(&self, power_factor: f64) -> f64 {
        self.rated_input_w() / (3.0_f64.sqrt() * self.sheet.rated_voltage_v * power_factor)
    }

    /// Name.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.sheet.name
    }

    /// Rated shaft power \[W\].
    #[must_use]
    pub fn rated_power_w(&self) -> f64 {
        self.sheet.rated_power_w
    }

    /// Rated frequency f0 \[Hz\].
    #[must_use]
    pub fn rated_frequency_hz(&self) -> f64 {
        self.sheet.rated_frequency_hz
    }

    /// Rated voltage between phases \[V\].
    #[must_use]
    pub fn rated_voltage_v(&self) -> f64 {
        self.sheet.rated_voltage_v
    }

    /// Lowest frequency \[Hz\].
    #[must_use]
    pub fn least_frequency_hz(&self) -> f64 {
        self.sheet.least_frequency_hz
    }

    /// Largest difference between the efficiencies of the fit and the datasheet; 0 through the points.
    #[must_use]
    pub fn misfit(&self) -> Misfit {
        self.misfit
    }

    /// A warning where the fitted efficiency is far from the datasheet.
    #[must_use]
    pub fn misfit_warning(&self) -> Option<Warning> {
        self.misfit.warning("motor", &self.sheet.name, &JUDGED)
    }

    /// How the losses follow the datasheet.
    #[must_use]
    pub fn curve(&self) -> CurveForm {
        self.sheet.curve
    }

    /// Power at the terminals \[W\] for a shaft power P \[W\] at a frequency ratio r: P + F·r^1.5 + V·t², with t =
    /// (P/P_rated)/r.
    ///
    /// The exponent 1.5 of the fixed part (iron, friction, windage) is between the 1 of hysteresis and the 2 of eddy
    /// currents at full flux (usual practice). Valid on mains and at full flux, for r from about 0.4 to 1.2. 0 at zero speed.
    ///
    /// Through the points, with L the losses at rated frequency: P + L(t) − F·(1 − r^1.5).
    #[must_use]
    pub fn input_w(&self, shaft_w: f64, ratio: f64) -> f64 {
        let (shaft_w, ratio) = (shaft_w.max(0.0), ratio.max(0.0));
        if ratio <= 0.0 {
            return 0.0;
        }
        let [fixed_w, torque_w] = self.losses_w(shaft_w, ratio);
        shaft_w + fixed_w + torque_w
    }

    /// The two losses \[W\] at full flux and without harmonics, for a shaft power \[W\] at a frequency ratio r: the fixed
    /// part F·r^1.5, and V·t² which is proportional to torque² (through the points: L(t) − F).
    #[must_use]
    pub fn losses_w(&self, shaft_w: f64, ratio: f64) -> [f64; 2] {
        let torque = self.torque(shaft_w, ratio);
        let ratio = ratio.max(0.0);
        let with_torque_w = match &self.through {
            Some(losses) => self.loss_through_w(losses, torque) - self.fixed_w,
            None => self.torque_w * torque * torque,
        };
        [self.fixed_w * ratio * ratio.sqrt(), with_torque_w]
    }

    /// Torque t as a share of the rated torque, for a shaft power \[W\] at a frequency ratio r; 0 at zero speed.
    #[must_use]
    pub fn torque(&self, shaft_w: f64, ratio: f64) -> f64 {
        if ratio > 0.0 {
            shaft_w.max(0.0) / (self.sheet.rated_power_w * ratio)
        } else {
            0.0
        }
    }

    /// Current as a share of the rated current, at a torque t and a flux φ (shares of the rated ones):
    /// √((0.45·φ)² + (1 − 0.45²)·(t/φ)²), a magnetising part and one with the torque (usual practice, no source).
    ///
    /// ```
    /// // Full flux: 1 at rated torque, 0.45 without torque.
    /// assert!((daylift_lift::Motor::current(1.0, 1.0) - 1.0).abs() < 1e-12);
    /// assert!((daylift_lift::Motor::current(0.0, 1.0) - 0.45).abs() < 1e-12);
    /// ```
    #[must_use]
    pub fn current(torque: f64, flux: f64) -> f64 {
        let (magnetising, working) = (MAGNETISING * flux, torque / flux);
        (magnetising * magnetising + (1.0 - MAGNETISING * MAGNETISING) * working * working).sqrt()
    }

    /// The lowest flux, a share of full flux, at which the current stays within `most` (a share of the rated current);
    /// `None` where no flux does.
    ///
    /// With x = φ²: 0.45²·x² − most²·x + (1 − 0.45²)·t² ≤ 0.
    #[must_use]
    pub fn least_flux(torque: f64, most: f64) -> Option<f64> {
        let (a, b) = (MAGNETISING * MAGNETISING, most * most);
        let c = (1.0 - a) * torque * torque;
        let discriminant = b * b - 4.0 * a * c;
        (discriminant >= 0.0).then(|| (2.0 * c / (b + discriminant.sqrt())).sqrt())
    }

    /// Rated current \[A\]: as given, else from power, voltage, efficiency and power factor.
    #[must_use]
    pub fn rated_current_a(&self) -> f64 {
        let power_factor = self.sheet.power_factor.unwrap_or(USUAL_POWER_FACTOR);
        self.sheet.rated_current_a.unwrap_or_else(|| self.full_load_a(power_factor))
    }

    /// Whether the datasheet gives the rated current, so that the drive's maximum current is set to it.
    #[must_use]
    pub fn gives_current(&self) -> bool {
        self.sheet.rated_current_a.is_some()
    }

    /// Flow that cools the motor \[m³/s\]; 0 where none is asked for.
    #[must_use]
    pub fn cooling_flow_m3_s(&self) -> f64 {
        self.sheet.cooling_flow_m3_s.unwrap_or(0.0)
    }

    /// Share of its rating that the motor keeps in water of this temperature \[°C\]: all of it up to 30 °C.
    #[must_use]
    pub fn water_derating(&self, water_c: f64) -> f64 {
        (1.0 - self.sheet.water_derating_per_k * (water_c - COOL_WATER_C).max(0.0)).max(0.0)
    }

    /// Losses at rated frequency \[W\] at a load, through the points; above the last load they grow as V·y².
    fn loss_through_w(&self, losses: &Pchip, load: f64) -> f64 {
        let last = losses.last().x;
        let beyond = (load * load - last * last).max(0.0);
        losses.at(load.min(last)) * self.sheet.rated_power_w + self.torque_w * beyond
    }

    /// Power at the terminals at rated shaft power and frequency \[W\].
    #[must_use]
    pub fn rated_input_w(&self) -> f64 {
        self.input_w(self.sheet.rated_power_w, 1.0)
    }

    /// Efficiency, a fraction, at a load (shaft power over rated power) and rated frequency.
    #[must_use]
    pub fn efficiency(&self, load: f64) -> f64 {
        let shaft_w = load.max(0.0) * self.sheet.rated_power_w;
        let input_w = self.input_w(shaft_w, 1.0);
        if input_w > 0.0 { shaft_w / input_w } else { 0.0 }
    }
}

/// F and V as fractions of rated shaft power.
fn split(points: &[(f64, f64)]) -> Option<[f64; 2]> {
    let loss = |&(load, efficiency): &(f64, f64)| load * (1.0 / efficiency - 1.0);
    if let [point] = points {
        let half = loss(point) / (1.0 + point.0 * point.0);
        return Some([half, half]);
    }
    let rows: Vec<[f64; 2]> = points.iter().map(|(load, _)| [1.0, load * load]).collect();
    let losses: Vec<f64> = points.iter().map(loss).collect();
    least_squares_non_negative(&rows, &losses)
}

fn check_plate(sheet: &MotorSheet, faults: &mut Faults) {
    faults.field(&fields::RATED, sheet.rated_power_w);
    faults.field(&fields::FREQUENCY, sheet.rated_frequency_hz);
    faults.field(&fields::VOLTAGE, sheet.rated_voltage_v);
    faults.field(&fields::LEAST, sheet.least_frequency_hz);
    let given = [
        (&fields::CURRENT, sheet.rated_current_a),
        (&fields::POWER_FACTOR, sheet.power_factor),
        (&fields::COOLING_FLOW, sheet.cooling_flow_m3_s),
        (&fields::WATER_DERATING, Some(sheet.water_derating_per_k)),
    ];
    for (field, value) in given {
        if let Some(value) = value {
            faults.field(field, value);
        }
    }
    if sheet.least_frequency_hz > sheet.rated_frequency_hz {
        faults.push(Fault::new(
            fields::LEAST.key,
            fields::LEAST.quantity,
            fields::LEAST.print_si(sheet.least_frequency_hz),
            format!(
                "up to the rated frequency, {}",
                fields::FREQUENCY.print_si(sheet.rated_frequency_hz)
            ),
            "compare the two with the motor's datasheet",
        ));
    }
}

fn check_points(sheet: &MotorSheet, faults: &mut Faults) {
    if sheet.efficiency_points.is_empty() {
        faults.push(Fault::new(
            fields::EFFICIENCY.key,
            "efficiencies of the motor",
            "no points",
            "at least one pair of load and efficiency",
            "copy the efficiencies at full and part load from the datasheet",
        ));
    }
    for point in &sheet.efficiency_points {
        faults.field(&fields::LOAD, point.0);
    }
    let efficiencies: Vec<f64> = sheet.efficiency_points.iter().map(|point| point.1).collect();
    match fields::EFFICIENCY.given_as_fractions(&efficiencies, 0.01) {
        Some(fault) => faults.push(fault),
        None => efficiencies.iter().for_each(|&value| faults.field(&fields::EFFICIENCY, value)),
    }
}
