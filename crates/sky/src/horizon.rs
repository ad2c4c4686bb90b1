//! The horizon of a site: hills, trees and buildings that hide the sun and a part of the sky.

use daylift_units::fingerprint;
use std::f64::consts::{PI, TAU};
use std::sync::Arc;

use daylift_units::Fault;
use daylift_units::fields::site;

use crate::checked;

/// Number of directions over which the hidden sky is summed: steps of half a degree. With ten times as many, the share
/// changes by less than 1e-5.
const DIRECTIONS: u32 = 720;

/// Elevation of the horizon around a site, interpolated linearly between equal steps of azimuth.
#[derive(Debug, Clone, PartialEq)]
pub struct Horizon {
    /// Elevations at equal steps of azimuth, clockwise from north \[°\].
    elevations_deg: Arc<[f64]>,
}

fingerprint!(Horizon { elevations_deg });

impl Horizon {
    /// Smallest number of values: one for each quarter of the compass.
    pub const FEWEST: usize = 4;
    /// Largest number of values: one for each degree.
    pub const MOST: usize = 360;

    /// A horizon from its elevations \[°\] at equal steps of azimuth, clockwise, starting at north.
    ///
    /// # Errors
    /// Faults when there are fewer than 4 or more than 360 values, and for every value outside its range.
    pub fn new(elevations_deg: &[f64]) -> Result<Self, Vec<Fault>> {
        let mut faults = Vec::new();
        if !(Self::FEWEST..=Self::MOST).contains(&elevations_deg.len()) {
            faults.push(Fault::new(
                site::HORIZON.key,
                site::HORIZON.quantity,
                format!("{} values", elevations_deg.len()),
                format!(
                    "{} to {} values, at equal steps clockwise from north",
                    Self::FEWEST,
                    Self::MOST
                ),
                "give eight of them (N, NE, E, SE, S, SW, W, NW), or one for every 10°",
            ));
        }
        for elevation_deg in elevations_deg {
            checked(&site::HORIZON, *elevation_deg, &mut faults);
        }
        if faults.is_empty() {
            Ok(Self {
                elevations_deg: elevations_deg.into(),
            })
        } else {
            Err(faults)
        }
    }

    /// Elevation of the horizon \[°\] at an azimuth clockwise from north \[°\].
    ///
    /// ```
    /// let horizon = daylift_sky::Horizon::new(&[0.0, 10.0, 20.0, 10.0]).unwrap();
    /// // East is at 10°, south at 20°: a third of the way between them is 13.3°. North-west is half-way from 10° to 0°.
    /// assert!((horizon.elevation_deg(120.0) - 40.0 / 3.0).abs() < 1e-12);
    /// assert!((horizon.elevation_deg(315.0) - 5.0).abs() < 1e-12);
    /// ```
    #[must_use]
    pub fn elevation_deg(&self, azimuth_deg: f64) -> f64 {
        let count = self.elevations_deg.len();
        #[expect(clippy::cast_precision_loss, reason = "360 at most")]
        let at = azimuth_deg.rem_euclid(360.0) / 360.0 * count as f64;
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "from 0 to the number of values"
        )]
        let below = at.floor() as usize;
        let [from, to] = [below, below + 1].map(|i| self.elevations_deg[i % count]);
        from + (to - from) * (at - at.floor())
    }

    /// Whether the horizon hides the sun; `up`, `north` and `east` are the unit vector towards the sun.
    pub(crate) fn hides(&self, up: f64, north: f64, east: f64) -> bool {
        up < self.elevation_deg(east.atan2(north).to_degrees()).to_radians().sin()
    }

    /// The horizon prepared for summation over the sky.
    pub(crate) fn skyline(&self) -> Skyline {
        let direction = |i: u32| {
            let azimuth_rad = (f64::from(i) + 0.5) * TAU / f64::from(DIRECTIONS);
            let (east, north) = azimuth_rad.sin_cos();
            let elevation_rad = self.elevation_deg(azimuth_rad.to_degrees()).to_radians();
            let (sin, cos) = elevation_rad.sin_cos();
            Edge {
                north,
                east,
                elevation_rad,
                sin,
                cos,
            }
        };
        Skyline((0..DIRECTIONS).map(direction).collect())
    }

    /// Share of the sky in front of a plane that the horizon hides, weighted with the cosine of incidence; 0 to 1.
    ///
    /// `tilt_deg` is from horizontal, `azimuth_deg` clockwise from north.
    ///
    /// ```
    /// // A level plane with a horizon of 30° all around: the hidden share is sin² 30°.
    /// let horizon = daylift_sky::Horizon::new(&[30.0; 4]).unwrap();
    /// assert!((horizon.hidden_share(0.0, 180.0) - 0.25).abs() < 1e-9);
    /// ```
    #[must_use]
    pub fn hidden_share(&self, tilt_deg: f64, azimuth_deg: f64) -> f64 {
        let (tilt_sin, tilt_cos) = tilt_deg.to_radians().sin_cos();
        let (east, north) = azimuth_deg.to_radians().sin_cos();
        self.skyline().hidden_share(tilt_cos, tilt_sin * north, tilt_sin * east)
    }
}

/// The edge of the horizon in one direction.
#[derive(Debug, Clone, Copy)]
struct Edge {
    north: f64,
    east: f64,
    elevation_rad: f64,
    sin: f64,
    cos: f64,
}

/// The edge of the horizon in many directions.
#[derive(Debug, Clone)]
pub(crate) struct Skyline(Vec<Edge>);

impl Skyline {
    /// Share of the sky in front of a plane that lies below the edge; `up`, `north` and `east` are the plane's normal.
    ///
    /// In a direction with azimuth φ and elevation e the cosine of incidence is a·cos e + u·sin e. Here u is the upward
    /// component of the normal and a its component towards φ. Multiplied by cos e dφ, it integrates over e to a/2·(e +
    /// sin e·cos e) + u/2·sin² e. Below e0, with tan e0 = −a/u, the sky is behind the plane. The whole sky in front of
    /// the plane gives π·(1 + cos β)/2.
    pub(crate) fn hidden_share(&self, up: f64, north: f64, east: f64) -> f64 {
        let hidden: f64 = self.0.iter().map(|edge| below(edge, up, edge.north * north + edge.east * east)).sum();
        let all = PI * 0.5 * (1.0 + up);
        (hidden * TAU / f64::from(DIRECTIONS) / all).clamp(0.0, 1.0)
    }
}

/// Hidden sky in the direction of one edge.
fn below(edge: &Edge, up: f64, towards: f64) -> f64 {
    let to = 0.5 * (towards * (edge.elevation_rad + edge.sin * edge.cos) + up * edge.sin * edge.sin);
    if towards >= 0.0 {
        return to;
    }
    let from_rad = (-towards).atan2(up);
    if from_rad >= edge.elevation_rad {
        return 0.0;
    }
    let (sin, cos) = from_rad.sin_cos();
    to - 0.5 * (towards * (from_rad + sin * cos) + up * sin * sin)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn invalid_horizons_are_faults() {
        let few = Horizon::new(&[1.0, 2.0, 3.0]).unwrap_err();
        assert!(
            few[0].to_string().contains("3 values; allowed: 4 to 360 values"),
            "{few:?}"
        );
        assert_eq!(Horizon::new(&[0.0; 361]).unwrap_err().len(), 1);
        assert_eq!(Horizon::new(&[0.0, 61.0, f64::NAN, 0.0]).unwrap_err().len(), 2);
        assert!(Horizon::new(&[0.0; 360]).is_ok());
    }

    #[test]
    fn the_sun_is_hidden_below_the_edge_and_not_above_it() {
        let horizon = Horizon::new(&[0.0, 20.0, 0.0, 0.0]).unwrap();
        let east = |elevation_deg: f64| {
            let (sin, cos) = elevation_deg.to_radians().sin_cos();
            horizon.hides(sin, 0.0, cos)
        };
        assert!(east(19.9) && !east(20.1));
        let west_deg = 0.1_f64.to_radians();
        assert!(!horizon.hides(west_deg.sin(), 0.0, -west_deg.cos()));
    }

    #[test]
    fn an_upright_plane_loses_the_low_sky_in_front_of_it() {
        // Upright, facing north, h = 30° all around: ∫ cos φ dφ over the half circle is 2, ∫ cos² e de from 0 to h is
        // (h + sin h·cos h)/2; of 2 · π/4 that is (h + sin h·cos h)·2/π = (0.523599 + 0.433013)·0.636620 = 0.608998.
        let all_around = Horizon::new(&[30.0; 12]).unwrap();
        assert!((all_around.hidden_share(90.0, 0.0) - 0.608_998).abs() < 2e-5);
        // A horizon behind the plane hides nothing of what the plane sees.
        let mut behind = [0.0; 8];
        behind[4] = 40.0;
        assert!(Horizon::new(&behind).unwrap().hidden_share(90.0, 0.0).abs() < 1e-12);
    }

    #[test]
    fn a_tilted_plane_agrees_with_a_sum_over_the_sky() {
        // Brute-force sum over patches of 0.1° of elevation and 0.25° of azimuth.
        let horizon = Horizon::new(&[5.0, 25.0, 10.0, 0.0, 40.0, 3.0]).unwrap();
        for (tilt_deg, azimuth_deg) in [(25.0, 180.0), (60.0, 70.0), (0.0, 0.0)] {
            let (mut hidden, mut all) = (0.0, 0.0);
            let (tilt_sin, tilt_cos) = f64::to_radians(tilt_deg).sin_cos();
            for i in 0..1440_u32 {
                let azimuth = (f64::from(i) + 0.5) / 4.0;
                let edge_deg = horizon.elevation_deg(azimuth);
                let towards = tilt_sin * (azimuth - azimuth_deg).to_radians().cos();
                for j in 0..900_u32 {
                    let elevation_deg = (f64::from(j) + 0.5) / 10.0;
                    let (sin, cos) = elevation_deg.to_radians().sin_cos();
                    let part = (towards * cos + tilt_cos * sin).max(0.0) * cos;
                    all += part;
                    hidden += if elevation_deg < edge_deg { part } else { 0.0 };
                }
            }
            let ours = horizon.hidden_share(tilt_deg, azimuth_deg);
            assert!(
                (ours - hidden / all).abs() < 3e-4,
                "{tilt_deg}: {ours} {}",
                hidden / all
            );
        }
    }

    proptest! {
        #[test]
        fn a_higher_horizon_hides_more(
            low in proptest::collection::vec(0.0..40.0_f64, 4..20),
            more in 0.0..20.0_f64,
            tilt_deg in 0.0..=90.0_f64,
            azimuth_deg in 0.0..=360.0_f64,
        ) {
            let high: Vec<f64> = low.iter().map(|e| e + more).collect();
            let share = |of: &[f64]| Horizon::new(of).unwrap().hidden_share(tilt_deg, azimuth_deg);
            let (less, greater) = (share(&low), share(&high));
            prop_assert!((0.0..=1.0).contains(&less) && greater >= less - 1e-12);
            prop_assert!(share(&vec![0.0; low.len()]).abs() < 1e-15);
        }
    }
}
