//! A pipe: friction along it and losses at its fittings.

use daylift_units::fingerprint;
use std::f64::consts::PI;

use daylift_units::Fault;
use daylift_units::constants::GRAVITY_M_S2;
use daylift_units::fields::pipe as fields;

use crate::check::Faults;
use crate::water::Water;

#[cfg(test)]
mod tests;

/// Highest Reynolds number of laminar flow.
const LAMINAR_RE: f64 = 2000.0;
/// Lowest Reynolds number of turbulent flow.
pub(crate) const TURBULENT_RE: f64 = 4000.0;
/// x = 1/√f in the middle of the Moody diagram, f ≈ 0.02: the start of a search for x without a better guess.
pub(crate) const MIDDLE_X: f64 = 7.0;
/// Maximum steps of Newton's method; from [`MIDDLE_X`] four suffice for every pipe.
const MOST_ROUNDS: u32 = 20;
/// Largest relative roughness in the Moody diagram (Moody 1944).
const ROUGHEST: f64 = 0.05;

/// Pipe data as read from the plant file.
#[derive(Debug, Clone, PartialEq)]
pub struct PipeSheet {
    /// Name, e.g. `rising main`.
    pub name: String,
    /// Inner diameter \[m\].
    pub bore_m: f64,
    /// Length \[m\].
    pub length_m: f64,
    /// Absolute roughness ε \[m\].
    pub roughness_m: f64,
    /// Sum of the loss coefficients K of the fittings.
    pub fittings_k: f64,
}

fingerprint!(PipeSheet {
    name,
    bore_m,
    length_m,
    roughness_m,
    fittings_k
});

/// A checked pipe.
#[derive(Debug, Clone, PartialEq)]
pub struct Pipe {
    sheet: PipeSheet,
}

fingerprint!(Pipe { sheet });

impl Pipe {
    /// Checks the data of a pipe.
    ///
    /// # Errors
    /// Faults for a bore, length, roughness or K out of range, and for a roughness beyond the Moody diagram.
    pub fn new(sheet: PipeSheet) -> Result<Self, Vec<Fault>> {
        let mut faults = Faults::default();
        let which = format!("of pipe \"{}\"", sheet.name);
        faults.field_of(&fields::BORE, sheet.bore_m, &which);
        faults.field_of(&fields::LENGTH, sheet.length_m, &which);
        faults.field_of(&fields::FITTINGS, sheet.fittings_k, &which);
        faults.field_of(&fields::ROUGHNESS, sheet.roughness_m, &which);
        let roughest_m = ROUGHEST * sheet.bore_m;
        if faults.is_empty() && sheet.roughness_m > roughest_m {
            faults.push(Fault::new(
                fields::ROUGHNESS.key,
                format!("{} {which}", fields::ROUGHNESS.quantity),
                fields::ROUGHNESS.print_si(sheet.roughness_m),
                format!(
                    "up to {}, a twentieth of the bore (Moody 1944)",
                    fields::ROUGHNESS.print_si(roughest_m)
                ),
                "correct `roughness_mm` or `bore_mm`; both are in mm",
            ));
        }
        faults.or(|| Self { sheet })
    }

    /// The data of the pipe.
    #[must_use]
    pub fn sheet(&self) -> &PipeSheet {
        &self.sheet
    }

    /// Name.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.sheet.name
    }

    /// Mean velocity \[m/s\] at a flow \[m³/s\].
    #[must_use]
    pub fn velocity_m_s(&self, flow_m3_s: f64) -> f64 {
        flow_m3_s.max(0.0) / (PI / 4.0 * self.sheet.bore_m.powi(2))
    }

    /// Reynolds number v·D/ν at a flow \[m³/s\].
    #[must_use]
    pub fn reynolds(&self, flow_m3_s: f64, water: &Water) -> f64 {
        self.velocity_m_s(flow_m3_s) * self.sheet.bore_m / water.kinematic_viscosity_m2_s()
    }

    /// Friction along the pipe \[m\] at a flow \[m³/s\]: h = f·(L/D)·v²/2g (Darcy–Weisbach; Weisbach 1845).
    #[must_use]
    pub fn friction_m(&self, flow_m3_s: f64, water: &Water) -> f64 {
        let re = self.reynolds(flow_m3_s, water);
        if re <= 0.0 {
            return 0.0;
        }
        let f = darcy_friction_factor(re, self.sheet.roughness_m / self.sheet.bore_m);
        f * self.sheet.length_m / self.sheet.bore_m * self.velocity_head_m(flow_m3_s)
    }

    /// Loss at the fittings \[m\] at a flow \[m³/s\]: h = ΣK·v²/2g.
    #[must_use]
    pub fn fittings_m(&self, flow_m3_s: f64) -> f64 {
        self.sheet.fittings_k * self.velocity_head_m(flow_m3_s)
    }

    /// v²/2g \[m\] at a flow \[m³/s\].
    pub(crate) fn velocity_head_m(&self, flow_m3_s: f64) -> f64 {
        self.velocity_m_s(flow_m3_s).powi(2) / (2.0 * GRAVITY_M_S2)
    }
}

/// Darcy friction factor f of a round pipe.
///
/// - Re ≤ 2000, laminar: f = 64/Re (Hagen–Poiseuille);
/// - Re ≥ 4000, turbulent: 1/√f = −2·log₁₀(ε/(3.7·D) + 2.51/(Re·√f)) (Colebrook 1939, J. Inst. Civ. Eng. 11, 133–156),
///   solved to 1e-12;
/// - between them linear in Re (usual practice: the flow is unstable there and no formula holds).
///
/// `reynolds` is above 0, `relative_roughness` ε/D from 0 to 0.05. A Reynolds number of 0, below 0 or NaN gives 0.
///
/// ```
/// // Re = 10⁵, ε/D = 0.001, solved independently: f = 0.02217
/// assert!((daylift_lift::darcy_friction_factor(1e5, 1e-3) - 0.022_17).abs() < 6e-6);
/// ```
#[must_use]
pub fn darcy_friction_factor(reynolds: f64, relative_roughness: f64) -> f64 {
    if reynolds > 0.0 {
        friction(reynolds, rough_term(relative_roughness), MIDDLE_X).factor
    } else {
        0.0
    }
}

/// ε/(3.7·D): the wall's term in the argument of Colebrook's logarithm.
pub(crate) fn rough_term(relative_roughness: f64) -> f64 {
    relative_roughness.max(0.0) / 3.7
}

/// A friction factor f and its slope df/d(ln Re).
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Friction {
    pub(crate) factor: f64,
    pub(crate) slope: f64,
}

/// The friction factor of [`darcy_friction_factor`] with its slope, for a positive Reynolds number and the wall's
/// [`rough_term`].
///
/// `near_x` is a guess of 1/√f. A better guess needs fewer steps; the result is the same.
#[inline]
pub(crate) fn friction(re: f64, rough_term: f64, near_x: f64) -> Friction {
    if re >= TURBULENT_RE {
        return colebrook(re, rough_term, near_x);
    }
    if re <= LAMINAR_RE {
        let factor = 64.0 / re;
        return Friction { factor, slope: -factor };
    }
    let laminar = 64.0 / LAMINAR_RE;
    let per_re = (colebrook(TURBULENT_RE, rough_term, near_x).factor - laminar) / (TURBULENT_RE - LAMINAR_RE);
    Friction {
        factor: laminar + per_re * (re - LAMINAR_RE),
        slope: per_re * re,
    }
}

/// Colebrook's friction factor with Newton's method in x = 1/√f.
///
/// With a = ε/(3.7·D), b = 2.51/Re and k = 2/ln 10, the equation is F(x) = x + k·ln(a + b·x) = 0. F rises and is
/// concave, so Newton's method converges. F is also nearly straight (F″ ≈ −k/x²): an error e leaves less than 0.03·e²
/// after a step, so a last step below 1e-6 leaves less than 3e-14. Along the solution, dx/d(ln Re) = x·k·b/(a + b·x +
/// k·b).
#[inline]
fn colebrook(re: f64, a: f64, near_x: f64) -> Friction {
    const K: f64 = 2.0 * std::f64::consts::LOG10_E;
    let b = 2.51 / re;
    let mut x = near_x;
    let mut share = 0.0;
    for _ in 0..MOST_ROUNDS {
        let argument = a + b * x;
        let inverse = 1.0 / (argument + K * b);
        let step = (x + K * argument.ln()) * argument * inverse;
        share = K * b * inverse;
        x -= step;
        if step.abs() < 1e-6 {
            break;
        }
    }
    let factor = 1.0 / (x * x);
    Friction {
        factor,
        slope: -2.0 * factor * share,
    }
}
