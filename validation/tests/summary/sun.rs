//! Position of the sun.

use daylift_sky::{Ephemeris, Observer, Plane, SunPosition};
use daylift_validation::{Allowed, Report, Row, Worst};

use crate::data::{Outcome, Station, Table, faults_text, stations};

const EXAMPLE: &str = "Reda & Andreas 2008, Table A5.1";
const PVLIB: &str = "pvlib 0.16.1, nrel_numpy";
/// Below this elevation one side adds refraction and the other does not \[°\].
const LOWEST_DEG: f64 = -0.8;

/// The published example and both stations.
pub(crate) fn check(report: &mut Report) -> Outcome {
    example(report)?;
    for station in &stations()? {
        positions(station, report)?;
    }
    Ok(())
}

/// 17 October 2003, 12:30:30 at UTC−7; a plane tilted 30° and turned 10° east of south.
fn example(report: &mut Report) -> Outcome {
    let observer = Observer::new(39.742_476, -105.1786, 1830.14, 11.0).map_err(faults_text)?;
    let sun = Ephemeris::new(1_041_404_400.0, 31_536_000.0).position(&observer, 1_066_419_030.0);
    let plane = Plane::new(30.0, 170.0, 0.2).map_err(faults_text)?;
    let incidence_deg = plane.incidence_cos(&sun).acos().to_degrees();
    for (what, ours, theirs) in [
        ("zenith of the worked example", sun.zenith_deg(), 50.111_62),
        ("azimuth of the worked example", sun.azimuth_deg(), 194.340_24),
        ("incidence of the worked example", incidence_deg, 25.187_00),
    ] {
        report.push(Row::new(what, EXAMPLE, ours, theirs, Allowed::absolute(0.001, "°")));
    }
    Ok(())
}

/// The sun at the middle of an hour of the year, or `later_s` later.
pub(crate) fn sun_at(station: &Station, hour: f64, later_s: f64) -> SunPosition {
    #[expect(clippy::cast_precision_loss, reason = "seconds of our time are exact in f64")]
    let start_s = station.axis.start_unix_s() as f64;
    station.ephemeris.position(&station.observer, start_s + (hour + 0.5) * 3600.0 + later_s)
}

fn positions(station: &Station, report: &mut Report) -> Outcome {
    let table = Table::read(&format!("sun_{}.csv", station.key))?;
    let (hours, elevations_deg) = (table.numbers("hour")?, table.numbers("elevation_deg")?);
    let azimuths_deg = table.numbers("azimuth_deg")?;
    let allowed = Allowed::absolute(0.01, "°");
    let (mut elevation, mut azimuth) = (Worst::new(allowed), Worst::new(allowed));
    for ((hour, theirs_deg), theirs_azimuth_deg) in hours.iter().zip(elevations_deg).zip(azimuths_deg) {
        if theirs_deg <= LOWEST_DEG {
            continue;
        }
        let sun = sun_at(station, *hour, 0.0);
        elevation.see(format!("hour {hour}"), sun.elevation_deg, theirs_deg);
        // Near the zenith a degree of azimuth is a short arc.
        let turn_deg = (sun.azimuth_deg() - theirs_azimuth_deg + 180.0).rem_euclid(360.0) - 180.0;
        let arc_deg = turn_deg * sun.zenith_sin;
        azimuth.see(format!("hour {hour}"), theirs_azimuth_deg + arc_deg, theirs_azimuth_deg);
    }
    report.push(elevation.row(&format!("elevation, station {}", station.key), PVLIB));
    report.push(azimuth.row(&format!("azimuth along the arc, station {}", station.key), PVLIB));
    Ok(())
}
