//! Every arrangement side by side.

use daylift_plant::{Arrangement, Plant};
use daylift_supply::{NoRecorder, YearResult};
use daylift_units::{Axis, Step, Warning};

use crate::answer::Comparison;
use crate::cores::on_all_cores;
use crate::detail::{Month, WaterSecured, months, water_secured, weather_summary};
use crate::memory::Memory;
use crate::money::Baseline;
use crate::row::row;
use crate::series::Series;
use crate::stages::Stages;
use crate::workings::{Case, Working, workings};
use crate::year::ArrangementYear;

/// Name and version of the layout of [`Comparison`].
pub const COMPARE_SCHEMA: &str = "daylift.compare.1";

/// A comparison with what stands behind each of its rows.
#[derive(Debug, Clone)]
pub struct FullComparison {
    /// The answer.
    pub answer: Comparison,
    /// Detail of each row, in the same order.
    pub rows: Vec<RowDetail>,
    /// The year in steps.
    pub axis: Axis,
    /// Years over which money is reckoned.
    pub years: u32,
}

/// What stands behind a row.
#[derive(Debug, Clone)]
pub struct RowDetail {
    /// Water secured.
    pub water_secured: WaterSecured,
    /// The months.
    pub months: Vec<Month>,
    /// Workings of the headline numbers.
    pub workings: Vec<Working>,
    /// Fuel of the first year, in the plant's currency.
    pub first_year_fuel: f64,
    /// Upkeep of the first year.
    pub first_year_upkeep: f64,
    /// The steps, when asked for.
    pub series: Option<Series>,
}

/// Computes every arrangement that the plant has the parts for. `noticed` are the warnings of reading the plant; they
/// and the stages' own stand at the head of every row's warnings.
#[must_use]
pub fn compare(plant: &Plant, step: Step, noticed: &[Warning]) -> Comparison {
    compare_in_full(plant, step, noticed, false, &Memory::none(), &mut |_, _| ()).answer
}

/// The same with months, workings and, when asked for, the series by step; stages that `memory` keeps are not computed
/// again. `progress` hears how many pieces of the work are done, and of how many: what the arrangements share is one, each
/// arrangement, run on all cores, is one more.
#[must_use]
pub fn compare_in_full(
    plant: &Plant,
    step: Step,
    noticed: &[Warning],
    with_series: bool,
    memory: &Memory,
    progress: &mut dyn FnMut(usize, usize),
) -> FullComparison {
    let arrangements = plant.arrangements();
    let pieces = 1 + arrangements.len();
    progress(0, pieces);
    let stages = Stages::new(plant, step, memory);
    progress(1, pieces);
    let one = |row: &Arrangement| run_one(&stages, *row, with_series);
    let runs = on_all_cores(&arrangements, one, &mut |done| progress(1 + done, pieces));
    let grid_only = arrangements.iter().position(|row| *row == Arrangement::GRID_ONLY);
    let baseline = Baseline::new(&stages, grid_only.map(|i| &runs[i].0));
    let runs: Vec<(ArrangementYear, Option<Series>)> = arrangements
        .into_iter()
        .zip(runs)
        .map(|(row, (year, series))| (ArrangementYear::new(&stages, &baseline, row, year), series))
        .collect();
    let reference = runs.iter().map(|(year, _)| year).find(|y| y.arrangement == plant.reference).cloned();
    let shared: Vec<String> = noticed.iter().chain(&stages.warnings).map(ToString::to_string).collect();
    let mut rows = Vec::new();
    let mut details = Vec::new();
    for (year, series) in runs {
        let reference = reference.as_ref().unwrap_or(&year);
        let mut row = row(&stages, &year, reference);
        row.warnings.splice(0..0, shared.iter().cloned());
        details.push(RowDetail {
            water_secured: water_secured(&year),
            months: months(&year),
            workings: workings(&Case {
                stages: &stages,
                year: &year,
                reference,
                row: &row,
            }),
            first_year_fuel: year.costs.first_year_fuel,
            first_year_upkeep: year.costs.upkeep_per_year,
            series,
        });
        rows.push(row);
    }
    FullComparison {
        answer: Comparison {
            schema: COMPARE_SCHEMA.to_owned(),
            plant: plant.name.clone(),
            reference: plant.reference.id().to_owned(),
            step_s: step.seconds(),
            steps: stages.axis.steps(),
            weather: weather_summary(&stages),
            arrangements: rows,
        },
        rows: details,
        axis: stages.axis.clone(),
        years: plant.costs.terms.years,
    }
}

/// A year of one arrangement, watched when its series is asked for.
fn run_one(stages: &Stages<'_>, arrangement: Arrangement, with_series: bool) -> (YearResult, Option<Series>) {
    if !with_series {
        return (stages.year(arrangement, &mut NoRecorder), None);
    }
    let mut series = Series::new(&stages.axis);
    let year = stages.year(arrangement, &mut series);
    (year, Some(series))
}
