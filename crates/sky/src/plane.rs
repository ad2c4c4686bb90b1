//! The plane of array: the light that falls on it and the light that passes the glass.

use daylift_units::Fault;
use daylift_units::constants::HOUR_S;
use daylift_units::fields::array;
use daylift_units::fingerprint;

use crate::checked;
use crate::light::{Irradiance, PlaneIrradiance, Shade, SkyModel};
use crate::reflection::{effective_ground_deg, effective_sky_deg, incidence_angle_modifier};
use crate::sharing::block_means;
use crate::sun::SunPosition;
use crate::year::SkyYear;

mod perez;
#[cfg(test)]
mod tests;

/// Smallest cosine of the zenith angle in R_b: that of 89° (usual practice).
const LEAST_ZENITH_COS: f64 = 0.017_45;

/// A fixed plane, with everything precomputed that is constant over the year.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Plane {
    tilt_sin: f64,
    tilt_cos: f64,
    facing_north: f64,
    facing_east: f64,
    albedo: f64,
    sky_modifier: f64,
    ground_modifier: f64,
}

fingerprint!(Plane {
    tilt_sin,
    tilt_cos,
    facing_north,
    facing_east,
    albedo,
    sky_modifier,
    ground_modifier
});

impl Plane {
    /// A plane with a tilt from horizontal, an azimuth clockwise from north, and the albedo of the ground (a fraction).
    ///
    /// # Errors
    /// A fault for each value outside its range.
    pub fn new(tilt_deg: f64, azimuth_deg: f64, albedo: f64) -> Result<Self, Vec<Fault>> {
        let mut faults = Vec::new();
        let tilt_deg = checked(&array::TILT, tilt_deg, &mut faults);
        let azimuth_rad = checked(&array::AZIMUTH, azimuth_deg, &mut faults).to_radians();
        let albedo = checked(&array::ALBEDO, albedo, &mut faults);
        if !faults.is_empty() {
            return Err(faults);
        }
        let (tilt_sin, tilt_cos) = tilt_deg.to_radians().sin_cos();
        let (facing_east, facing_north) = azimuth_rad.sin_cos();
        Ok(Self {
            tilt_sin,
            tilt_cos,
            facing_north,
            facing_east,
            albedo,
            sky_modifier: incidence_angle_modifier(effective_sky_deg(tilt_deg).to_radians().cos()),
            ground_modifier: incidence_angle_modifier(effective_ground_deg(tilt_deg).to_radians().cos()),
        })
    }

    /// A plane from its unit normal (up, north, east), which must not point below the horizontal.
    pub(crate) fn facing([up, north, east]: [f64; 3], albedo: f64) -> Self {
        let tilt_sin = north.hypot(east);
        let tilt_deg = tilt_sin.atan2(up).to_degrees();
        let (facing_north, facing_east) = if tilt_sin > 0.0 {
            (north / tilt_sin, east / tilt_sin)
        } else {
            (1.0, 0.0)
        };
        Self {
            tilt_sin,
            tilt_cos: up,
            facing_north,
            facing_east,
            albedo,
            sky_modifier: incidence_angle_modifier(effective_sky_deg(tilt_deg).to_radians().cos()),
            ground_modifier: incidence_angle_modifier(effective_ground_deg(tilt_deg).to_radians().cos()),
        }
    }

    /// Unit normal: up, north and east.
    pub(crate) fn normal(&self) -> [f64; 3] {
        [
            self.tilt_cos,
            self.tilt_sin * self.facing_north,
            self.tilt_sin * self.facing_east,
        ]
    }

    /// Cosine of the angle between the sun and the plane's normal; negative when the sun is behind the plane.
    ///
    /// cos θ = cos z·cos β + sin z·sin β·cos(γ_sun − γ) (Duffie & Beckman 2013, eq. 1.6.3).
    ///
    /// ```
    /// use daylift_sky::{Plane, SunPosition};
    /// // Sun 30° from the zenith in the south, plane tilted 30° to the south: normal incidence.
    /// let plane = Plane::new(30.0, 180.0, 0.2).unwrap();
    /// assert!((plane.incidence_cos(&SunPosition::from_angles(30.0, 180.0, 1.0)) - 1.0).abs() < 1e-12);
    /// ```
    #[must_use]
    pub fn incidence_cos(&self, sun: &SunPosition) -> f64 {
        let (east, north) = sun.azimuth_rad.sin_cos();
        self.incidence_cos_of(sun.zenith_cos, sun.zenith_sin * north, sun.zenith_sin * east)
    }

    /// The same from the unit vector towards the sun.
    pub(crate) fn incidence_cos_of(&self, up: f64, north: f64, east: f64) -> f64 {
        up * self.tilt_cos + self.tilt_sin * (north * self.facing_north + east * self.facing_east)
    }

    /// Irradiance on the plane with the given sky model.
    #[must_use]
    pub fn irradiance(
        &self,
        model: SkyModel,
        light: &Irradiance,
        zenith_cos: f64,
        incidence_cos: f64,
    ) -> PlaneIrradiance {
        match model {
            SkyModel::HayDavies => self.hay_davies(light, zenith_cos, incidence_cos),
            SkyModel::Perez => self.perez(light, zenith_cos, incidence_cos),
        }
    }

    /// Irradiance on the plane with the model of Hay & Davies (1980).
    ///
    /// A = DNI/E0, at most 1; R_b = max(cos θ, 0)/max(cos z, 0.01745); beam = DNI·max(cos θ, 0); circumsolar =
    /// DHI·A·R_b; sky = DHI·(1 − A)·(1 + cos β)/2; ground = GHI·ρ·(1 − cos β)/2.
    #[must_use]
    pub fn hay_davies(&self, light: &Irradiance, zenith_cos: f64, incidence_cos: f64) -> PlaneIrradiance {
        let facing = incidence_cos.max(0.0);
        let anisotropy = if light.extraterrestrial_w_m2 > 0.0 {
            // With a low sun the beam, which keeps the hour's mean, can exceed E0; A must stay at 1 or the sky would be
            // negative.
            (light.dni_w_m2 / light.extraterrestrial_w_m2).min(1.0)
        } else {
            0.0
        };
        let beam_ratio = facing / zenith_cos.max(LEAST_ZENITH_COS);
        PlaneIrradiance {
            beam_w_m2: light.dni_w_m2 * facing,
            circumsolar_w_m2: light.dhi_w_m2 * anisotropy * beam_ratio,
            sky_w_m2: light.dhi_w_m2 * (1.0 - anisotropy) * 0.5 * (1.0 + self.tilt_cos),
            horizon_w_m2: 0.0,
            ground_w_m2: light.ghi_w_m2 * self.albedo * 0.5 * (1.0 - self.tilt_cos),
        }
    }

    /// Irradiance that passes the glass. Beam and circumsolar depend on the angle of incidence, the other components on
    /// effective angles; the horizon band uses that of the sky.
    #[must_use]
    pub fn transmitted(&self, on_plane: &PlaneIrradiance, incidence_cos: f64) -> PlaneIrradiance {
        let direct = incidence_angle_modifier(incidence_cos);
        PlaneIrradiance {
            beam_w_m2: on_plane.beam_w_m2 * direct,
            circumsolar_w_m2: on_plane.circumsolar_w_m2 * direct,
            sky_w_m2: on_plane.sky_w_m2 * self.sky_modifier,
            horizon_w_m2: on_plane.horizon_w_m2 * self.sky_modifier,
            ground_w_m2: on_plane.ground_w_m2 * self.ground_modifier,
        }
    }
}

/// Irradiance on a plane in every step of the year.
#[derive(Debug, Clone, PartialEq)]
pub struct PlaneYear {
    /// Irradiance on the plane, before reflection and soiling \[W/m²\].
    pub plane_w_m2: Vec<f64>,
    /// Irradiance that passes the glass, before soiling \[W/m²\].
    pub absorbed_w_m2: Vec<f64>,
    /// What horizon and rows took over the year.
    pub shade: Shade,
}

impl PlaneYear {
    /// The year's light on a fixed, unshaded plane.
    #[must_use]
    pub fn new(sky: &SkyYear, plane: &Plane) -> Self {
        let mut plane_w_m2 = Vec::with_capacity(sky.steps());
        let mut absorbed_w_m2 = Vec::with_capacity(sky.steps());
        for step in 0..sky.steps() {
            let (on_plane, absorbed) = if sky.is_up(step) {
                in_step(sky, plane, step)
            } else {
                (0.0, 0.0)
            };
            plane_w_m2.push(on_plane);
            absorbed_w_m2.push(absorbed);
        }
        Self {
            plane_w_m2,
            absorbed_w_m2,
            shade: Shade::default(),
        }
    }

    /// Hourly means of the irradiance on the plane \[W/m²\]; an hour must be a whole number of steps.
    #[must_use]
    pub fn hourly_w_m2(&self, step_s: f64) -> Vec<f64> {
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "steps of an hour are few"
        )]
        let per_hour = (HOUR_S / step_s.max(1.0)).round() as usize;
        block_means(&self.plane_w_m2, per_hour)
    }
}

fn in_step(sky: &SkyYear, plane: &Plane, step: usize) -> (f64, f64) {
    let zenith_cos = sky.zenith_cos[step];
    let incidence_cos = plane.incidence_cos_of(zenith_cos, sky.north[step], sky.east[step]);
    let on_plane = plane.irradiance(sky.model, &sky.irradiance(step), zenith_cos, incidence_cos);
    (
        on_plane.total_w_m2(),
        plane.transmitted(&on_plane, incidence_cos).total_w_m2(),
    )
}
