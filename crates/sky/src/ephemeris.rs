//! The sun's geocentric position over one year, cheap to compute at any instant.

use daylift_units::constants::DAY_S;
use solar_positioning::SolarPositions;
use solar_positioning::time::JulianDate;

use crate::sun::{Direction, Observer, SunPosition};

#[cfg(test)]
mod tests;

/// Terrestrial time minus universal time \[s\] (Reda & Andreas 2004, worked example).
const DELTA_T_S: f64 = 67.0;
/// Time between knots \[s\]. Cubic interpolation over 6 h has an error below 10⁻⁷°, including the lunar terms.
const KNOT_S: f64 = 0.25 * DAY_S;
/// Julian day of the Unix epoch.
const UNIX_EPOCH_JD: f64 = 2_440_587.5;
/// Julian day of J2000.0.
const J2000_JD: f64 = 2_451_545.0;
/// Days in a Julian century.
const CENTURY_DAYS: f64 = 36_525.0;
/// Earliest and latest start of a table: 1 January 1900 and 1 January 2200, in seconds after the Unix epoch.
const FIRST_START_S: f64 = -2_208_988_800.0;
const LAST_START_S: f64 = 7_258_118_400.0;
/// Longest table \[s\].
const LONGEST_S: f64 = 3660.0 * DAY_S;

/// The sun's geocentric position at one instant.
#[derive(Debug, Clone, Copy)]
struct Place {
    /// Right ascension minus the equation of the equinoxes, without jumps at full turns \[rad\].
    right_ascension_rad: f64,
    declination_sin: f64,
    declination_cos: f64,
    distance_au: f64,
}

/// The sun's geocentric position, tabulated every six hours with the solar position algorithm (SPA) of Reda & Andreas
/// (2004) and interpolated with cubics.
///
/// The earth's rotation is computed analytically: mean sidereal time (Reda & Andreas 2004, eq. 28) plus the equation of
/// the equinoxes, which is included in the tabulated right ascension. The result agrees with the full algorithm to
/// better than 0.001°.
#[derive(Debug, Clone)]
pub struct Ephemeris {
    start_unix_s: f64,
    /// One knot before the start, then one every [`KNOT_S`], up to two after the end.
    knots: Vec<Place>,
}

impl Ephemeris {
    /// A table from `start_unix_s` (seconds after 1970-01-01T00:00Z) over `length_s` seconds.
    ///
    /// The start is clamped to the years 1900 to 2200 and the length to ten years. A value that is not finite counts as
    /// 0.
    #[must_use]
    pub fn new(start_unix_s: f64, length_s: f64) -> Self {
        let start_unix_s = finite(start_unix_s).clamp(FIRST_START_S, LAST_START_S);
        let length_s = finite(length_s).clamp(KNOT_S, LONGEST_S);
        let mut knots: Vec<Place> = Vec::new();
        let mut after_start_s = -KNOT_S;
        while after_start_s < length_s + 2.0 * KNOT_S {
            let mut place = place(start_unix_s + after_start_s);
            if let Some(last) = knots.last() {
                let gap_rad = place.right_ascension_rad - last.right_ascension_rad;
                place.right_ascension_rad -= (gap_rad / std::f64::consts::TAU).round() * std::f64::consts::TAU;
            }
            knots.push(place);
            after_start_s += KNOT_S;
        }
        Self { start_unix_s, knots }
    }

    /// Apparent position of the sun for an observer at an instant (seconds after 1970-01-01T00:00Z).
    ///
    /// For an instant outside the table, the sun's position is that of the nearest end; the earth's rotation is that of
    /// the instant.
    ///
    /// ```
    /// use daylift_sky::{Ephemeris, Observer};
    /// // Reda & Andreas 2004, Table A5.1: 17 October 2003, 19:30:30 UTC, zenith 50.11162°, azimuth 194.34024°
    /// let sun = Ephemeris::new(1_066_348_800.0, 172_800.0)
    ///     .position(&Observer::new(39.742476, -105.1786, 1830.14, 11.0).unwrap(), 1_066_419_030.0);
    /// assert!((sun.zenith_deg() - 50.11162).abs() < 0.001);
    /// assert!((sun.azimuth_deg() - 194.34024).abs() < 0.001);
    /// ```
    #[must_use]
    pub fn position(&self, observer: &Observer, unix_s: f64) -> SunPosition {
        let (direction, distance_au) = self.direction(observer, unix_s);
        direction.position(distance_au)
    }

    /// As [`Ephemeris::position`], but as a direction and the distance \[AU\].
    #[inline]
    pub(crate) fn direction(&self, observer: &Observer, unix_s: f64) -> (Direction, f64) {
        let unix_s = finite(unix_s);
        let place = self.place(unix_s);
        let hour_angle_rad = mean_sidereal_rad(unix_s) - place.right_ascension_rad;
        let declination = [place.declination_sin, place.declination_cos];
        (
            observer.direction(hour_angle_rad, declination, place.distance_au),
            place.distance_au,
        )
    }

    fn place(&self, unix_s: f64) -> Place {
        let last = self.knots.len().saturating_sub(4);
        let knots_after_start = ((unix_s - self.start_unix_s) / KNOT_S).max(0.0);
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "not negative; a cast saturates"
        )]
        let index = (knots_after_start as usize).min(last);
        #[expect(clippy::cast_precision_loss, reason = "some thousands of knots")]
        let u = (knots_after_start - index as f64).min(1.0);
        let weights = cubic_weights(u);
        let mut place = Place {
            right_ascension_rad: 0.0,
            declination_sin: 0.0,
            declination_cos: 0.0,
            distance_au: 0.0,
        };
        for (weight, knot) in weights.iter().zip(&self.knots[index..]) {
            place.right_ascension_rad += weight * knot.right_ascension_rad;
            place.declination_sin += weight * knot.declination_sin;
            place.declination_cos += weight * knot.declination_cos;
            place.distance_au += weight * knot.distance_au;
        }
        place
    }
}

/// Lagrange weights of the values at −1, 0, 1 and 2 for a position u between 0 and 1.
fn cubic_weights(u: f64) -> [f64; 4] {
    let (before, after, beyond) = (u + 1.0, u - 1.0, u - 2.0);
    [
        -u * after * beyond / 6.0,
        before * after * beyond / 2.0,
        -before * u * beyond / 2.0,
        before * u * after / 6.0,
    ]
}

/// The sun's position from the full algorithm.
fn place(unix_s: f64) -> Place {
    let days = days_after_j2000(unix_s);
    // The algorithm refuses only years before −2000 or after 6000; the limits of the table's start and length exclude
    // these.
    JulianDate::new(J2000_JD + days, DELTA_T_S)
        .and_then(|date| SolarPositions::new().for_time_from_julian(date))
        .map_or(
            Place {
                right_ascension_rad: 0.0,
                declination_sin: 0.0,
                declination_cos: 1.0,
                distance_au: 1.0,
            },
            |sun| Place {
                right_ascension_rad: (sun.right_ascension() - equation_of_equinoxes_deg(days)).to_radians(),
                declination_sin: sun.declination().to_radians().sin(),
                declination_cos: sun.declination().to_radians().cos(),
                distance_au: sun.earth_radius_vector().unwrap_or(1.0),
            },
        )
}

fn days_after_j2000(unix_s: f64) -> f64 {
    unix_s / DAY_S + (UNIX_EPOCH_JD - J2000_JD)
}

/// Mean sidereal time at Greenwich, full turns included \[rad\] (Reda & Andreas 2004, eq. 28).
fn mean_sidereal_rad(unix_s: f64) -> f64 {
    let days = days_after_j2000(unix_s);
    let t = days / CENTURY_DAYS;
    (280.460_618_37 + 360.985_647_366_29 * days + t * t * (0.000_387_933 - t / 38_710_000.0)).to_radians()
}

/// Apparent minus mean sidereal time \[°\]: nutation in longitude times the cosine of the obliquity.
fn equation_of_equinoxes_deg(days: f64) -> f64 {
    let obliquity_deg = 23.439_291 - 0.013_004_2 * days / CENTURY_DAYS;
    nutation_in_longitude_deg(days) * obliquity_deg.to_radians().cos()
}

/// Nutation in longitude \[°\]: the four leading terms, within 0.5″ of the full series (Meeus 1998, chapter 22).
///
/// Δψ = −17.20″ sin Ω − 1.32″ sin 2L − 0.23″ sin 2L′ + 0.21″ sin 2Ω. Ω is the moon's ascending node, L and L′ the mean
/// longitudes of sun and moon.
fn nutation_in_longitude_deg(days: f64) -> f64 {
    let t = days / CENTURY_DAYS;
    let node = (125.044_52 - 1_934.136_261 * t).to_radians();
    let sun = (280.4665 + 36_000.769_8 * t).to_radians();
    let moon = (218.3165 + 481_267.881_3 * t).to_radians();
    (-17.20 * node.sin() - 1.32 * (2.0 * sun).sin() - 0.23 * (2.0 * moon).sin() + 0.21 * (2.0 * node).sin()) / 3600.0
}

fn finite(value: f64) -> f64 {
    if value.is_finite() { value } else { 0.0 }
}
