//! Modules that turn about one axis after the sun.

use daylift_units::Fault;
use daylift_units::fields::array;
use daylift_units::fingerprint;

use crate::checked;
use crate::rows::Rows;
use crate::sun::SunPosition;

/// A tracker about one axis, with all that does not change over the year worked out.
///
/// It follows the sun by time and place alone, in clear and in overcast weather.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tracker {
    /// Level direction across the axis, to which a positive rotation turns: east and north.
    across: [f64; 2],
    /// Where the modules face without rotation: up, north and east.
    at_rest: [f64; 3],
    greatest_rad: f64,
    /// Pitch over width of the rows between which it turns back.
    turns_back: Option<f64>,
    albedo: f64,
}

fingerprint!(Tracker {
    across,
    at_rest,
    greatest_rad,
    turns_back,
    albedo
});

/// Where a tracker stands in a step.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Turned {
    /// Cosine of the rotation.
    pub(crate) rotation_cos: f64,
    /// Rotation \[rad\].
    pub(crate) rotation_rad: f64,
    /// Normal of the modules: up, north and east.
    pub(crate) normal: [f64; 3],
    /// The sun's part along the modules' normal without rotation.
    pub(crate) sun_up: f64,
}

impl Tracker {
    /// A tracker whose axis points to an azimuth clockwise from north and is tilted from level, its lower end there; it
    /// turns to either side by the greatest rotation at most \[°\]. Ground of an albedo (fraction).
    ///
    /// # Errors
    /// A fault for each value that is out of its range.
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
            turns_back: None,
            albedo,
        })
    }

    /// The same, turned back where it would throw shade on a row beside it.
    #[must_use]
    pub fn backtracking(self, rows: &Rows) -> Self {
        Self {
            turns_back: Some(rows.spacing()),
            ..self
        }
    }

    pub(crate) fn albedo(&self) -> f64 {
        self.albedo
    }

    pub(crate) fn greatest_rad(&self) -> f64 {
        self.greatest_rad
    }

    /// Rotation about the axis at a position of the sun \[°\]: right-handed about the axis seen along its azimuth, so that
    /// with an axis towards north a positive rotation faces east.
    ///
    /// The sun's angle in the plane across the axis; where rows would shade each other, less arccos(p/w·cos of it); at most
    /// the greatest rotation (Anderson & Mikofski 2020, eq. 5, 14 and 15, on level ground across the axis).
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
        let turned = self.turned(sun.zenith_cos, sun.zenith_sin * north, sun.zenith_sin * east);
        turned.rotation_rad.to_degrees()
    }

    /// Where it stands with the sun in a direction of length 1.
    pub(crate) fn turned(&self, up: f64, north: f64, east: f64) -> Turned {
        let sun_across = self.across[0] * east + self.across[1] * north;
        let sun_up = self.at_rest[0] * up + self.at_rest[1] * north + self.at_rest[2] * east;
        let mut rotation_rad = sun_across.atan2(sun_up);
        if let Some(spacing) = self.turns_back {
            let across = (spacing * rotation_rad.cos()).abs();
            if across < 1.0 {
                rotation_rad -= rotation_rad.signum() * across.acos();
            }
        }
        self.at(rotation_rad.clamp(-self.greatest_rad, self.greatest_rad), sun_up)
    }

    /// Where it stands at a rotation.
    pub(crate) fn at(&self, rotation_rad: f64, sun_up: f64) -> Turned {
        let (sin, cos) = rotation_rad.sin_cos();
        let [up, north, east] = self.at_rest;
        Turned {
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
    fn wrong_trackers_are_refused() {
        let faults = Tracker::new(-1.0, 46.0, 91.0, 2.0).unwrap_err();
        let keys: Vec<&str> = faults.iter().map(|f| f.key.as_str()).collect();
        assert_eq!(
            keys,
            ["axis_azimuth_deg", "axis_tilt_deg", "greatest_rotation_deg", "albedo"]
        );
    }

    #[test]
    fn it_turns_after_the_sun_and_no_further_than_it_can() {
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
    fn a_low_sun_turns_rows_back() {
        // Rows twice their width apart, sun at 80° in the east: 2·cos 80° = 0.347296, arccos of it 69.6780°; 80 − 69.6780.
        let rows = Rows::new(4.0, 2.0, RowShade::InProportion).unwrap();
        let tracker = Tracker::new(0.0, 0.0, 60.0, 0.2).unwrap().backtracking(&rows);
        assert!((tracker.rotation_deg(&sun(80.0, 90.0)) - 10.3220).abs() < 1e-3);
        assert!((tracker.rotation_deg(&sun(80.0, 270.0)) + 10.3220).abs() < 1e-3);
        // 2·cos 55° = 1.147: no shade yet.
        assert!((tracker.rotation_deg(&sun(55.0, 90.0)) - 55.0).abs() < 1e-9);
    }

    proptest! {
        #[test]
        fn rows_that_turn_back_shade_nothing(
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
            let turned = tracker.turned(up, level * north, level * east);
            let [a, b, c] = turned.normal;
            prop_assert!((a * a + b * b + c * c - 1.0).abs() < 1e-12);
            // With a tilted axis a low sun behind its upper end stands below the plane of the axes and shines on no row's
            // upper side without grazing every other.
            prop_assume!(turned.sun_up > 1e-6);
            let incidence_cos = up * a + level * north * b + level * east * c;
            prop_assert!(rows.beam_taken(turned.sun_up, incidence_cos).abs() < 1e-15);
        }
    }
}
