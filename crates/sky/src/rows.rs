//! Equal parallel rows of modules: the shade of each on the next, and the sky and ground that it hides.

use daylift_units::Fault;
use daylift_units::fields::array;
use daylift_units::{fingerprint, ids};

use crate::checked;

/// A shaded share below this counts as 0: backtracking rows would otherwise be shaded by rounding errors.
const SHADE_OF_ROUNDING: f64 = 1e-9;

/// How shade on a part of a row reduces the beam on the whole row.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Hash)]
pub enum RowShade {
    /// The beam falls by the shaded share: the smallest possible loss.
    #[default]
    InProportion,
    /// Any shade removes the whole beam: the largest possible loss, as for strings that run along the lower edge.
    Whole,
}

fingerprint!(by Hash: RowShade);
ids!(RowShade { InProportion = "in-proportion", Whole = "whole" });

/// Many long, level rows with equal tilt or rotation; the results are for a row in the middle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rows {
    pitch_m: f64,
    width_m: f64,
    shade: RowShade,
}

fingerprint!(Rows {
    pitch_m,
    width_m,
    shade
});

/// What a row among others still sees, as a share of what a single row would see.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Views {
    /// Of the sky in front of the modules.
    pub(crate) sky: f64,
    /// Of the ground in front of the modules.
    pub(crate) ground: f64,
    /// Of the sky above the ground between the rows.
    pub(crate) sky_of_ground: f64,
}

impl Rows {
    /// Rows with a pitch (from a point of a row to the same point of the next, along the ground) and a width along the
    /// slope \[m\].
    ///
    /// # Errors
    /// A fault for each value outside its range, and for a width that is not less than the pitch.
    pub fn new(pitch_m: f64, width_m: f64, shade: RowShade) -> Result<Self, Vec<Fault>> {
        let mut faults = Vec::new();
        checked(&array::ROW_PITCH, pitch_m, &mut faults);
        checked(&array::ROW_WIDTH, width_m, &mut faults);
        if width_m >= pitch_m {
            faults.push(Fault::new(
                array::ROW_WIDTH.key,
                array::ROW_WIDTH.quantity,
                array::ROW_WIDTH.print(width_m),
                format!("less than `row_pitch_m`, {}", array::ROW_PITCH.print(pitch_m)),
                "are `row_pitch_m` and `row_width_m` swapped? The pitch is from a row's edge to the next row's same edge",
            ));
        }
        if faults.is_empty() {
            Ok(Self {
                pitch_m,
                width_m,
                shade,
            })
        } else {
            Err(faults)
        }
    }

    /// Pitch divided by width.
    pub(crate) fn spacing(&self) -> f64 {
        self.pitch_m / self.width_m
    }

    /// Share of a row's width that is in the shade of the row in front, 0 to 1.
    ///
    /// Seen along the sun's rays, neighbouring rows are p·cos ψ apart and each is w·cos(ψ − R) wide. ψ is the sun's
    /// angle from the vertical in the section across the rows, and R the rows' tilt there. The share of a row that
    /// overlaps the next is in shade: 1 − p·cos ψ/(w·cos(ψ − R)) (Anderson & Jensen 2024, eq. 32, on level ground). In
    /// that section, `up` is the upward component of the unit vector towards the sun; only its ratio to the cosine of
    /// incidence matters.
    ///
    /// ```
    /// use daylift_sky::{RowShade, Rows};
    /// // Vertical rows 2 m high and 4 m apart, sun straight in front at 14.036° (tan = 1/4). The shadow of the row in
    /// // front drops 1 m in 4 m, so it reaches 1 m up: one half.
    /// let rows = Rows::new(4.0, 2.0, RowShade::InProportion).unwrap();
    /// let (up, straight) = 0.25_f64.atan().sin_cos();
    /// assert!((rows.shaded_share(up, straight) - 0.5).abs() < 1e-12);
    /// ```
    #[must_use]
    pub fn shaded_share(&self, up: f64, incidence_cos: f64) -> f64 {
        if incidence_cos <= 0.0 {
            return 0.0;
        }
        let share = (1.0 - self.spacing() * up / incidence_cos).min(1.0);
        if share > SHADE_OF_ROUNDING { share } else { 0.0 }
    }

    /// Share of the beam that the shade removes.
    pub(crate) fn beam_taken(&self, up: f64, incidence_cos: f64) -> f64 {
        let share = self.shaded_share(up, incidence_cos);
        match self.shade {
            RowShade::Whole if share > 0.0 => 1.0,
            _ => share,
        }
    }

    /// Share of the ground between the rows that the sun reaches.
    ///
    /// 1 − w·|cos(ψ − R)|/(p·cos ψ), at least 0: the light that a row intercepts does not reach the ground.
    pub(crate) fn lit_ground(&self, up: f64, incidence_cos: f64) -> f64 {
        if up <= 0.0 {
            return 0.0;
        }
        (1.0 - incidence_cos.abs() / (self.spacing() * up)).max(0.0)
    }

    /// Remaining views of sky and ground, from the cosine of the rows' tilt in the section across them.
    ///
    /// Crossed strings (Hottel) between the slope, the opening between two upper edges and the ground between two lower
    /// edges. From a lower edge to the upper edge in front, d² = p² + w² − 2·p·w·cos R. From an upper edge to the lower
    /// edge in front, e² = p² + w² + 2·p·w·cos R. The slope sees (w + p − d)/(2·w) of sky and (w + p − e)/(2·w) of
    /// ground. These are 2·p/(w + p + d) of (1 + cos R)/2, and 2·p/(w + p + e) of (1 − cos R)/2. The ground sees (d + e
    /// − 2·w)/(2·p) of sky.
    pub(crate) fn views(&self, rotation_cos: f64) -> Views {
        let (p, w) = (self.pitch_m, self.width_m);
        let squares = p * p + w * w;
        let twice = 2.0 * p * w * rotation_cos;
        let (to_upper, to_lower) = ((squares - twice).max(0.0).sqrt(), (squares + twice).max(0.0).sqrt());
        Views {
            sky: 2.0 * p / (w + p + to_upper),
            ground: 2.0 * p / (w + p + to_lower),
            sky_of_ground: ((to_upper + to_lower - 2.0 * w) / (2.0 * p)).clamp(0.0, 1.0),
        }
    }

    /// View factor from the slope to the sky, averaged over the slope, for rows with this tilt; exact for long rows.
    ///
    /// ```
    /// use daylift_sky::{RowShade, Rows};
    /// // Vertical rows 3 m high and 4 m apart: d = 5 m; (3 + 4 − 5)/(2·3) = 1/3 of a row's view is sky.
    /// let rows = Rows::new(4.0, 3.0, RowShade::InProportion).unwrap();
    /// assert!((rows.sky_view(90.0) - 1.0 / 3.0).abs() < 1e-12);
    /// ```
    #[must_use]
    pub fn sky_view(&self, tilt_deg: f64) -> f64 {
        let tilt_cos = tilt_deg.to_radians().cos();
        self.views(tilt_cos).sky * 0.5 * (1.0 + tilt_cos)
    }

    /// View factor from the slope to the ground between the rows, averaged over the slope.
    #[must_use]
    pub fn ground_view(&self, tilt_deg: f64) -> f64 {
        let tilt_cos = tilt_deg.to_radians().cos();
        self.views(tilt_cos).ground * 0.5 * (1.0 - tilt_cos)
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn rows(pitch_m: f64, width_m: f64, shade: RowShade) -> Rows {
        Rows::new(pitch_m, width_m, shade).unwrap()
    }

    #[test]
    fn invalid_rows_are_faults() {
        let faults = |pitch_m, width_m| Rows::new(pitch_m, width_m, RowShade::Whole).unwrap_err();
        assert!(faults(2.0, 4.0)[0].to_string().contains("4 m; allowed: less than `row_pitch_m`, 2 m"));
        assert_eq!(faults(f64::NAN, 0.1).len(), 2);
        assert_eq!(faults(2.0, 2.0).len(), 1);
    }

    #[test]
    fn with_whole_any_shade_removes_the_beam() {
        // Tilt 30°, pitch 4 m, width 2 m. The row in front ends at a height of 2·sin 30° = 1 m and 4 − 2·cos 30° =
        // 2.268 m before the lower edge, so there is no shade above atan(1/2.268) = 23.79°.
        let (tilt_sin, tilt_cos) = 30.0_f64.to_radians().sin_cos();
        let taken = |shade, elevation_deg: f64| {
            let (up, level) = elevation_deg.to_radians().sin_cos();
            rows(4.0, 2.0, shade).beam_taken(up, up * tilt_cos + level * tilt_sin)
        };
        for shade in [RowShade::InProportion, RowShade::Whole] {
            assert!(taken(shade, 23.85).abs() < 1e-15);
        }
        assert!((taken(RowShade::Whole, 23.7) - 1.0).abs() < 1e-15);
        // At 10°: incidence 0.98481·0.5 + 0.17365·0.86603 = 0.64279; 1 − 2·0.17365/0.64279 = 0.45970.
        assert!((taken(RowShade::InProportion, 10.0) - 0.459_70).abs() < 1e-4);
        assert!(rows(4.0, 2.0, RowShade::Whole).beam_taken(0.5, -0.1).abs() < 1e-15);
    }

    #[test]
    fn the_sky_view_is_the_mean_over_the_points_of_the_slope() {
        // At a share x of the slope from its lower edge, the row in front rises to α with tan α = (1 − x)·w·sin β/(p −
        // (1 − x)·w·cos β). The point sees (1 + cos(β + α))/2 of sky.
        for (pitch_m, width_m, tilt_deg) in [(6.0, 2.0, 20.0), (2.5, 2.0, 35.0), (5.0, 4.0, 90.0), (3.0, 1.0, 0.0)] {
            let (sin, cos) = f64::to_radians(tilt_deg).sin_cos();
            let point = |i: u32| {
                let rest_m = (1.0 - (f64::from(i) + 0.5) / 20_000.0) * width_m;
                let mask_rad = (rest_m * sin).atan2(pitch_m - rest_m * cos);
                0.5 * (1.0 + (f64::to_radians(tilt_deg) + mask_rad).cos())
            };
            let mean = (0..20_000).map(point).sum::<f64>() / 20_000.0;
            let ours = rows(pitch_m, width_m, RowShade::InProportion).sky_view(tilt_deg);
            assert!((ours - mean).abs() < 1e-8, "{tilt_deg}: {ours} {mean}");
        }
    }

    proptest! {
        #[test]
        fn distant_rows_hide_almost_nothing_and_shares_stay_within_0_and_1(
            width_m in 0.2..0.3_f64,
            pitch_m in 0.3..200.0_f64,
            tilt_deg in 0.0..=90.0_f64,
            up in 0.01..1.0_f64,
            incidence_cos in -1.0..1.0_f64,
        ) {
            prop_assume!(pitch_m > width_m);
            let far = rows(200.0, 0.2, RowShade::InProportion).views(tilt_deg.to_radians().cos());
            for share in [far.sky, far.ground, far.sky_of_ground] {
                prop_assert!(share <= 1.0 && share > 0.997);
            }
            let near = rows(pitch_m, width_m, RowShade::InProportion);
            let views = near.views(tilt_deg.to_radians().cos());
            for share in [views.sky, views.ground, views.sky_of_ground, near.lit_ground(up, incidence_cos)] {
                prop_assert!((0.0..=1.0).contains(&share));
            }
            // The slope sees only sky, ground and the back of the row in front.
            prop_assert!(near.sky_view(tilt_deg) + near.ground_view(tilt_deg) <= 1.0 + 1e-12);
            prop_assert!((0.0..=1.0).contains(&near.shaded_share(up, incidence_cos)));
        }
    }
}
