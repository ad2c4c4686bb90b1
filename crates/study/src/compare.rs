//! Every arrangement side by side.

use std::sync::mpsc::{Sender, channel};

use daylift_plant::{Arrangement, Plant};
use daylift_supply::YearResult;
use daylift_units::{Axis, Step, Warning};
use rayon::prelude::*;

use crate::answer::{Row, WeatherSummary};
use crate::detail::{Cash, Month, WaterSecured, cash, months, water_secured, weather_summary};
use crate::memory::Memory;
use crate::money::loads_only_bill;
use crate::notice::{Notice, noticed_of, notices, of_strings};
use crate::row::row;
use crate::same_service::{LessLoad, LessWater, less_load, less_water};
use crate::series::Series;
use crate::stages::Stages;
use crate::traits::Traits;
use crate::workings::{Case, Naming, Working, by_their_ids, workings};
use crate::year::ArrangementYear;

/// Every arrangement of a plant side by side.
#[derive(Debug, Clone)]
pub struct Comparison {
    /// Name of the plant.
    pub plant: String,
    /// Arrangement of today, against which money is reckoned.
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
    /// Years over which money is reckoned.
    pub years: u32,
}

/// One arrangement of a comparison.
#[derive(Debug, Clone, PartialEq)]
pub struct ComparedRow {
    /// Its year in figures.
    pub row: Row,
    /// What its reader must know.
    pub notices: Vec<Notice>,
    /// What stands behind it.
    pub detail: RowDetail,
}

impl Comparison {
    /// The row of an arrangement.
    #[must_use]
    pub fn row(&self, id: Arrangement) -> Option<&ComparedRow> {
        self.rows.iter().find(|compared| compared.row.id == id)
    }
}

/// What stands behind a row.
#[derive(Debug, Clone, PartialEq)]
pub struct RowDetail {
    /// What the arrangement has.
    pub traits: Traits,
    /// Whether it delivers less water than the reference.
    pub less_water: Option<LessWater>,
    /// Whether it leaves more load in the dark than the reference.
    pub less_load: Option<LessLoad>,
    /// Water secured.
    pub water_secured: WaterSecured,
    /// Cash against the reference.
    pub cash: Cash,
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

/// What is wanted of the rows beyond the answer.
#[derive(Debug, Clone, Copy)]
pub struct More {
    /// The series by step.
    pub series: bool,
    /// Whose headline numbers come with their workings.
    pub workings_of: WorkingsOf,
    /// How arrangements are called in them.
    pub names: Naming,
}

/// Whose headline numbers come with their workings.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WorkingsOf {
    /// Nobody's.
    None,
    /// Those of one row.
    Row(Arrangement),
    /// Everybody's.
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

impl More {
    /// Nothing more.
    pub const NOTHING: Self = Self {
        series: false,
        workings_of: WorkingsOf::None,
        names: by_their_ids,
    };
}

/// Computes every arrangement that the plant has the parts for. `noticed` are the warnings of reading the plant; they,
/// the stages' own and what is found of the strings stand at the head of every row's notices.
#[must_use]
pub fn compare(plant: &Plant, step: Step, noticed: &[Warning]) -> Comparison {
    compare_in_full(plant, step, noticed, More::NOTHING, &Memory::none(), &mut |_, _| ())
}

/// The same with months and what `more` asks for; stages that `memory` keeps are not computed again. `progress` hears how
/// many pieces of the work are done, and of how many: what the arrangements share is one, each arrangement, run on all
/// cores, is one more.
#[must_use]
pub fn compare_in_full(
    plant: &Plant,
    step: Step,
    noticed: &[Warning],
    more: More,
    memory: &Memory,
    progress: &mut dyn FnMut(usize, usize),
) -> Comparison {
    let arrangements = plant.arrangements();
    let pieces = 1 + arrangements.len();
    progress(0, pieces);
    let lit = Stages::without_devices(plant, step, memory);
    let (stages, runs) = run_all(&lit, &arrangements, more.series, &mut |done| {
        progress(done, pieces);
    });
    let loads_only_bill = loads_only_bill(&stages);
    let runs: Vec<(ArrangementYear, Option<Series>)> = arrangements
        .into_iter()
        .zip(runs)
        .map(|(row, (year, series))| (ArrangementYear::new(&stages, loads_only_bill, row, year), series))
        .collect();
    let reference = runs.iter().map(|(year, _)| year).find(|y| y.arrangement == plant.reference).cloned();
    let strings = of_strings(plant);
    let compared = |(year, series): (ArrangementYear, Option<Series>)| {
        let reference = reference.as_ref().unwrap_or(&year);
        let row = row(&stages, &year, reference);
        let case = Case {
            stages: &stages,
            year: &year,
            reference,
            row: &row,
            names: more.names,
        };
        let detail = RowDetail {
            series,
            ..detail(&case, more.workings_of)
        };
        let of_plant = noticed_of(noticed, &stages).chain(strings.iter().cloned());
        let notices = of_plant.chain(notices(&year, reference)).collect();
        ComparedRow { row, notices, detail }
    };
    Comparison {
        plant: plant.name.clone(),
        reference: plant.reference,
        step_s: step.seconds(),
        steps: stages.axis.steps(),
        weather: weather_summary(&stages),
        rows: runs.into_iter().map(compared).collect(),
        axis: stages.axis.clone(),
        years: plant.costs.terms.years,
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

/// The devices, and the year of every arrangement, on all cores; `finished` hears how many of these pieces are done.
///
/// Drives with mains on their second input take longer to solve than all other devices together: the rows that need them
/// do not keep the others waiting.
fn run_all<'p>(
    lit: &Stages<'p>,
    arrangements: &[Arrangement],
    with_series: bool,
    finished: &mut dyn FnMut(usize),
) -> (Stages<'p>, Vec<Ran>) {
    let (slow, quick): (Vec<Arrangement>, Vec<Arrangement>) =
        arrangements.iter().partition(|row| lit.takes_second_input(**row));
    let (done, told) = channel();
    let all = move || {
        let (slow_done, quick_done) = (done.clone(), done);
        rayon::join(
            || {
                let stages = (!slow.is_empty()).then(|| lit.with_devices(&slow));
                stages.map_or_else(Vec::new, |stages| run_each(&stages, &slow, with_series, slow_done))
            },
            || {
                let stages = lit.with_devices(&quick);
                // Nobody listens any more only when the listener has panicked.
                let _ = quick_done.send(());
                let runs = run_each(&stages, &quick, with_series, quick_done);
                (stages, runs)
            },
        )
    };
    let (slow_runs, (stages, quick_runs)) = std::thread::scope(|scope| {
        let working = scope.spawn(all);
        told.iter().zip(1..).for_each(|((), count)| finished(count));
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

/// The years of some arrangements in their order, on all cores.
fn run_each(stages: &Stages<'_>, rows: &[Arrangement], with_series: bool, done: Sender<()>) -> Vec<Ran> {
    let one = |done: &mut Sender<()>, row: &Arrangement| {
        let out = run_one(stages, *row, with_series);
        let _ = done.send(());
        out
    };
    // The last rows have the most to do: begun first, none is left over at the end.
    let mut runs: Vec<Ran> = rows.par_iter().rev().map_with(done, one).collect();
    runs.reverse();
    runs
}

/// A year of one arrangement, watched when its series is asked for.
fn run_one(stages: &Stages<'_>, arrangement: Arrangement, with_series: bool) -> Ran {
    if !with_series {
        return (stages.year_or_earlier(arrangement), None);
    }
    let mut series = Series::new(&stages.axis);
    let year = stages.year(arrangement, &mut series);
    (year, Some(series))
}
