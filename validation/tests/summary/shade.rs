//! Trackers, rows and horizons.

use daylift_sky::{Horizon, Mounting, Plane, RowShade, Rows, SunPosition, Surface, Tracker};
use daylift_validation::{Allowed, Report, Row, Worst};

use crate::data::{Outcome, Table, faults_text, stations};

const PVLIB: &str = "pvlib 0.16.1 by shade.py";
const ALBEDO: f64 = 0.2;
/// Column, axis azimuth, axis tilt, maximum rotation, ratio of width to pitch.
const TRACKERS: [(&str, f64, f64, f64, Option<f64>); 4] = [
    ("ns", 0.0, 0.0, 60.0, None),
    ("ns_rows", 0.0, 0.0, 60.0, Some(0.44)),
    ("sw_tilted", 200.0, 10.0, 50.0, None),
    ("ew_rows", 90.0, 0.0, 75.0, Some(0.3)),
];
/// Column, tilt, azimuth, pitch, width.
const ROWS: [(&str, f64, f64, f64, f64); 3] = [
    ("south", 30.0, 180.0, 4.0, 2.2),
    ("east", 10.0, 90.0, 2.4, 2.1),
    ("steep", 60.0, 150.0, 6.0, 4.0),
];
const HORIZON_DEG: [f64; 8] = [4.0, 12.0, 20.0, 6.0, 0.0, 3.0, 25.0, 10.0];

/// Angles and shares for the same sun, view factors, and years on both stations.
pub(crate) fn check(report: &mut Report) -> Outcome {
    let table = Table::read("shade_angles.csv")?;
    let suns: Vec<SunPosition> = table
        .numbers("zenith_deg")?
        .into_iter()
        .zip(table.numbers("azimuth_deg")?)
        .map(|(zenith_deg, azimuth_deg)| SunPosition::from_angles(zenith_deg, azimuth_deg, 1.0))
        .collect();
    angles(&table, &suns, report)?;
    shares(&table, &suns, report)?;
    views(report)?;
    years(report)
}

fn tracker(axis_deg: f64, tilt_deg: f64, greatest_deg: f64, rows: Option<&Rows>) -> Outcome<Tracker> {
    let tracker = Tracker::new(axis_deg, tilt_deg, greatest_deg, ALBEDO).map_err(faults_text)?;
    Ok(rows.map_or(tracker, |rows| tracker.backtracking(rows)))
}

fn rows(pitch_m: f64, width_m: f64) -> Outcome<Rows> {
    Ok(Rows::new(pitch_m, width_m, RowShade::InProportion).map_err(faults_text)?)
}

fn angles(table: &Table, suns: &[SunPosition], report: &mut Report) -> Outcome {
    for (name, axis_deg, tilt_deg, greatest_deg, share) in TRACKERS {
        let beside = share.map(|share| rows(2.2 / share, 2.2)).transpose()?;
        let tracker = tracker(axis_deg, tilt_deg, greatest_deg, beside.as_ref())?;
        let mut worst = Worst::new(Allowed::absolute(1e-4, "°"));
        for (sun, theirs) in suns.iter().zip(table.numbers(&format!("{name}_deg"))?) {
            worst.see(
                format!("sun at {:.2}°", sun.elevation_deg),
                tracker.rotation_deg(sun),
                theirs,
            );
        }
        let back = if share.is_some() { ", backtracking" } else { "" };
        report.push(worst.row(&format!("rotation, axis {axis_deg}° tilted {tilt_deg}°{back}"), PVLIB));
    }
    Ok(())
}

fn shares(table: &Table, suns: &[SunPosition], report: &mut Report) -> Outcome {
    for (name, tilt_deg, azimuth_deg, pitch_m, width_m) in ROWS {
        let plane = Plane::new(tilt_deg, azimuth_deg, ALBEDO).map_err(faults_text)?;
        let rows = rows(pitch_m, width_m)?;
        let mut worst = Worst::new(Allowed::absolute(1e-5, ""));
        for (sun, theirs) in suns.iter().zip(table.numbers(&format!("{name}_shaded"))?) {
            let ours = rows.shaded_share(sun.zenith_cos, plane.incidence_cos(sun));
            worst.see(format!("sun at {:.2}°", sun.elevation_deg), ours, theirs);
        }
        report.push(worst.row(
            &format!("shaded share of the slope, rows {tilt_deg}° to {azimuth_deg}°"),
            PVLIB,
        ));
    }
    Ok(())
}

fn views(report: &mut Report) -> Outcome {
    let table = Table::read("shade_views.csv")?;
    let of = |name: &str| table.numbers(name);
    let (tilts, shares, skies, grounds) = (
        of("tilt_deg")?,
        of("width_over_pitch")?,
        of("sky_view")?,
        of("ground_view")?,
    );
    // pvlib's views to the ground are summed over points of the slope.
    let mut worst = [
        Worst::new(Allowed::absolute(1e-5, "")),
        Worst::new(Allowed::absolute(1e-5, "")),
    ];
    for (((tilt_deg, share), sky), ground) in tilts.into_iter().zip(shares).zip(skies).zip(grounds) {
        let rows = rows(2.0, 2.0 * share)?;
        let label = format!("{tilt_deg}°, width/pitch {share}");
        worst[0].see(label.as_str(), rows.sky_view(tilt_deg), sky);
        worst[1].see(label.as_str(), rows.ground_view(tilt_deg), ground);
    }
    let [sky, ground] = worst;
    report.push(sky.row("view from a row to the sky", PVLIB));
    report.push(ground.row("view from a row to the ground", PVLIB));
    Ok(())
}

fn years(report: &mut Report) -> Outcome {
    let table = Table::read("shade_years.csv")?;
    let south = Plane::new(30.0, 180.0, ALBEDO).map_err(faults_text)?;
    let horizon = Horizon::new(&HORIZON_DEG).map_err(faults_text)?;
    let beside = rows(5.0, 2.2)?;
    let surface = |what: &str| -> Outcome<Surface> {
        Ok(match what {
            "tracker" => Surface::new(Mounting::SingleAxis(tracker(0.0, 0.0, 60.0, None)?), None, None),
            "rows" => Surface::new(Mounting::Fixed(south), Some(rows(4.0, 2.2)?), None),
            "tracker in rows" => {
                let tracker = tracker(0.0, 0.0, 60.0, Some(&beside))?;
                Surface::new(Mounting::SingleAxis(tracker), Some(beside), None)
            }
            "horizon" => Surface::new(Mounting::Fixed(south), None, Some(horizon.clone())),
            _ => return Err(format!("unknown surface \"{what}\"").into()),
        })
    };
    let stations = stations()?;
    let (keys, whats, sums) = (
        table.texts("station")?,
        table.texts("what")?,
        table.numbers("plane_kwh_m2")?,
    );
    for ((key, what), theirs) in keys.into_iter().zip(whats).zip(sums) {
        let station = stations.iter().find(|s| s.key == key).ok_or("no such station")?;
        let year = surface(what)?.year(&station.sky);
        let ours = year.plane_w_m2.iter().sum::<f64>() * station.axis.step_s() / 3.6e6;
        let what = format!("plane kWh/m² of the year, {what}, station {key}");
        report.push(Row::new(&what, PVLIB, ours, theirs, Allowed::relative(1e-5)));
    }
    Ok(())
}
