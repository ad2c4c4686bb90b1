//! Options that a plant may choose instead of the defaults: Perez's sky, Erbs' split, nominal operating cell temperature.

use daylift_array::Noct;
use daylift_sky::split::{Parts, by_clearness};
use daylift_sky::{Plane, PlaneYear, SkyModel};
use daylift_validation::{Allowed, Report, Row, Worst};

use crate::data::{Outcome, Station, Table, faults_text, stations};
use crate::plane::{HOURLY, hourly, whole_year};
use crate::sun::sun_at;

const PEREZ: &str = "pvlib 0.16.1, perez";
const ERBS: &str = "pvlib 0.16.1, erbs";
const ROSS: &str = "pvlib 0.16.1, ross";
const SPLIT_STATION: &str = "723170";

/// All three.
pub(crate) fn check(report: &mut Report) -> Outcome {
    for station in &stations()? {
        perez(station, report)?;
        if station.key == SPLIT_STATION {
            erbs(station, report)?;
        }
    }
    noct(report)
}

fn perez(station: &Station, report: &mut Report) -> Outcome {
    let table = Table::read(&format!("perez_{}.csv", station.key))?;
    let hours = table.numbers("hour")?;
    let mut sky = station.sky.clone();
    sky.model = SkyModel::Perez;
    for (name, azimuth_deg) in [("n", 0.0), ("e", 90.0), ("s", 180.0), ("w", 270.0)] {
        let plane = Plane::new(30.0, azimuth_deg, 0.2).map_err(faults_text)?;
        let theirs = whole_year(&hours, &table.numbers(&format!("{name}_w_m2"))?, station.axis.steps());
        let ours = PlaneYear::new(&sky, &plane).plane_w_m2;
        let what = format!("station {}, 30° to {}", station.key, name.to_uppercase());
        report.push(hourly(&ours, &theirs).row(&format!("plane by hour with Perez's sky, {what}"), PEREZ));
    }
    Ok(())
}

/// Hour by hour with the same sun. By default pvlib uses the true zenith and 1366.1 W/m² at the mean distance; the year's
/// sums are compared with these too.
fn erbs(station: &Station, report: &mut Report) -> Outcome {
    let table = Table::read(&format!("erbs_{}.csv", station.key))?;
    let (hours, ghi_w_m2) = (table.numbers("hour")?, table.numbers("ghi_w_m2")?);
    let parts: Vec<Parts> = hours
        .iter()
        .zip(&ghi_w_m2)
        .map(|(&hour, &ghi_w_m2)| {
            let sun = sun_at(station, hour, 0.0);
            by_clearness(ghi_w_m2, sun.zenith_cos, sun.extraterrestrial_w_m2())
        })
        .collect();
    let direct: Vec<f64> = parts.iter().map(|p| p.dni_w_m2).collect();
    let diffuse: Vec<f64> = parts.iter().map(|p| p.dhi_w_m2).collect();
    for (name, ours) in [("dni", direct), ("dhi", diffuse)] {
        let theirs = table.numbers(&format!("{name}_w_m2"))?;
        let mut worst = Worst::new(HOURLY);
        for ((hour, ours), theirs) in hours.iter().zip(&ours).zip(theirs) {
            worst.see(format!("hour {hour}"), *ours, theirs);
        }
        let what = format!("{} from GHI alone, station {}", name.to_uppercase(), station.key);
        report.push(worst.row(&format!("{what}, by hour"), ERBS));
        let theirs = table.numbers(&format!("default_{name}_w_m2"))?;
        report.push(Row::new(
            &format!("{what}, kWh/m² of the year"),
            &format!("{ERBS} with its defaults"),
            ours.iter().sum::<f64>() / 1000.0,
            theirs.iter().sum::<f64>() / 1000.0,
            Allowed::relative(0.01),
        ));
    }
    Ok(())
}

fn noct(report: &mut Report) -> Outcome {
    let table = Table::read("noct.csv")?;
    let model = Noct::new(45.0).map_err(faults_text)?;
    let mut worst = Worst::new(Allowed::absolute(1e-6, "°C"));
    let points = table.numbers("plane_w_m2")?.into_iter().zip(table.numbers("air_c")?);
    for ((plane_w_m2, air_c), theirs) in points.zip(table.numbers("cell_c")?) {
        worst.see(
            format!("{plane_w_m2} W/m², {air_c} °C"),
            model.cell_c(plane_w_m2, air_c),
            theirs,
        );
    }
    report.push(worst.row("cell temperature with NOCT 45 °C", ROSS));
    Ok(())
}
