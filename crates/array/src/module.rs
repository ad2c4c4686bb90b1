//! PV module: five parameters fitted to a datasheet, and its curve at any irradiance and temperature.

use daylift_units::constants::{BOLTZMANN_EV_K, ZERO_CELSIUS_K};
use daylift_units::fingerprint;
use daylift_units::{Fault, root};

use crate::curve::Curve;
use crate::limits::ModuleLimits;
use crate::parameters::ReferenceParameters;
use crate::sheet::ModuleSheet;

#[cfg(test)]
mod tests;

/// Irradiance of standard test conditions \[W/m²\].
const REFERENCE_W_M2: f64 = 1000.0;
/// Cell temperature of standard test conditions \[K\].
const REFERENCE_K: f64 = 25.0 + ZERO_CELSIUS_K;
/// Band gap of silicon at the reference temperature \[eV\] (De Soto et al. 2006).
const BAND_GAP_EV: f64 = 1.121;
/// Relative change of the band gap with temperature \[1/K\] (De Soto et al. 2006).
const BAND_GAP_PER_K: f64 = -0.000_267_7;
/// Temperature step above the reference at which the fit must match β \[K\].
///
/// De Soto et al. (2006) do not fix it (1 to 10 K give nearly the same). 2 K is the step of pvlib's `fit_desoto`, whose
/// published test values this crate is tested against. With 10 K, V_oc at 50 °C would be 0.013 % higher.
const COEFFICIENT_STEP_K: f64 = 2.0;
/// Range of the ideality factor in the search; silicon modules have 0.8 to 1.6.
const IDEALITY: (f64, f64) = (0.3, 2.5);

/// A module fitted to its datasheet.
///
/// De Soto, W., Klein, S. A., Beckman, W. A. (2006), *Improvement and validation of a model for photovoltaic array
/// performance*, Solar Energy 80, 78–88. For crystalline silicon.
#[derive(Debug, Clone, PartialEq)]
pub struct Module {
    sheet: ModuleSheet,
    reference: ReferenceParameters,
    limits: ModuleLimits,
}

fingerprint!(Module { sheet, limits } derived { reference });

impl Module {
    /// Fits the five parameters to a datasheet.
    ///
    /// The curve passes through the short-circuit, open-circuit and maximum-power points. At the last, dP/dV is 0, and
    /// at 27 °C the open-circuit voltage is V_oc + 2·β. For given a and R_s, linear equations give I_L, I_0 and 1/R_sh.
    /// R_s is the root of dP/dV = 0 for each a, and a the root of the condition on β.
    ///
    /// # Errors
    /// All faults of the datasheet; or one fault when no single-diode curve has these values.
    pub fn new(sheet: ModuleSheet) -> Result<Self, Vec<Fault>> {
        let faults = sheet.faults();
        if !faults.is_empty() {
            return Err(faults);
        }
        let fit = Fit { sheet: &sheet }.run();
        let reference = fit.ok_or_else(|| vec![no_fit(&sheet)])?;
        Ok(Self {
            sheet,
            reference,
            limits: ModuleLimits::default(),
        })
    }

    /// The same module with these limits; the defaults are usual practice.
    ///
    /// # Errors
    /// A fault for each limit outside its range.
    pub fn with_limits(self, limits: ModuleLimits) -> Result<Self, Vec<Fault>> {
        let faults = limits.faults();
        if faults.is_empty() {
            Ok(Self { limits, ..self })
        } else {
            Err(faults)
        }
    }

    /// Limits of the module.
    #[must_use]
    pub fn limits(&self) -> &ModuleLimits {
        &self.limits
    }

    /// The datasheet.
    #[must_use]
    pub fn sheet(&self) -> &ModuleSheet {
        &self.sheet
    }

    /// The fitted parameters at 1000 W/m² and 25 °C.
    #[must_use]
    pub fn reference_parameters(&self) -> ReferenceParameters {
        self.reference
    }

    /// The curve at an effective irradiance S \[W/m²\] and a cell temperature \[°C\].
    ///
    /// With T in kelvin: I_L = S/1000·(I_L,ref + α·(T − T_ref)); I_0 = I_0,ref·(T/T_ref)³·e^(E_g,ref/kT_ref − E_g/kT);
    /// a = a_ref·T/T_ref; R_sh = R_sh,ref·1000/S; R_s constant (De Soto et al. 2006). The curve has no current for S ≤ 0 and
    /// for values that are not finite. Valid from −40 to 100 °C; the temperature is clamped to −100 to 200 °C.
    #[must_use]
    pub fn curve(&self, effective_w_m2: f64, cell_c: f64) -> Curve {
        if !(effective_w_m2 > 0.0 && effective_w_m2.is_finite() && cell_c.is_finite()) {
            return Curve::DARK;
        }
        let r = &self.reference;
        let cell_k = cell_c.clamp(-100.0, 200.0) + ZERO_CELSIUS_K;
        let sun = effective_w_m2 / REFERENCE_W_M2;
        Curve::new(ReferenceParameters {
            light_a: sun * (r.light_a + self.sheet.short_circuit_a_per_k * (cell_k - REFERENCE_K)),
            saturation_a: r.saturation_a * saturation_ratio(cell_k),
            series_ohm: r.series_ohm,
            shunt_s: r.shunt_s * sun,
            thermal_v: r.thermal_v * cell_k / REFERENCE_K,
        })
    }
}

/// I_0 at a temperature, divided by I_0 at the reference temperature.
fn saturation_ratio(cell_k: f64) -> f64 {
    let ratio = cell_k / REFERENCE_K;
    let band_gap_ev = BAND_GAP_EV * (1.0 + BAND_GAP_PER_K * (cell_k - REFERENCE_K));
    let exponent = BAND_GAP_EV / (BOLTZMANN_EV_K * REFERENCE_K) - band_gap_ev / (BOLTZMANN_EV_K * cell_k);
    ratio * ratio * ratio * exponent.exp()
}

fn no_fit(sheet: &ModuleSheet) -> Fault {
    Fault::new(
        "open_circuit_v_per_k",
        "module datasheet as a whole",
        format!(
            "{} A, {} V; {} A at {} V; {} A/K, {} V/K; {} cells",
            sheet.short_circuit_a,
            sheet.open_circuit_v,
            sheet.max_power_a,
            sheet.max_power_v,
            sheet.short_circuit_a_per_k,
            sheet.open_circuit_v_per_k,
            sheet.cells
        ),
        "values that fit the single-diode model, with series and shunt resistance not negative",
        "compare all seven with the datasheet's column for standard test conditions; the temperature coefficient of the \
         open-circuit voltage is the most frequent error",
    )
}

/// The search for the five parameters.
struct Fit<'a> {
    sheet: &'a ModuleSheet,
}

impl Fit<'_> {
    /// The condition on β falls with a over the whole range. The condition on dP/dV falls with R_s beyond its only
    /// root. Both brackets therefore contain at most one root.
    fn run(&self) -> Option<ReferenceParameters> {
        let cell_v = f64::from(self.sheet.cells) * BOLTZMANN_EV_K * REFERENCE_K;
        let (low, high) = IDEALITY;
        let residual = |ideality: f64| self.warm_current(&self.at(ideality * cell_v));
        let ideality = root::bracketed(low, high, residual)?;
        let found = self.at(ideality * cell_v);
        let values = [found.light_a, found.saturation_a, found.thermal_v, found.series_ohm];
        let real = values.iter().all(|x| x.is_finite() && *x > 0.0) && found.shunt_s >= 0.0;
        let level = self.power_slope(&found).abs() < 1e-9;
        (real && level).then_some(found)
    }

    /// Parameters for a given a, with R_s from dP/dV = 0. If the curve is too flat at the maximum-power point even
    /// with R_s = 0, R_s is 0.
    fn at(&self, thermal_v: f64) -> ReferenceParameters {
        let greatest_ohm = (self.sheet.open_circuit_v - self.sheet.max_power_v) / self.sheet.max_power_a;
        let residual = |share: f64| self.power_slope(&self.linear(thermal_v, share * greatest_ohm));
        let share = if residual(0.0) <= 0.0 {
            0.0
        } else {
            root::bracketed(0.0, 1.0 - 1e-6, residual).unwrap_or(0.0)
        };
        self.linear(thermal_v, share * greatest_ohm)
    }

    /// I_L, I_0 and 1/R_sh from the three points, for given a and R_s.
    ///
    /// Subtracting the open-circuit equation from the other two leaves two unknowns: the diode current at open circuit,
    /// I_0·e^(V_oc/a), and 1/R_sh.
    fn linear(&self, thermal_v: f64, series_ohm: f64) -> ReferenceParameters {
        let s = self.sheet;
        let below_sc = s.open_circuit_v - s.short_circuit_a * series_ohm;
        let below_mp = s.open_circuit_v - s.max_power_v - s.max_power_a * series_ohm;
        let diode_sc = -(-below_sc / thermal_v).exp_m1();
        let diode_mp = -(-below_mp / thermal_v).exp_m1();
        let determinant = diode_sc * below_mp - diode_mp * below_sc;
        let diode_a = (s.short_circuit_a * below_mp - s.max_power_a * below_sc) / determinant;
        let shunt_s = (diode_sc * s.max_power_a - diode_mp * s.short_circuit_a) / determinant;
        let saturation_a = diode_a * (-s.open_circuit_v / thermal_v).exp();
        ReferenceParameters {
            light_a: diode_a - saturation_a + shunt_s * s.open_circuit_v,
            saturation_a,
            series_ohm,
            shunt_s,
            thermal_v,
        }
    }

    /// dP/dV at the maximum-power point, multiplied by (1 + g·R_s)/I_mp: 1 − g·(V_mp − I_mp·R_s)/I_mp, with the
    /// junction's conductance g.
    fn power_slope(&self, p: &ReferenceParameters) -> f64 {
        let s = self.sheet;
        let junction_v = s.max_power_v + s.max_power_a * p.series_ohm;
        let conductance_s = p.saturation_a / p.thermal_v * (junction_v / p.thermal_v).exp() + p.shunt_s;
        1.0 - conductance_s * (s.max_power_v - s.max_power_a * p.series_ohm) / s.max_power_a
    }

    /// Current at V_oc + 2·β and 27 °C, divided by I_sc; 0 for the right a.
    fn warm_current(&self, p: &ReferenceParameters) -> f64 {
        let s = self.sheet;
        let warm_k = REFERENCE_K + COEFFICIENT_STEP_K;
        let warm_v = s.open_circuit_v + COEFFICIENT_STEP_K * s.open_circuit_v_per_k;
        let thermal_v = p.thermal_v * warm_k / REFERENCE_K;
        let diode_a = p.saturation_a * saturation_ratio(warm_k) * (warm_v / thermal_v).exp_m1();
        let light_a = p.light_a + COEFFICIENT_STEP_K * s.short_circuit_a_per_k;
        (light_a - diode_a - p.shunt_s * warm_v) / s.short_circuit_a
    }
}
