//! Observer and apparent position of the sun: the topocentric part of the solar position.

use daylift_units::constants::{SOLAR_CONSTANT_W_M2, pressure_at_altitude_pa};
use daylift_units::fields::site;
use daylift_units::fingerprint;
use daylift_units::{Fault, Field, Unit};

use crate::checked;

/// Polar radius divided by equatorial radius of the earth (Reda & Andreas 2004, eq. 35).
const POLAR_OVER_EQUATORIAL: f64 = 0.996_647_19;
/// Equatorial radius of the earth \[m\] (Reda & Andreas 2004, eq. 36).
const EARTH_RADIUS_M: f64 = 6_378_140.0;
/// Equatorial horizontal parallax of the sun at one astronomical unit \[rad\]: 8.794″ (Reda & Andreas 2004, eq. 34).
const PARALLAX_RAD: f64 = 8.794 / 3600.0 * std::f64::consts::PI / 180.0;
/// No refraction is added below this true elevation \[°\]: 0.26667° for the sun's radius and 0.5667° of refraction at
/// the horizon (Reda & Andreas 2004, §3.14.3).
const REFRACTION_CUTOFF_DEG: f64 = -(0.266_67 + 0.5667);

/// A sine slightly below that of the cutoff.
const REFRACTION_CUTOFF_SIN: f64 = -0.014_55;

const MEAN_AIR: Field = Field::new(
    "air_c",
    "yearly mean air temperature of the weather file",
    Unit::CELSIUS,
    -60.0,
    60.0,
    "colder and hotter than any year",
);

/// The place of the observer, with everything precomputed that is constant over the year.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Observer {
    longitude_rad: f64,
    latitude_sin: f64,
    latitude_cos: f64,
    /// Distance from the earth's axis \[equatorial radii\].
    from_axis: f64,
    /// Distance from the equatorial plane, north positive \[equatorial radii\].
    from_equator: f64,
    /// Refraction scale \[°\]: divided by the tangent in the refraction formula, it gives the refraction.
    refraction_deg: f64,
}

fingerprint!(Observer {
    longitude_rad,
    latitude_sin,
    latitude_cos,
    from_axis,
    from_equator,
    refraction_deg
});

impl Observer {
    /// An observer at a geographic latitude (north positive), a longitude (east positive) and an altitude above sea
    /// level.
    ///
    /// Refraction uses the standard atmosphere's pressure at this altitude and the yearly mean air temperature.
    ///
    /// # Errors
    /// A fault for each value outside its range.
    pub fn new(latitude_deg: f64, longitude_deg: f64, altitude_m: f64, mean_air_c: f64) -> Result<Self, Vec<Fault>> {
        let mut faults = Vec::new();
        let latitude_rad = checked(&site::LATITUDE, latitude_deg, &mut faults).to_radians();
        let longitude_rad = checked(&site::LONGITUDE, longitude_deg, &mut faults).to_radians();
        let altitude_m = checked(&site::ALTITUDE, altitude_m, &mut faults);
        let mean_air_c = checked(&MEAN_AIR, mean_air_c, &mut faults);
        if !faults.is_empty() {
            return Err(faults);
        }
        let (latitude_sin, latitude_cos) = latitude_rad.sin_cos();
        // Reduced latitude, Reda & Andreas 2004, eq. 35.
        let reduced_rad = (POLAR_OVER_EQUATORIAL * latitude_sin).atan2(latitude_cos);
        let altitude_radii = altitude_m / EARTH_RADIUS_M;
        Ok(Self {
            longitude_rad,
            latitude_sin,
            latitude_cos,
            from_axis: reduced_rad.cos() + altitude_radii * latitude_cos,
            from_equator: POLAR_OVER_EQUATORIAL * reduced_rad.sin() + altitude_radii * latitude_sin,
            refraction_deg: refraction_scale_deg(pressure_at_altitude_pa(altitude_m), mean_air_c),
        })
    }

    /// The direction in which this observer sees the sun, from the geocentric hour angle at Greenwich, the sine and
    /// cosine of the declination, and the distance.
    ///
    /// The observer's position is subtracted from the sun's direction (parallax), and the result is rotated into the
    /// observer's horizon. This is the same as equations 37 to 47 of Reda & Andreas (2004), written with vectors to
    /// avoid division by small numbers. Refraction then raises it by a small angle.
    #[inline]
    pub(crate) fn direction(
        &self,
        greenwich_hour_angle_rad: f64,
        declination: [f64; 2],
        distance_au: f64,
    ) -> Direction {
        let (hour_sin, hour_cos) = (greenwich_hour_angle_rad + self.longitude_rad).sin_cos();
        let [declination_sin, declination_cos] = declination;
        let parallax = PARALLAX_RAD / distance_au;
        let to_meridian = declination_cos * hour_cos - self.from_axis * parallax;
        let to_pole = declination_sin - self.from_equator * parallax;
        let west = declination_cos * hour_sin;
        let up = self.latitude_cos * to_meridian + self.latitude_sin * to_pole;
        let north = self.latitude_cos * to_pole - self.latitude_sin * to_meridian;
        let level = (north * north + west * west).sqrt();
        let length = (up * up + level * level).sqrt();
        let (mut seen_up, mut seen_level) = (up / length, level / length);
        if seen_up > REFRACTION_CUTOFF_SIN {
            let turn_rad = self.refraction_at_deg(up.atan2(level).to_degrees()).to_radians();
            let (sin, cos) = of_small_angle(turn_rad);
            (seen_up, seen_level) = (seen_up * cos + seen_level * sin, seen_level * cos - seen_up * sin);
        }
        // At the zenith no horizontal direction is defined; any will do.
        let per_level = if level > 0.0 { seen_level / level } else { 0.0 };
        Direction {
            up: seen_up,
            north: north * per_level,
            east: -west * per_level,
            level: seen_level,
        }
    }

    fn refraction_at_deg(&self, true_elevation_deg: f64) -> f64 {
        if true_elevation_deg <= REFRACTION_CUTOFF_DEG {
            return 0.0;
        }
        let phase_deg = true_elevation_deg + 10.3 / (true_elevation_deg + 5.11);
        self.refraction_deg / phase_deg.to_radians().tan()
    }
}

/// Sine and cosine of an angle below 0.02 rad, as refraction has; the neglected terms are below 10⁻¹⁵.
fn of_small_angle(rad: f64) -> (f64, f64) {
    let square = rad * rad;
    let sin = rad * (1.0 - square / 6.0 * (1.0 - square / 20.0));
    let cos = 1.0 - square / 2.0 * (1.0 - square / 12.0 * (1.0 - square / 30.0));
    (sin, cos)
}

/// The direction in which the sun is seen: a unit vector.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Direction {
    /// Towards the zenith: the cosine of the zenith angle.
    pub(crate) up: f64,
    /// Towards north.
    pub(crate) north: f64,
    /// Towards east.
    pub(crate) east: f64,
    /// Length of the horizontal part: the sine of the zenith angle, never negative.
    pub(crate) level: f64,
}

impl Direction {
    /// Converts the direction to angles.
    pub(crate) fn position(&self, distance_au: f64) -> SunPosition {
        SunPosition {
            elevation_deg: self.up.atan2(self.level).to_degrees(),
            zenith_cos: self.up,
            zenith_sin: self.level,
            azimuth_rad: turn(self.east.atan2(self.north)),
            distance_au,
        }
    }
}

/// Refraction factor for pressure and temperature (Reda & Andreas 2004, eq. 42).
///
/// Δe = (p / 1010 mbar) · (283 / (273 + T)) · 1.02° / (60 · tan(e0 + 10.3 / (e0 + 5.11))), e0 in degrees.
fn refraction_scale_deg(pressure_pa: f64, air_c: f64) -> f64 {
    pressure_pa / 101_000.0 * 283.0 / (273.0 + air_c) * 1.02 / 60.0
}

/// Moves an angle to 0 to one full turn \[rad\].
fn turn(angle_rad: f64) -> f64 {
    if angle_rad < 0.0 {
        angle_rad + std::f64::consts::TAU
    } else {
        angle_rad
    }
}

/// Apparent position of the sun, with refraction.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SunPosition {
    /// Apparent elevation above the horizon \[°\].
    pub elevation_deg: f64,
    /// Cosine of the apparent zenith angle.
    pub zenith_cos: f64,
    /// Sine of the apparent zenith angle, never negative.
    pub zenith_sin: f64,
    /// Azimuth clockwise from north, 0 to 2π \[rad\].
    pub azimuth_rad: f64,
    /// Distance from the earth \[AU\].
    pub distance_au: f64,
}

impl SunPosition {
    /// A sun at an apparent zenith angle, an azimuth clockwise from north, and a distance \[AU\].
    #[must_use]
    pub fn from_angles(zenith_deg: f64, azimuth_deg: f64, distance_au: f64) -> Self {
        let (zenith_sin, zenith_cos) = zenith_deg.to_radians().sin_cos();
        Self {
            elevation_deg: 90.0 - zenith_deg,
            zenith_cos,
            zenith_sin,
            azimuth_rad: azimuth_deg.rem_euclid(360.0).to_radians(),
            distance_au,
        }
    }

    /// Whether the centre of the sun is above the horizon.
    #[must_use]
    pub fn is_up(&self) -> bool {
        self.zenith_cos > 0.0
    }

    /// Apparent zenith angle \[°\].
    #[must_use]
    pub fn zenith_deg(&self) -> f64 {
        90.0 - self.elevation_deg
    }

    /// Azimuth clockwise from north \[°\].
    #[must_use]
    pub fn azimuth_deg(&self) -> f64 {
        self.azimuth_rad.to_degrees()
    }

    /// Irradiance outside the atmosphere on a surface that faces the sun \[W/m²\].
    ///
    /// E0 = 1361.0 / R², R the distance in AU (Kopp & Lean 2011 for the constant).
    #[must_use]
    pub fn extraterrestrial_w_m2(&self) -> f64 {
        extraterrestrial_at_w_m2(self.distance_au)
    }
}

/// Irradiance outside the atmosphere at a distance \[AU\], on a surface that faces the sun \[W/m²\].
pub(crate) fn extraterrestrial_at_w_m2(distance_au: f64) -> f64 {
    SOLAR_CONSTANT_W_M2 / (distance_au * distance_au)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_invalid_value_of_a_site_is_a_separate_fault() {
        let faults = Observer::new(91.0, f64::NAN, 9000.0, 20.0).unwrap_err();
        let keys: Vec<&str> = faults.iter().map(|f| f.key.as_str()).collect();
        assert_eq!(keys, ["latitude_deg", "longitude_deg", "altitude_m"]);
        assert!(faults[0].to_string().contains("91°; allowed: -66 to 66°"));
    }

    #[test]
    fn the_cutoff_as_a_sine_includes_every_refracted_elevation() {
        let cutoff = REFRACTION_CUTOFF_DEG.to_radians().sin();
        assert!(REFRACTION_CUTOFF_SIN < cutoff && cutoff - REFRACTION_CUTOFF_SIN < 1e-4);
    }

    #[test]
    fn of_small_angle_agrees_with_sine_and_cosine() {
        for rad in [0.0, 1e-4, 0.005, 0.0102, 0.02_f64] {
            let (sin, cos) = of_small_angle(rad);
            assert!(
                (sin - rad.sin()).abs() < 1e-15 && (cos - rad.cos()).abs() < 1e-15,
                "{rad}"
            );
        }
    }

    #[test]
    fn refraction_of_the_published_example() {
        // Reda & Andreas 2004, Table A5.1: 820 mbar, 11 °C, e0 = 39.872046°, Δe = 0.016332°.
        let observer = Observer {
            refraction_deg: refraction_scale_deg(82_000.0, 11.0),
            ..Observer::new(39.742_476, -105.1786, 1830.14, 11.0).unwrap()
        };
        assert!((observer.refraction_at_deg(39.872_046) - 0.016_332).abs() < 1e-6);
        assert!(observer.refraction_at_deg(-0.84) < 1e-15);
    }

    #[test]
    fn at_the_equinox_noon_zenith_angle_is_the_latitude() {
        for latitude_deg in [-66.0, -30.0, 0.0, 45.0, 65.0_f64] {
            let observer = Observer::new(latitude_deg, 0.0, 0.0, 10.0).unwrap();
            let sun = observer.direction(0.0, [0.0, 1.0], 1.0).position(1.0);
            // Parallax (0.0024°) and refraction (under 0.5°) are the only differences.
            assert!((sun.zenith_deg() - latitude_deg.abs()).abs() < 0.5, "{sun:?}");
            let towards_equator_deg = if latitude_deg > 0.0 { 180.0 } else { 0.0 };
            if latitude_deg != 0.0 {
                assert!((sun.azimuth_deg() - towards_equator_deg).abs() < 1e-6);
            }
        }
    }

    #[test]
    fn extraterrestrial_irradiance_falls_with_the_square_of_the_distance() {
        // Kopp & Lean 2011: 1361 W/m² at 1 AU; a quarter of it at 2 AU.
        let sun = SunPosition::from_angles(30.0, 180.0, 2.0);
        assert!((sun.extraterrestrial_w_m2() - 340.25).abs() < 1e-9);
    }
}
