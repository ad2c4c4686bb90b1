//! Moves a plant file to another place on earth.

use std::fmt::Write as _;

use daylift_units::field::number;
use daylift_units::fields::{array, site};

/// A place on a farm.
#[derive(Debug, Clone, PartialEq)]
pub struct NewPlace {
    /// Latitude, north positive \[°\].
    pub latitude_deg: f64,
    /// Longitude, east positive \[°\].
    pub longitude_deg: f64,
    /// Altitude \[m\], if known.
    pub altitude_m: Option<f64>,
    /// Name in the IANA time zone database, if known.
    pub time_zone: Option<String>,
}

/// Range of tilts that are written \[°\]: the lower end is the smallest tilt at which rain washes the glass (usual practice).
const TILTS_DEG: (f64, f64) = (10.0, 40.0);
/// Planes within this angle of north or south \[°\] are turned towards the equator. Others are left: they face east or west
/// on purpose.
const NORTH_SOUTH_DEG: f64 = 45.0;

/// Returns the text with other coordinates and a synthetic weather year.
///
/// `[site]` and `[weather]` are replaced. Planes that faced north or south face the equator at a tilt of about the latitude.
/// `None` when `[weather]` does not follow `[site]` as it does in the worked examples.
#[must_use]
pub fn set_place(text: &str, place: &NewPlace) -> Option<String> {
    let begin = text.find("[site]\n")?;
    let weather = begin + text[begin..].find("\n[weather]\n")?;
    let between = &text[begin..weather];
    let end = weather + 2 + text[weather + 2..].find("\n\n")?;
    let year = between.lines().find(|line| line.starts_with("year"))?;
    let sections = sections(place, year);
    Some(
        [
            &text[..begin],
            &sections,
            &towards_equator(&text[end..], place.latitude_deg),
        ]
        .concat(),
    )
}

fn sections(place: &NewPlace, year: &str) -> String {
    let mut out = String::from("[site]\n");
    let mut line = |key: &str, value: &str, comment: &str| {
        // Writing to a `String` never fails.
        let _ = writeln!(out, "{key} = {value} # {comment}");
    };
    line(site::LATITUDE.key, &number(place.latitude_deg), "north is positive");
    line(site::LONGITUDE.key, &number(place.longitude_deg), "east is positive");
    match place.altitude_m {
        Some(altitude_m) => line(site::ALTITUDE.key, &number(altitude_m), "above the sea"),
        None => line(site::ALTITUDE.key, "0", "not known yet: take it from a map or a phone"),
    }
    match &place.time_zone {
        Some(zone) => line(
            "time_zone",
            &format!("\"{zone}\""),
            "the clock for tariff, outages and pumping hours",
        ),
        None => line(
            "time_zone",
            &format!("\"{}\"", zone_by_longitude(place.longitude_deg)),
            "from the longitude (the sign of these names is reversed); write the farm's time zone, such as \"Africa/Lusaka\"",
        ),
    }
    out + year
        + "\n# record_low_c and record_high_c, the lowest and the highest air temperature on record near the site, are needed\n\
           # to check strings: ask the nearest weather service and add them.\n\
           \n[weather]\n\
           # A year generated from a world grid of monthly means: preliminary. Better: twelve monthly means of daily irradiation\n\
           # from a solar map (January first) in daily_ghi_kwh_m2. Best: a weather file instead of `synthetic`.\n\
           synthetic = true"
}

/// The time zone of whole hours that is nearest to solar time.
fn zone_by_longitude(longitude_deg: f64) -> String {
    let hours = (longitude_deg / 15.0).round();
    match hours {
        east if east > 0.0 => format!("Etc/GMT-{east}"),
        west if west < 0.0 => format!("Etc/GMT+{}", -west),
        _ => "Etc/GMT".to_owned(),
    }
}

fn towards_equator(text: &str, latitude_deg: f64) -> String {
    let value = |line: &str, key: &str| -> Option<f64> {
        let rest = line.strip_prefix(key)?.trim_start().strip_prefix('=')?;
        rest.split('#').next()?.trim().parse().ok()
    };
    let tilt_deg = latitude_deg.abs().round().clamp(TILTS_DEG.0, TILTS_DEG.1);
    let (equator_deg, word) = if latitude_deg < 0.0 {
        (0, "north")
    } else {
        (180, "south")
    };
    let mut lines: Vec<String> = text.split('\n').map(str::to_owned).collect();
    let mut tilt_at = None;
    for at in 0..lines.len() {
        if value(&lines[at], array::TILT.key).is_some() {
            tilt_at = Some(at);
        }
        let Some(azimuth_deg) = value(&lines[at], array::AZIMUTH.key) else {
            continue;
        };
        let off_deg = (azimuth_deg + 90.0).rem_euclid(180.0) - 90.0;
        if off_deg.abs() >= NORTH_SOUTH_DEG {
            continue;
        }
        lines[at] = format!(
            "{} = {equator_deg} # facing {word}, towards the equator",
            array::AZIMUTH.key
        );
        if let Some(tilt_at) = tilt_at.take() {
            let comment = "about the latitude, and steep enough for rain to clean the glass";
            lines[tilt_at] = format!("{} = {tilt_deg} # {comment}", array::TILT.key);
        }
    }
    lines.join("\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    const FARM: &str = "name = \"x\"\n\n[site]\nlatitude_deg = -15 # south\nlongitude_deg = 28\ntime_zone = \"Africa/Lusaka\" # UTC+2\n\
                        year = 2025\nrecord_low_c = 2\n\n[weather]\nfile = \"weather.csv\" # hours\n\n# The array.\n[array]\n\
                        tilt_deg = 18 # close\nazimuth_deg = 0 # facing north\nstrings = 3\n\n[[array.plane]]\ntilt_deg = 10\n\
                        azimuth_deg = 90\n";

    fn place(latitude_deg: f64, longitude_deg: f64) -> NewPlace {
        NewPlace {
            latitude_deg,
            longitude_deg,
            altitude_m: None,
            time_zone: None,
        }
    }

    #[test]
    fn the_place_changes_and_the_rest_stays() {
        let moved = set_place(FARM, &place(31.5, 74.3)).unwrap();
        assert!(
            moved.contains("latitude_deg = 31.5 #") && moved.contains("time_zone = \"Etc/GMT-5\""),
            "{moved}"
        );
        assert!(
            moved.contains("year = 2025\n") && moved.contains("synthetic = true\n\n# The array.\n[array]\n"),
            "{moved}"
        );
        assert!(
            !moved.contains("weather.csv") && !moved.contains("record_low_c = "),
            "{moved}"
        );
        assert!(
            moved.contains("tilt_deg = 32 # about the latitude") && moved.contains("azimuth_deg = 180 # facing south")
        );
        assert!(
            moved.contains("tilt_deg = 10\nazimuth_deg = 90\n") && moved.contains("strings = 3\n"),
            "{moved}"
        );
    }

    #[test]
    fn a_known_altitude_and_time_zone_are_written() {
        let known = NewPlace {
            altitude_m: Some(1610.0),
            time_zone: Some("Africa/Nairobi".to_owned()),
            ..place(-1.0, 36.9)
        };
        let moved = set_place(FARM, &known).unwrap();
        assert!(
            moved.contains("altitude_m = 1610 #") && moved.contains("\"Africa/Nairobi\""),
            "{moved}"
        );
        assert!(
            moved.contains("tilt_deg = 10 # about") && moved.contains("azimuth_deg = 0 # facing north"),
            "{moved}"
        );
    }

    #[test]
    fn zones_by_longitude_are_named_with_their_sign_reversed() {
        for (longitude_deg, zone) in [
            (28.1, "Etc/GMT-2"),
            (-79.9, "Etc/GMT+5"),
            (3.0, "Etc/GMT"),
            (179.0, "Etc/GMT-12"),
        ] {
            assert_eq!(zone_by_longitude(longitude_deg), zone);
        }
    }
}
