//! Irradiance on tilted planes, hour by hour.

use daylift_sky::{Irradiance, Plane, PlaneYear};
use daylift_validation::{Allowed, Report, Row, Worst};

use crate::data::{Outcome, Station, Table, faults_text, stations};
use crate::sun::sun_at;

const PVLIB: &str = "pvlib 0.16.1, haydavies";
/// Tolerance of a plane in an hour.
pub(crate) const HOURLY: Allowed = Allowed::both(0.5, "W/m²", 0.001);
const YEARLY: Allowed = Allowed::relative(0.002);
const HALF_HOUR_S: f64 = 1800.0;
/// An error of half an hour must put at least this many hours beyond the limit.
const SPOILT: usize = 1000;

/// Four planes on both stations, and an error of half an hour on each.
pub(crate) fn check(report: &mut Report) -> Outcome {
    for station in &stations()? {
        let table = Table::read(&format!("sun_{}.csv", station.key))?;
        let hours = table.numbers("hour")?;
        for (name, azimuth_deg) in [("n", 0.0), ("e", 90.0), ("s", 180.0), ("w", 270.0)] {
            let plane = Plane::new(30.0, azimuth_deg, 0.2).map_err(faults_text)?;
            let theirs = whole_year(&hours, &table.numbers(&format!("{name}_w_m2"))?, station.axis.steps());
            let ours = PlaneYear::new(&station.sky, &plane).plane_w_m2;
            let what = format!("station {}, 30° to {}", station.key, name.to_uppercase());
            report.push(hourly(&ours, &theirs).row(&format!("plane by hour, {what}"), PVLIB));
            let sums = [&ours, &theirs].map(|values| values.iter().sum::<f64>() / 1000.0);
            report.push(Row::new(
                &format!("plane kWh/m² of the year, {what}"),
                PVLIB,
                sums[0],
                sums[1],
                YEARLY,
            ));
            if name == "s" {
                slips(station, &plane, &theirs, report);
            }
        }
    }
    Ok(())
}

/// Values of all hours; those that the table leaves out are 0.
pub(crate) fn whole_year(hours: &[f64], values: &[f64], count: usize) -> Vec<f64> {
    let mut out = vec![0.0; count];
    for (hour, value) in hours.iter().zip(values) {
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "whole hours of a year"
        )]
        let at = *hour as usize;
        out[at] = *value;
    }
    out
}

/// Hour by hour, with the tolerance of a plane.
pub(crate) fn hourly(ours: &[f64], theirs: &[f64]) -> Worst {
    let mut worst = Worst::new(HOURLY);
    for (hour, (ours, theirs)) in ours.iter().zip(theirs).enumerate() {
        worst.see(format!("hour {hour}"), *ours, *theirs);
    }
    worst
}

/// The check must notice a sun that is half an hour off, and find nothing otherwise.
fn slips(station: &Station, plane: &Plane, theirs: &[f64], report: &mut Report) {
    let spoilt = |later_s: f64| {
        let ours = with_sun_later(station, plane, later_s);
        let off = ours.iter().zip(theirs).filter(|(a, b)| HOURLY.used(*a - *b, **b) > 1.0);
        off.count()
    };
    let without_slip = spoilt(0.0);
    for (word, later_s) in [("later", HALF_HOUR_S), ("earlier", -HALF_HOUR_S)] {
        let what = format!(
            "an error of half an hour is noticed: hours beyond the limit, sun {word}, station {}",
            station.key
        );
        report.push(Row::count(&what, PVLIB, spoilt(later_s), SPOILT, without_slip == 0));
    }
}

fn with_sun_later(station: &Station, plane: &Plane, later_s: f64) -> Vec<f64> {
    let sky = &station.sky;
    let hours = (0_u32..).map(f64::from).take(station.axis.steps());
    let light = sky.ghi_w_m2.iter().zip(&sky.dni_w_m2).zip(&sky.dhi_w_m2);
    hours
        .zip(light)
        .map(|(hour, ((ghi_w_m2, dni_w_m2), dhi_w_m2))| {
            let sun = sun_at(station, hour, later_s);
            let light = Irradiance {
                ghi_w_m2: *ghi_w_m2,
                dni_w_m2: *dni_w_m2,
                dhi_w_m2: *dhi_w_m2,
                extraterrestrial_w_m2: sun.extraterrestrial_w_m2(),
            };
            if sun.is_up() {
                plane.hay_davies(&light, sun.zenith_cos, plane.incidence_cos(&sun)).total_w_m2()
            } else {
                0.0
            }
        })
        .collect()
}
