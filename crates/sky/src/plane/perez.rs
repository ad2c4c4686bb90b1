//! The sky model of Perez et al. (1990).

use super::Plane;
use crate::light::{Irradiance, PlaneIrradiance, relative_air_mass};

/// Upper limits of the sky's clearness ε for the first seven classes (Perez et al. 1990, Table 1).
const CLEARNESS_ENDS: [f64; 7] = [1.065, 1.23, 1.5, 1.95, 2.8, 4.5, 6.2];
/// F11, F12, F13, F21, F22, F23 by clearness class (Perez et al. 1990, Table 6, all sites).
const COEFFICIENTS: [[f64; 6]; 8] = [
    [-0.008, 0.588, -0.062, -0.060, 0.072, -0.022],
    [0.130, 0.683, -0.151, -0.019, 0.066, -0.029],
    [0.330, 0.487, -0.221, 0.055, -0.064, -0.026],
    [0.568, 0.187, -0.295, 0.109, -0.152, -0.014],
    [0.873, -0.392, -0.362, 0.226, -0.462, 0.001],
    [1.132, -1.237, -0.412, 0.288, -0.823, 0.056],
    [1.060, -1.600, -0.359, 0.264, -1.127, 0.131],
    [0.678, -0.327, -0.250, 0.156, -1.377, 0.251],
];
/// κ in the sky's clearness, for z in radians (Perez et al. 1990, eq. 1).
const KAPPA: f64 = 1.041;
/// Cosine of 85°: the smallest cosine of the zenith angle in the circumsolar part (Perez et al. 1990, eq. 9).
const LEAST_ZENITH_COS: f64 = 0.087_155_742_747_658_17;

impl Plane {
    /// Irradiance on the plane with the model of Perez et al. (1990).
    ///
    /// - ε = ((DHI + DNI)/DHI + κ·z³)/(1 + κ·z³) selects one of eight classes; κ = 1.041, z is the zenith angle in
    ///   radians. Δ = DHI·m/E0, m the relative air mass.
    /// - F1 = max(0, F11 + F12·Δ + F13·z), F2 = F21 + F22·Δ + F23·z.
    /// - circumsolar = DHI·F1·max(cos θ, 0)/max(cos z, cos 85°); sky = DHI·(1 − F1)·(1 + cos β)/2; horizon = DHI·F2·sin
    ///   β, which is negative under an overcast sky. Where the sum of the three is negative, all are 0.
    ///
    /// Beam and ground are as in [`Plane::hay_davies`]. Source: Perez, R., Ineichen, P., Seals, R., Michalsky, J. &
    /// Stewart, R. (1990), *Modeling daylight availability and irradiance components from direct and global
    /// irradiance*, Solar Energy 44, 271–289.
    #[must_use]
    pub fn perez(&self, light: &Irradiance, zenith_cos: f64, incidence_cos: f64) -> PlaneIrradiance {
        let facing = incidence_cos.max(0.0);
        let (f1, f2) = brightening(light, zenith_cos);
        let mut on_plane = PlaneIrradiance {
            beam_w_m2: light.dni_w_m2 * facing,
            circumsolar_w_m2: light.dhi_w_m2 * f1 * facing / zenith_cos.max(LEAST_ZENITH_COS),
            sky_w_m2: light.dhi_w_m2 * (1.0 - f1) * 0.5 * (1.0 + self.tilt_cos),
            horizon_w_m2: light.dhi_w_m2 * f2 * self.tilt_sin,
            ground_w_m2: light.ghi_w_m2 * self.albedo * 0.5 * (1.0 - self.tilt_cos),
        };
        if on_plane.circumsolar_w_m2 + on_plane.sky_w_m2 + on_plane.horizon_w_m2 < 0.0 {
            on_plane.circumsolar_w_m2 = 0.0;
            on_plane.sky_w_m2 = 0.0;
            on_plane.horizon_w_m2 = 0.0;
        }
        on_plane
    }
}

/// F1 and F2: brightening around the sun and along the horizon.
fn brightening(light: &Irradiance, zenith_cos: f64) -> (f64, f64) {
    if light.dhi_w_m2 <= 0.0 || light.extraterrestrial_w_m2 <= 0.0 {
        return (0.0, 0.0);
    }
    let zenith_rad = zenith_cos.clamp(-1.0, 1.0).acos();
    let low_sun = KAPPA * zenith_rad.powi(3);
    let clearness = ((light.dhi_w_m2 + light.dni_w_m2) / light.dhi_w_m2 + low_sun) / (1.0 + low_sun);
    let brightness = light.dhi_w_m2 * relative_air_mass(zenith_cos) / light.extraterrestrial_w_m2;
    let class = CLEARNESS_ENDS.iter().take_while(|&&end| clearness >= end).count();
    let [f11, f12, f13, f21, f22, f23] = COEFFICIENTS[class];
    (
        (f11 + f12 * brightness + f13 * zenith_rad).max(0.0),
        f21 + f22 * brightness + f23 * zenith_rad,
    )
}
