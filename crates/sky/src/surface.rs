//! Modules as mounted in the field: fixed or tracking, in rows or alone, with or without a horizon.

use crate::horizon::{Horizon, Skyline};
use crate::light::{Irradiance, PlaneIrradiance, Shade};
use crate::plane::{Plane, PlaneYear};
use crate::rows::Rows;
use crate::tracker::{Tracker, TrackerPose};
use crate::year::SkyYear;
use daylift_units::fingerprint;

#[cfg(test)]
mod tests;

/// Mounting of the modules.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Mounting {
    /// Fixed.
    Fixed(Plane),
    /// Turning about one axis.
    SingleAxis(Tracker),
}

fingerprint!(
    enum Mounting {
        Fixed(plane),
        SingleAxis(tracker),
    }
);

/// A plane of modules and what shades it.
#[derive(Debug, Clone, PartialEq)]
pub struct Surface {
    mounting: Mounting,
    rows: Option<Rows>,
    horizon: Option<Horizon>,
}

fingerprint!(Surface {
    mounting,
    rows,
    horizon
});

impl From<Plane> for Surface {
    fn from(plane: Plane) -> Self {
        Self {
            mounting: Mounting::Fixed(plane),
            rows: None,
            horizon: None,
        }
    }
}

impl Surface {
    /// Modules with this mounting, optionally in rows and with a horizon.
    #[must_use]
    pub fn new(mounting: Mounting, rows: Option<Rows>, horizon: Option<Horizon>) -> Self {
        Self {
            mounting,
            rows,
            horizon,
        }
    }

    /// Whether the modules are in rows.
    #[must_use]
    pub fn has_rows(&self) -> bool {
        self.rows.is_some()
    }

    /// Whether rows or a horizon can reduce the light.
    #[must_use]
    pub fn may_be_shaded(&self) -> bool {
        self.rows.is_some() || self.horizon.is_some()
    }

    /// The year's light on this surface.
    #[must_use]
    pub fn year(&self, sky: &SkyYear) -> PlaneYear {
        match (&self.mounting, &self.rows, &self.horizon) {
            (Mounting::Fixed(plane), None, None) => PlaneYear::new(sky, plane),
            (Mounting::Fixed(plane), ..) => self.fixed(sky, plane),
            (Mounting::SingleAxis(tracker), ..) => self.turning(sky, tracker),
        }
    }

    fn fixed(&self, sky: &SkyYear, plane: &Plane) -> PlaneYear {
        let [up, north, east] = plane.normal();
        let hidden_sky = self.horizon.as_ref().map_or(0.0, |h| h.skyline().hidden_share(up, north, east));
        self.through(sky, |_, [sun_up, ..]| ModulePose {
            plane: *plane,
            rotation_cos: up,
            sun_up,
            hidden_sky,
        })
    }

    fn turning(&self, sky: &SkyYear, tracker: &Tracker) -> PlaneYear {
        let hidden = self.horizon.as_ref().map(|horizon| HiddenSky::new(&horizon.skyline(), tracker));
        self.through(sky, |_, [up, north, east]| {
            let turned = tracker.pose(up, north, east);
            ModulePose {
                plane: Plane::facing(turned.normal, tracker.albedo()),
                rotation_cos: turned.rotation_cos,
                sun_up: turned.sun_up,
                hidden_sky: hidden.as_ref().map_or(0.0, |hidden| hidden.at(&turned)),
            }
        })
    }

    /// Computes every step of the year; `pose` gives the modules' orientation for a direction of the sun.
    fn through(&self, sky: &SkyYear, pose: impl Fn(usize, [f64; 3]) -> ModulePose) -> PlaneYear {
        let mut out = PlaneYear {
            plane_w_m2: vec![0.0; sky.steps()],
            absorbed_w_m2: vec![0.0; sky.steps()],
            shade: Shade::default(),
        };
        for step in (0..sky.steps()).filter(|step| sky.is_up(*step)) {
            let sun = [sky.zenith_cos[step], sky.north[step], sky.east[step]];
            let pose = pose(step, sun);
            let incidence_cos = pose.plane.incidence_cos_of(sun[0], sun[1], sun[2]);
            let light = sky.irradiance(step);
            let mut on_plane = pose.plane.irradiance(sky.model, &light, sun[0], incidence_cos);
            if let Some(horizon) = &self.horizon {
                let before_w_m2 = on_plane.total_w_m2();
                below_horizon(&mut on_plane, horizon.hides(sun[0], sun[1], sun[2]), pose.hidden_sky);
                out.shade.horizon_j_m2 += before_w_m2 - on_plane.total_w_m2();
            }
            if let Some(rows) = &self.rows {
                let before = on_plane;
                among_rows(&mut on_plane, rows, &light, &pose, incidence_cos);
                out.shade.rows_j_m2 += before.total_w_m2() - on_plane.total_w_m2();
                out.shade.direct_j_m2 += before.direct_w_m2();
                out.shade.direct_to_rows_j_m2 += before.direct_w_m2() - on_plane.direct_w_m2();
            }
            out.plane_w_m2[step] = on_plane.total_w_m2();
            out.absorbed_w_m2[step] = pose.plane.transmitted(&on_plane, incidence_cos).total_w_m2().max(0.0);
        }
        out.shade = out.shade.times(sky.step_s);
        out
    }
}

/// Orientation of the modules in one step.
struct ModulePose {
    plane: Plane,
    /// Cosine of the tilt in the section across the rows.
    rotation_cos: f64,
    /// Upward component of the sun's direction in that section.
    sun_up: f64,
    /// Share of the sky in front of the modules that the horizon hides.
    hidden_sky: f64,
}

/// Removes what the horizon hides: all direct light if the sun is hidden, and a share of the light of the sky and the
/// horizon band.
fn below_horizon(on_plane: &mut PlaneIrradiance, sun_is_hidden: bool, hidden_sky: f64) {
    if sun_is_hidden {
        on_plane.beam_w_m2 = 0.0;
        on_plane.circumsolar_w_m2 = 0.0;
    }
    dim_sky(on_plane, 1.0 - hidden_sky);
}

/// Reduces the light of the sky and the horizon band. In Perez's model their sum can be negative: then it is not
/// reduced, which would increase the total. If the whole diffuse light would be negative, it is set to 0.
fn dim_sky(on_plane: &mut PlaneIrradiance, left: f64) {
    if on_plane.sky_w_m2 + on_plane.horizon_w_m2 > 0.0 {
        on_plane.sky_w_m2 *= left;
        on_plane.horizon_w_m2 *= left;
    } else if on_plane.circumsolar_w_m2 + on_plane.sky_w_m2 + on_plane.horizon_w_m2 < 0.0 {
        on_plane.circumsolar_w_m2 = 0.0;
        on_plane.sky_w_m2 = 0.0;
        on_plane.horizon_w_m2 = 0.0;
    }
}

/// Removes what neighbouring rows hide: direct light by the shade on the row, light of sky and ground by the reduced
/// view of them. The ground's light also falls by the shade on the ground.
fn among_rows(on_plane: &mut PlaneIrradiance, rows: &Rows, light: &Irradiance, pose: &ModulePose, incidence_cos: f64) {
    let lit = 1.0 - rows.beam_taken(pose.sun_up, incidence_cos);
    on_plane.beam_w_m2 *= lit;
    on_plane.circumsolar_w_m2 *= lit;
    let views = rows.views(pose.rotation_cos);
    dim_sky(on_plane, views.sky);
    let of_sky = if light.ghi_w_m2 > 0.0 {
        (light.dhi_w_m2 / light.ghi_w_m2).clamp(0.0, 1.0)
    } else {
        1.0
    };
    let lit_ground = rows.lit_ground(pose.sun_up, incidence_cos);
    let brightness = of_sky * views.sky_of_ground + (1.0 - of_sky) * lit_ground;
    on_plane.ground_w_m2 *= views.ground * brightness;
}

/// Share of the sky that the horizon hides from a tracker, by its rotation.
struct HiddenSky {
    shares: Vec<f64>,
    greatest_rad: f64,
}

/// Step of the rotation between tabulated shares \[°\]; linear interpolation has an error below 1e-5.
const ROTATION_STEP_DEG: f64 = 0.5;

impl HiddenSky {
    fn new(skyline: &Skyline, tracker: &Tracker) -> Self {
        let greatest_rad = tracker.greatest_rad();
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "half degrees of a quarter turn"
        )]
        let steps = (2.0 * greatest_rad.to_degrees() / ROTATION_STEP_DEG).ceil().max(1.0) as u32;
        let share = |i: u32| {
            let rotation_rad = greatest_rad * (2.0 * f64::from(i) / f64::from(steps) - 1.0);
            let [up, north, east] = tracker.pose_at(rotation_rad, 0.0).normal;
            skyline.hidden_share(up, north, east)
        };
        Self {
            shares: (0..=steps).map(share).collect(),
            greatest_rad,
        }
    }

    fn at(&self, turned: &TrackerPose) -> f64 {
        if self.greatest_rad <= 0.0 {
            return self.shares[0];
        }
        let last = self.shares.len() - 1;
        #[expect(clippy::cast_precision_loss, reason = "a few hundred")]
        let at = (turned.rotation_rad / self.greatest_rad + 1.0) * 0.5 * last as f64;
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "from 0 to the number of shares"
        )]
        let below = (at.max(0.0) as usize).min(last - 1);
        let [from, to] = [self.shares[below], self.shares[below + 1]];
        #[expect(clippy::cast_precision_loss, reason = "a few hundred")]
        let beyond = at - below as f64;
        from + (to - from) * beyond
    }
}
