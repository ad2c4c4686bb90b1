//! Every arrangement side by side.

use std::sync::mpsc::{Sender, channel};

use daylift_plant::{Arrangement, Plant};
use daylift_plant_file::ValueOrigin;
use daylift_supply::YearResult;
use daylift_units::{Axis, Step, Warning};
use rayon::prelude::*;

use crate::answer::{Row, WeatherSummary};
use crate::detail::{Cash, Month, WaterSecured, cash, months, water_secured, weather_summary};
use crate::memory::Memory;
use crate::money::{loads_only_bill, years};
use crate::notice::{Notice, notices, of_strings, warnings_of};
use crate::prices::Prices;
use crate::row::row;
use crate::same_service::{LessLoad, LessWater, less_load, less_water};
use crate::series::Series;
use crate::stages::Stages;
use crate::starts::notices_of_starts;
use crate::strings::{CanBeBuilt, can_be_built};
use crate::traits::Traits;
use crate::workings::{Case, Naming, Working, name_by_id, workings};
use crate::year::ArrangementYear;

/// Every arrangement of a plant side by side.
#[derive(Debug, Clone)]
pub struct Comparison {
    /// Name of the plant.
    pub plant: String,
    /// Today's arrangement, with which money is compared.
    pub reference: Arrangement,
    /// Length of a step, in s.
    pub step_s: u32,
    /// Steps in the year.
    pub steps: usize,
    /// Weather of the year.
    pub weather: WeatherSummary,
    /// A row for each arrangement that the plant has the parts for.
    pub rows: Vec<ComparedRow>,
    /// The year in steps.
    pub axis: Axis,
    /// Years of the money calculation; 0 without costs.
    pub years: u32,
    /// Which prices the plant has.
    pub prices: Prices,
    /// Notices on the whole plant. They are the first notices of every row, too.
    pub notices: Vec<Notice>,
    /// Whether the strings can be built; `None` without an array, and until [`Comparison::with_origins`] adds it.
    pub can_be_built: Option<CanBeBuilt>,
}

/// One arrangement of a comparison.
#[derive(Debug, Clone, PartialEq)]
pub struct ComparedRow {
    /// Figures of the year.
    pub row: Row,
    /// Notices for the reader: those on the whole plant, then those on this row.
    pub notices: Vec<Notice>,
    /// Notices on this row only.
    pub own_notices: Vec<Notice>,
    /// Details.
    pub detail: RowDetail,
}

impl Comparison {
    /// The row of an arrangement.
    #[must_use]
    pub fn row(&self, id: Arrangement) -> Option<&ComparedRow> {
        self.rows.iter().find(|compared| compared.row.id == id)
    }

    /// The same comparison with the verdict on the plant's strings, which depends on the origins of its values.
    #[must_use]
    pub fn with_origins(mut self, plant: &Plant, origins: &[ValueOrigin]) -> Self {
        self.can_be_built = can_be_built(plant, origins).map(|(verdict, _)| verdict);
        self
    }
}

/// Details of a row.
#[derive(Debug, Clone, PartialEq)]
pub struct RowDetail {
    /// What the arrangement has.
    pub traits: Traits,
    /// How much less water it delivers than the reference; `None` if it does not.
    pub less_water: Option<LessWater>,
    /// How much more load it leaves unserved than the reference; `None` if it does not.
    pub less_load: Option<LessLoad>,
    /// Water secured.
    pub water_secured: WaterSecured,
    /// Cash compared with the reference.
    pub cash: Cash,
    /// The months.
    pub months: Vec<Month>,
    /// Workings of the headline numbers; empty unless requested.
    pub workings: Vec<Working>,
    /// Fuel of the first year, in the plant's currency.
    pub first_year_fuel: f64,
    /// Upkeep of the first year, in the plant's currency.
    pub first_year_upkeep: f64,
    /// The series by step, if requested.
    pub series: Option<Series>,
}

/// Optional parts of a comparison.
#[derive(Debug, Clone, Copy)]
pub struct Extras {
    /// Whether rows have the series by step.
    pub series: bool,
    /// Which rows have workings of their headline numbers.
    pub workings_of: WorkingsOf,
    /// How workings name arrangements.
    pub names: Naming,
}

/// Which rows have workings of their headline numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WorkingsOf {
    /// No row.
    None,
    /// One row.
    Row(Arrangement),
    /// All rows.
    All,
}

impl WorkingsOf {
    fn has(self, row: Arrangement) -> bool {
        match self {
            Self::None => false,
            Self::Row(one) => one == row,
            Self::All => true,
        }
    }
}

impl Extras {
    /// No extras.
    pub const NONE: Self = Self {
        series: false,
        workings_of: WorkingsOf::None,
        names: name_by_id,
    };
}

/// Computes every arrangement that the plant has the parts for.
///
/// `read_warnings` are the warnings of reading the plant. They, those of the stages and the findings on the strings come
/// first in every row's notices.
#[must_use]
pub fn compare(plant: &Plant, step: Step, read_warnings: &[Warning]) -> Comparison {
    compare_in_full(
        plant,
        step,
        read_warnings,
        Extras::NONE,
        &Memory::none(),
        &mut |_, _| (),
    )
}

/// The same with the requested `extras`. Stages that `memory` keeps are not computed again.
///
/// `progress` is called with the number of finished pieces of work and their total. What the arrangements share is one
/// piece; each arrangement is another. The arrangements run on all cores.
#[must_use]
pub fn compare_in_full(
    plant: &Plant,
    step: Step,
    read_warnings: &[Warning],
    extras: Extras,
    memory: &Memory,
    progress: &mut dyn FnMut(usize, usize),
) -> Comparison {
    let arrangements = plant.arrangements();
    let pieces = 1 + arrangements.len();
    progress(0, pieces);
    let lit = Stages::without_devices(plant, step, memory);
    let (stages, runs) = run_all(&lit, &arrangements, extras.series, &mut |done| {
        progress(done, pieces);
    });
    let loads_only_bill = loads_only_bill(&stages);
    let runs: Vec<(ArrangementYear, Option<Series>)> = arrangements
        .into_iter()
        .zip(runs)
        .map(|(row, (year, series))| (ArrangementYear::new(&stages, loads_only_bill, row, year), series))
        .collect();
    let reference = runs.iter().map(|(year, _)| year).find(|y| y.arrangement == plant.reference).cloned();
    let of_plant: Vec<Notice> = warnings_of(read_warnings, &stages).chain(of_strings(plant)).collect();
    let compared = |(year, series): (ArrangementYear, Option<Series>)| {
        let reference = reference.as_ref().unwrap_or(&year);
        let row = row(&stages, &year, reference);
        let case = Case {
            stages: &stages,
            year: &year,
            reference,
            row: &row,
            names: extras.names,
        };
        let detail = RowDetail {
            series,
            ..detail(&case, extras.workings_of)
        };
        let mut own_notices = notices(&year, reference);
        own_notices.extend(notices_of_starts(&stages, &year));
        ComparedRow {
            row,
            notices: of_plant.iter().chain(&own_notices).cloned().collect(),
            own_notices,
            detail,
        }
    };
    Comparison {
        plant: plant.name.clone(),
        reference: plant.reference,
        step_s: step.seconds(),
        steps: stages.axis.steps(),
        weather: weather_summary(&stages),
        rows: runs.into_iter().map(compared).collect(),
        axis: stages.axis.clone(),
        years: years(plant),
        prices: Prices::of(plant),
        notices: of_plant,
        can_be_built: None,
    }
}

fn detail(case: &Case<'_>, workings_of: WorkingsOf) -> RowDetail {
    let year = case.year;
    RowDetail {
        traits: Traits::of(year.arrangement, case.stages.plant.reference),
        less_water: less_water(year, case.reference),
        less_load: less_load(year, case.reference),
        water_secured: water_secured(year),
        cash: cash(case.stages, year, case.reference),
        months: months(year),
        workings: if workings_of.has(year.arrangement) {
            workings(case)
        } else {
            Vec::new()
        },
        first_year_fuel: year.costs.energy.fuel,
        first_year_upkeep: year.costs.upkeep_per_year,
        series: None,
    }
}

type Ran = (YearResult, Option<Series>);

/// Solves the devices and runs the year of every arrangement, on all cores. `finished` is called with the number of pieces
/// done: the devices are one, each arrangement is one.
///
/// Drives with mains on their second input take longer to solve than all other devices together. The rows that need them
/// run in parallel, so that the others do not wait.
fn run_all<'p>(
    lit: &Stages<'p>,
    arrangements: &[Arrangement],
    with_series: bool,
    finished: &mut dyn FnMut(usize),
) -> (Stages<'p>, Vec<Ran>) {
    let (slow, quick): (Vec<Arrangement>, Vec<Arrangement>) =
        arrangements.iter().partition(|row| lit.takes_second_input(**row));
    let (done, reports) = channel();
    let all = move || {
        let (slow_done, quick_done) = (done.clone(), done);
        rayon::join(
            || {
                let stages = (!slow.is_empty()).then(|| lit.with_devices(&slow));
                stages.map_or_else(Vec::new, |stages| run_each(&stages, &slow, with_series, slow_done))
            },
            || {
                let stages = lit.with_devices(&quick);
                // Sending fails only after a panic of the receiving thread.
                let _ = quick_done.send(());
                let runs = run_each(&stages, &quick, with_series, quick_done);
                (stages, runs)
            },
        )
    };
    let (slow_runs, (stages, quick_runs)) = std::thread::scope(|scope| {
        let working = scope.spawn(all);
        reports.iter().zip(1..).for_each(|((), count)| finished(count));
        working.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic))
    });
    let (mut slow_runs, mut quick_runs) = (slow_runs.into_iter(), quick_runs.into_iter());
    let in_order = arrangements.iter().filter_map(|row| {
        let runs = if lit.takes_second_input(*row) {
            &mut slow_runs
        } else {
            &mut quick_runs
        };
        runs.next()
    });
    let runs = in_order.collect();
    (stages, runs)
}

/// Runs the years of some arrangements, on all cores; returns them in the same order.
fn run_each(stages: &Stages<'_>, rows: &[Arrangement], with_series: bool, done: Sender<()>) -> Vec<Ran> {
    let one = |done: &mut Sender<()>, row: &Arrangement| {
        let out = run_one(stages, *row, with_series);
        let _ = done.send(());
        out
    };
    // The last rows take longest. They start first, so that no core waits for one of them at the end.
    let mut runs: Vec<Ran> = rows.par_iter().rev().map_with(done, one).collect();
    runs.reverse();
    runs
}

/// Runs a year of one arrangement, and records its series if requested.
fn run_one(stages: &Stages<'_>, arrangement: Arrangement, with_series: bool) -> Ran {
    if !with_series {
        return (stages.year_or_earlier(arrangement), None);
    }
    let mut series = Series::new(&stages.axis);
    let year = stages.year(arrangement, &mut series);
    (year, Some(series))
}
