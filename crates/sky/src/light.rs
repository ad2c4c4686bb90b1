//! Irradiance from the sky and on a plane: plain types that the other files share.

use daylift_units::{fingerprint, ids};

/// Model that converts the sky's diffuse light to a tilted plane.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Hash)]
pub enum SkyModel {
    /// Hay & Davies (1980).
    #[default]
    HayDavies,
    /// Perez et al. (1990).
    Perez,
}

fingerprint!(by Hash: SkyModel);
ids!(SkyModel { HayDavies = "hay-davies", Perez = "perez" });

/// Irradiance from the sky at one instant \[W/m²\].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Irradiance {
    /// Global horizontal.
    pub ghi_w_m2: f64,
    /// Direct normal.
    pub dni_w_m2: f64,
    /// Diffuse horizontal.
    pub dhi_w_m2: f64,
    /// Outside the atmosphere, facing the sun.
    pub extraterrestrial_w_m2: f64,
}

/// Irradiance on a plane by its source \[W/m²\].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PlaneIrradiance {
    /// Directly from the sun.
    pub beam_w_m2: f64,
    /// Diffuse from around the sun.
    pub circumsolar_w_m2: f64,
    /// Diffuse from the whole sky.
    pub sky_w_m2: f64,
    /// Diffuse from the band along the horizon; negative where the horizon is darker than the sky.
    pub horizon_w_m2: f64,
    /// Reflected from the ground.
    pub ground_w_m2: f64,
}

impl PlaneIrradiance {
    /// Sum of all components.
    #[must_use]
    pub fn total_w_m2(&self) -> f64 {
        self.beam_w_m2 + self.circumsolar_w_m2 + self.sky_w_m2 + self.horizon_w_m2 + self.ground_w_m2
    }

    /// Beam and circumsolar.
    pub(crate) fn direct_w_m2(&self) -> f64 {
        self.beam_w_m2 + self.circumsolar_w_m2
    }
}

/// What the horizon and neighbouring rows took from a year's irradiation, before reflection losses.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Shade {
    /// Lost to the horizon \[J/m²\].
    pub horizon_j_m2: f64,
    /// Lost to rows, from what the horizon left \[J/m²\].
    pub rows_j_m2: f64,
    /// Beam and circumsolar left by the horizon \[J/m²\].
    pub direct_j_m2: f64,
    /// The part of `direct_j_m2` lost to rows \[J/m²\].
    pub direct_to_rows_j_m2: f64,
}

impl Shade {
    /// Multiplies all values by a number of seconds, to turn sums of power into energy.
    pub(crate) fn times(self, seconds: f64) -> Self {
        Self {
            horizon_j_m2: self.horizon_j_m2 * seconds,
            rows_j_m2: self.rows_j_m2 * seconds,
            direct_j_m2: self.direct_j_m2 * seconds,
            direct_to_rows_j_m2: self.direct_to_rows_j_m2 * seconds,
        }
    }
}

/// Relative air mass from the apparent zenith angle, not corrected for pressure; 0 with the sun below the horizon.
///
/// m = 1/(cos z + 0.50572·(96.07995 − z)^−1.6364), z in degrees (Kasten & Young 1989, eq. 3).
///
/// ```
/// // Kasten & Young 1989: about 38 air masses at the horizon, one overhead.
/// use daylift_sky::light::relative_air_mass;
/// assert!((relative_air_mass(0.0) - 37.92).abs() < 0.01 && (relative_air_mass(1.0) - 1.0).abs() < 0.001);
/// ```
#[must_use]
pub fn relative_air_mass(zenith_cos: f64) -> f64 {
    if zenith_cos >= 0.0 {
        let zenith_deg = zenith_cos.min(1.0).acos().to_degrees();
        1.0 / (zenith_cos + 0.505_72 * (96.079_95 - zenith_deg).powf(-1.6364))
    } else {
        0.0
    }
}
