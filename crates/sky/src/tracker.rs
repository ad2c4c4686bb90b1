//! Single-axis trackers: modules that follow the sun about one axis.

use daylift_units::Fault;
use daylift_units::fields::array;
use daylift_units::fingerprint;

use crate::checked;
use crate::rows::Rows;
use crate::sun::SunPosition;

/// A single-axis tracker, with everything precomputed that is constant over the year.
///
/// It follows the calculated position of the sun in any weather.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tracker {
    /// Horizontal direction across the axis, towards which a positive rotation turns: east and north.
    across: [f64; 2],
    /// Normal of the modules without rotation: up, north and east.
    at_rest: [f64; 3],
    greatest_rad: f64,
    /// Pitch divided by width of the rows, if the tracker backtracks.
    backtracking_spacing: Option<f64>,
    albedo: f64,
}

fingerprint!(Tracker {
    across,
    at_rest,
    greatest_rad,
    backtracking_spacing,
    albedo
});

/// Orientation of a tracker in one step.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct TrackerPose {
    /// Cosine of the rotation.
    pub(crate) rotation_cos: f64,
    /// Rotation \[rad\].
    pub(crate) rotation_rad: f64,
    /// Normal of the modules: up, north and east.
    pub(crate) normal: [f64; 3],
    /// Component of the sun's direction along the modules' normal without rotation.
    pub(crate) sun_up: f64,
}

impl Tracker {
    /// A tracker whose axis points to an azimuth clockwise from north; its lower end is there when the axis is tilted
    /// from horizontal. It rotates to either side by at most `greatest_deg` \[°\]. `albedo` is that of the ground (a
    /// fraction).
    ///
    /// # Errors
    /// A fault for each value outside its range.
    pub fn new(axis_azimuth_deg: f64, axis_tilt_deg: f64, greatest_deg: f64, albedo: f64) -> Result<Self, Vec<Fault>> {
        let mut faults = Vec::new();
        let azimuth_rad = checked(&array::AXIS_AZIMUTH, axis_azimuth_deg, &mut faults).to_radians();
        let tilt_rad = checked(&array::AXIS_TILT, axis_tilt_deg, &mut faults).to_radians();
        let greatest_rad = checked(&array::GREATEST_ROTATION, greatest_deg, &mut faults).to_radians();
        let albedo = checked(&array::ALBEDO, albedo, &mut faults);
        if !faults.is_empty() {
            return Err(faults);
        }
        let (east, north) = azimuth_rad.sin_cos();
        let (tilt_sin, tilt_cos) = tilt_rad.sin_cos();
        Ok(Self {
            across: [north, -east],
            at_rest: [tilt_cos, tilt_sin * north, tilt_sin * east],
            greatest_rad,
            backtracking_spacing: None,
            albedo,
        })
    }

    /// The same tracker with backtracking: it turns back where it would shade a neighbouring row.
    #[must_use]
    pub fn backtracking(self, rows: &Rows) -> Self {
        Self {
            backtracking_spacing: Some(rows.spacing()),
            ..self
        }
    }

    pub(crate) fn albedo(&self) -> f64 {
        self.albedo
    }

    pub(crate) fn greatest_rad(&self) -> f64 {
        self.greatest_rad
    }

    /// Rotation about the axis for a position of the sun \[°\]: right-handed about the axis in the direction of its
    /// azimuth. With an axis towards north, a positive rotation faces east.
    ///
    /// The rotation is the sun's angle in the plane across the axis. Where rows would shade each other, arccos(p/w·cos
    /// of that angle) is subtracted. The result is limited to the maximum rotation (Anderson & Mikofski 2020, eq. 5,
    /// 14 and 15, for level ground across the axis).
    ///
    /// ```
    /// use daylift_sky::{SunPosition, Tracker};
    /// // Axis from north to south, sun 40° from the zenith in the west: 40° to the west.
    /// let tracker = Tracker::new(0.0, 0.0, 60.0, 0.2).unwrap();
    /// let rotation_deg = tracker.rotation_deg(&SunPosition::from_angles(40.0, 270.0, 1.0));
    /// assert!((rotation_deg + 40.0).abs() < 1e-12);
    /// ```
    #[must_use]
    pub fn rotation_deg(&self, sun: &SunPosition) -> f64 {
        let (east, north) = sun.azimuth_rad.sin_cos();
        let turned = self.pose(sun.zenith_cos, sun.zenith_sin * north, sun.zenith_sin * east);
        turned.rotation_rad.to_degrees()
    }

    /// Orientation for a unit vector towards the sun.
    pub(crate) fn pose(&self, up: f64, north: f64, east: f64) -> TrackerPose {
        let sun_across = self.across[0] * east + self.across[1] * north;
        let sun_up = self.at_rest[0] * up + self.at_rest[1] * north + self.at_rest[2] * east;
        let mut rotation_rad = sun_across.atan2(sun_up);
        if let Some(spacing) = self.backtracking_spacing {
            let across = (spacing * rotation_rad.cos()).abs();
            if across < 1.0 {
                rotation_rad -= rotation_rad.signum() * across.acos();
            }
        }
        self.pose_at(rotation_rad.clamp(-self.greatest_rad, self.greatest_rad), sun_up)
    }

    /// Orientation at a rotation.
    pub(crate) fn pose_at(&self, rotation_rad: f64, sun_up: f64) -> TrackerPose {
        let (sin, cos) = rotation_rad.sin_cos();
        let [up, north, east] = self.at_rest;
        TrackerPose {
            rotation_cos: cos,
            rotation_rad,
            normal: [
                cos * up,
                cos * north + sin * self.across[1],
                cos * east + sin * self.across[0],
            ],
            sun_up,
        }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::RowShade;

    fn sun(zenith_deg: f64, azimuth_deg: f64) -> SunPosition {
        SunPosition::from_angles(zenith_deg, azimuth_deg, 1.0)
    }

    #[test]
    fn invalid_trackers_are_faults() {
        let faults = Tracker::new(-1.0, 46.0, 91.0, 2.0).unwrap_err();
        let keys: Vec<&str> = faults.iter().map(|f| f.key.as_str()).collect();
        assert_eq!(
            keys,
            ["axis_azimuth_deg", "axis_tilt_deg", "greatest_rotation_deg", "albedo"]
        );
    }

    #[test]
    fn it_follows_the_sun_up_to_its_greatest_rotation() {
        let tracker = Tracker::new(0.0, 0.0, 50.0, 0.2).unwrap();
        // At 60° from the zenith in the south-east: tan R = sin 60°·sin 135°/cos 60° = 1.224745, R = 50.77°.
        for (azimuth_deg, rotation_deg) in [(90.0, 50.0), (135.0, 50.0), (180.0, 0.0), (200.0, -30.642)] {
            let ours = tracker.rotation_deg(&sun(60.0, azimuth_deg));
            assert!((ours - rotation_deg).abs() < 1e-3, "{azimuth_deg}: {ours}");
        }
        // The other end of the same axis turns the other way.
        let other = Tracker::new(180.0, 0.0, 50.0, 0.2).unwrap();
        assert!((other.rotation_deg(&sun(60.0, 200.0)) - 30.642).abs() < 1e-3);
    }

    #[test]
    fn rows_backtrack_under_a_low_sun() {
        // Pitch twice the width, sun 80° from the zenith in the east: 2·cos 80° = 0.347296, its arccos 69.6780°; 80 −
        // 69.6780.
        let rows = Rows::new(4.0, 2.0, RowShade::InProportion).unwrap();
        let tracker = Tracker::new(0.0, 0.0, 60.0, 0.2).unwrap().backtracking(&rows);
        assert!((tracker.rotation_deg(&sun(80.0, 90.0)) - 10.3220).abs() < 1e-3);
        assert!((tracker.rotation_deg(&sun(80.0, 270.0)) + 10.3220).abs() < 1e-3);
        // 2·cos 55° = 1.147: no shade yet.
        assert!((tracker.rotation_deg(&sun(55.0, 90.0)) - 55.0).abs() < 1e-9);
    }

    proptest! {
        #[test]
        fn backtracking_rows_shade_nothing(
            spacing in 1.05..6.0_f64,
            axis_deg in 0.0..360.0_f64,
            axis_tilt_deg in 0.0..20.0_f64,
            greatest_deg in 0.0..90.0_f64,
            zenith_deg in 0.0..90.0_f64,
            azimuth_deg in 0.0..360.0_f64,
        ) {
            let rows = Rows::new(2.0 * spacing, 2.0, RowShade::Whole).unwrap();
            let tracker = Tracker::new(axis_deg, axis_tilt_deg, greatest_deg, 0.2).unwrap().backtracking(&rows);
            let (up, level) = (zenith_deg.to_radians().cos(), zenith_deg.to_radians().sin());
            let (east, north) = azimuth_deg.to_radians().sin_cos();
            let turned = tracker.pose(up, level * north, level * east);
            let [a, b, c] = turned.normal;
            prop_assert!((a * a + b * b + c * c - 1.0).abs() < 1e-12);
            // With a tilted axis, a low sun behind its upper end is below the plane of the axes and reaches no row's
            // upper side.
            prop_assume!(turned.sun_up > 1e-6);
            let incidence_cos = up * a + level * north * b + level * east * c;
            prop_assert!(rows.beam_taken(turned.sun_up, incidence_cos).abs() < 1e-15);
        }
    }
}
