//! The payback of dual mode on Sable Hollow without its diesel set, with random outages.

use std::path::Path;

use daylift_grid::{OutageFrequency, Outages, RandomOutages, RandomSheet};
use daylift_plant::{Arrangement, Plant};
use daylift_plant_file::read_plant;
use daylift_study::compare;
use daylift_units::constants::HOUR_S;
use daylift_units::{Hourly, Monthly, Step};

use crate::data::Outcome;

/// The trade's figure \[years\].
const USUAL_YEARS: &str = "2.5 to 3";
/// Shares of the hours without grid.
const DOWN: [f64; 2] = [0.14, 0.20];
const MEAN_OUTAGE_H: f64 = 4.0;
const SEED: u32 = 1;

/// The payback for each share of hours without grid.
pub(crate) fn report() -> Outcome<String> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../examples/sable-hollow");
    let plant = read_plant(&folder).map_err(|faults| format!("{} faults", faults.len()))?.plant;
    let mut out = format!(
        "Reported, not gated (common practice, no source: dual mode is paid back in {USUAL_YEARS} years): Sable Hollow without\n\
         its diesel set, random outages of {MEAN_OUTAGE_H} h on average, seed {SEED}\n\n\
         \x20 grid down, % of hours   payback, years   service\n"
    );
    for down in DOWN {
        let (years, service) = dual_mode(&plant, down)?;
        out += &format!("  {:>20.1}   {years:>14}   {service}\n", 100.0 * down);
    }
    Ok(out)
}

/// Payback of dual mode, and what it delivers.
fn dual_mode(plant: &Plant, down: f64) -> Outcome<(String, &'static str)> {
    let mut plant = plant.clone();
    plant.beside.generator = None;
    plant.reference = Arrangement {
        generator: false,
        ..plant.reference
    };
    let sheet = RandomSheet {
        seed: SEED,
        mean_outage_s: MEAN_OUTAGE_H * HOUR_S,
        frequency: OutageFrequency::Share(down),
        hour_weight: Hourly::from_array([1.0; 24]),
        month_weight: Monthly::from_array([1.0; 12]),
    };
    let axis = &plant.site.axis;
    let random = RandomOutages::new(&sheet, axis).map_err(|faults| format!("{faults:?}"))?;
    plant.grid.outages = Outages::new(random.intervals(), axis.length_s()).0;
    let comparison = compare(&plant, Step::TenMinutes, &[]);
    let row = comparison
        .rows
        .iter()
        .find(|one| one.row.id == Arrangement::DUAL_MODE)
        .ok_or("no row of dual mode")?;
    let years = row.row.money.payback_years.map_or("never".to_owned(), |years| format!("{years:.1}"));
    let service = if row.row.service.comparable {
        "as today or more"
    } else {
        "less than today"
    };
    Ok((years, service))
}
