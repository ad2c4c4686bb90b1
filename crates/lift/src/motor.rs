//! The motor: the electrical power it takes to turn the pump's shaft.

use daylift_units::conversion::losses_through;
use daylift_units::fields::motor as fields;
use daylift_units::fingerprint;
use daylift_units::fit::least_squares_non_negative;
use daylift_units::misfit::FOLLOW_POINTS;
use daylift_units::{CurveForm, Fault, Judged, Misfit, Pchip, Unit, Warning};

use crate::check::Faults;

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
}

fingerprint!(MotorSheet {
    name,
    rated_power_w,
    rated_frequency_hz,
    rated_voltage_v,
    efficiency_points,
    curve,
    least_frequency_hz
});

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
    /// currents at full flux (usual practice). Valid at full flux, for r from about 0.4 to 1.2. 0 at zero speed.
    ///
    /// Through the points, with L the losses at rated frequency: P + L(t) − F·(1 − r^1.5).
    #[must_use]
    pub fn input_w(&self, shaft_w: f64, ratio: f64) -> f64 {
        let (shaft_w, ratio) = (shaft_w.max(0.0), ratio.max(0.0));
        if ratio <= 0.0 {
            return 0.0;
        }
        let torque = shaft_w / (self.sheet.rated_power_w * ratio);
        if let Some(losses) = &self.through {
            return shaft_w + self.loss_through_w(losses, torque) - self.fixed_w * (1.0 - ratio * ratio.sqrt());
        }
        shaft_w + self.fixed_w * ratio * ratio.sqrt() + self.torque_w * torque * torque
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
