//! A year of DC energy, from the weather file to the maximum-power point.

use daylift_array::{ArrayLosses, CellModel, StringGroup};
use daylift_plant::{Array, Facing, Group, PlaneOf};
use daylift_sky::Plane;
use daylift_supply::DcYear;
use daylift_units::constants::KWH_J;
use daylift_units::{Month, Monthly};
use daylift_validation::{Allowed, Report, Row, Worst};
use typed_index_collections::ti_vec;

use crate::data::{Outcome, Station, Table, faults_text, stations};
use crate::module::sample;

const PVLIB: &str = "pvlib 0.16.1, dc_year.py";
const YEAR: Allowed = Allowed::relative(0.005);
const MONTH: Allowed = Allowed::relative(0.01);
const COLUMNS: [(&str, &str); 3] = [
    ("plane_kwh_m2", "plane irradiation"),
    ("plane_after_reflection_kwh_m2", "irradiation through the glass"),
    ("dc_kwh", "DC energy"),
];

/// Both stations.
pub(crate) fn check(report: &mut Report) -> Outcome {
    let table = Table::read("dc_year.csv")?;
    let (of_station, months) = (table.texts("station")?, table.texts("month")?);
    for station in &stations()? {
        let ours = by_month(station)?;
        for ((column, name), ours) in COLUMNS.into_iter().zip(ours) {
            let mut worst = Worst::new(MONTH);
            let what = format!("{name}, station {}", station.key);
            let rows = of_station.iter().zip(&months).zip(table.numbers(column)?);
            for ((_, month), theirs) in rows.filter(|((key, _), _)| **key == station.key) {
                match month.parse().ok().and_then(Month::numbered) {
                    Some(month) => worst.see(format!("month {}", month.number()), ours[month], theirs),
                    None => report.push(Row::new(
                        &format!("{what}, year"),
                        PVLIB,
                        ours.values().sum(),
                        theirs,
                        YEAR,
                    )),
                }
            }
            report.push(worst.row(&what, PVLIB));
        }
    }
    Ok(())
}

/// 19 modules in series, 5 strings, 30° to the south: the sums of each column by month.
fn by_month(station: &Station) -> Outcome<[Monthly<f64>; 3]> {
    let losses = ArrayLosses {
        soiling: Monthly::from_array([0.03; 12]),
        mismatch: 0.01,
        light_induced: 0.015,
        ..ArrayLosses::NONE
    };
    let array = Array {
        planes: ti_vec![PlaneOf {
            name: "south".to_owned(),
            surface: Plane::new(30.0, 180.0, 0.2).map_err(faults_text)?.into(),
            facing: Facing::Fixed {
                tilt_deg: 30.0,
                azimuth_deg: 180.0,
            },
        }],
        cell_model: CellModel::default(),
        groups: ti_vec![Group {
            name: "south".to_owned(),
            plane: 0.into(),
            strings: StringGroup::new(sample()?, 19, 5, losses, 0.0).map_err(faults_text)?,
            strings_per_input: None,
            inverter: None,
            set: None,
        }],
        yearly_degradation: 0.0,
    };
    let plane = array.planes.raw[0].surface.year(&station.sky);
    let dc = DcYear::new(&station.sky, &array, &station.axis);
    let per_kwh = station.axis.step_s() / KWH_J;
    let mut sums = [Monthly::default(); 3];
    for (sum, values) in sums.iter_mut().zip([
        &plane.plane_w_m2,
        &plane.absorbed_w_m2,
        &dc.groups.raw[0].available_w.steps().to_vec(),
    ]) {
        for (month, value) in dc.clock.month.iter().zip(values) {
            sum[*month] += value * per_kwh;
        }
    }
    Ok(sums)
}
