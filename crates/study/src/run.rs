//! One arrangement through a year, in full: `daylift.run.1`.

use daylift_plant::{Arrangement, Plant};
use daylift_supply::{NoRecorder, Recorder, ShortfallCause};
use daylift_units::{Step, Warning};
use schemars::JsonSchema;
use serde::Serialize;

use crate::answer::{ArrayEnergy, Row, WeatherSummary};
use crate::compare::{arrangement_year, weather_summary};
use crate::row::{ArrangementYear, array_energy, row, shortfall_days};
use crate::stages::Stages;
use crate::workings::{Working, workings};
use daylift_units::constants::{HOUR_S, KWH_J};

/// Name and version of the layout of [`Run`].
pub const RUN_SCHEMA: &str = "daylift.run.1";

/// One arrangement through a year.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Run {
    /// Name and version of this layout.
    pub schema: String,
    /// Name of the plant.
    pub plant: String,
    /// Arrangement of today, against which money is reckoned.
    pub reference: String,
    /// Length of a step, in s.
    pub step_s: u32,
    /// Steps in the year.
    pub steps: usize,
    /// Weather of the year.
    pub weather: WeatherSummary,
    /// The year, as in a comparison.
    pub row: Row,
    /// Water secured.
    pub water_secured: WaterSecured,
    /// The months.
    pub months: Vec<Month>,
    /// Headline numbers with their workings.
    pub workings: Vec<Working>,
}

/// How much of the water wanted was delivered.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct WaterSecured {
    /// Delivered over demand in the year; null without demand.
    pub year: Option<f64>,
    /// The same over the time with the utility away; null without outages.
    pub in_outages: Option<f64>,
    /// Days that miss more than 1 % of their demand.
    pub shortfall_days: usize,
    /// Longest run of such days.
    pub longest_dry_spell_days: usize,
    /// Demand not met by what held the pump back, in m³.
    pub shortfall_m3: Vec<ShortfallBy>,
}

/// Demand not met for one cause.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct ShortfallBy {
    /// The cause.
    pub cause: String,
    /// Volume, in m³.
    pub m3: f64,
}

/// A month of the year.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Month {
    /// 1 to 12.
    pub month: usize,
    /// Where the array's energy went, in kWh.
    pub array_kwh: ArrayEnergy,
    /// Taken from the utility, in kWh.
    pub imported_kwh: f64,
    /// Energy at the motor's terminals from array and grid, in kWh.
    pub pump_kwh: f64,
    /// Load not served, in kWh.
    pub unserved_kwh: f64,
    /// Wanted by the farm, in m³.
    pub demand_m3: f64,
    /// Pumped, in m³.
    pub pumped_m3: f64,
    /// Delivered, in m³.
    pub delivered_m3: f64,
    /// Hours with flow, in h.
    pub pumping_h: f64,
    /// Hours with the utility away, in h.
    pub outage_h: f64,
}

/// Runs one arrangement; the recorder sees its year. `noticed` are the warnings of reading the plant.
///
/// # Errors
/// The arrangement itself when the plant lacks the parts for it.
pub fn run(
    plant: &Plant,
    arrangement: Arrangement,
    step: Step,
    noticed: &[Warning],
    recorder: &mut impl Recorder,
) -> Result<Run, Arrangement> {
    if !plant.arrangements().contains(&arrangement) {
        return Err(arrangement);
    }
    let stages = Stages::new(plant, step);
    let year = arrangement_year(&stages, arrangement, recorder);
    let reference = if arrangement == plant.reference {
        year.clone()
    } else {
        arrangement_year(&stages, plant.reference, &mut NoRecorder)
    };
    let mut row = row(&stages, &year, &reference);
    row.warnings.splice(0..0, noticed.iter().chain(&stages.warnings).map(ToString::to_string));
    Ok(Run {
        schema: RUN_SCHEMA.to_owned(),
        plant: plant.name.clone(),
        reference: plant.reference.id().to_owned(),
        step_s: step.seconds(),
        steps: stages.axis.steps(),
        weather: weather_summary(&stages),
        water_secured: water_secured(&year),
        months: months(&year, plant.grid.export.is_paid()),
        workings: workings(plant, &row, &year.costs, &reference.costs),
        row,
    })
}

pub(crate) fn water_secured(year: &ArrangementYear) -> WaterSecured {
    let sum = year.result.ledger.year();
    let (shortfall_days, longest_dry_spell_days) = shortfall_days(&year.result.ledger.days);
    let share = |delivered: f64, demand: f64| (demand > 0.0).then(|| delivered / demand);
    WaterSecured {
        year: share(sum.delivered_m3, sum.demand_m3),
        in_outages: share(sum.delivered_in_outage_m3, sum.demand_in_outage_m3),
        shortfall_days,
        longest_dry_spell_days,
        shortfall_m3: ShortfallCause::ALL
            .into_iter()
            .map(|cause| ShortfallBy {
                cause: cause.id().to_owned(),
                m3: sum.shortfall_m3[cause.index()],
            })
            .collect(),
    }
}

pub(crate) fn months(year: &ArrangementYear, paid: bool) -> Vec<Month> {
    (1..)
        .zip(&year.result.ledger.months)
        .map(|(month, book)| Month {
            month,
            array_kwh: array_energy(book, paid),
            imported_kwh: book.imported_j / KWH_J,
            pump_kwh: (book.array_to_pump_j + book.grid_to_pump_j) / KWH_J,
            unserved_kwh: book.unserved_j / KWH_J,
            demand_m3: book.demand_m3,
            pumped_m3: book.pumped_m3,
            delivered_m3: book.delivered_m3,
            pumping_h: book.pumping_s / HOUR_S,
            outage_h: book.outage_s / HOUR_S,
        })
        .collect()
}
