//! Every arrangement side by side.

use std::sync::mpsc::{Sender, channel};

use daylift_plant::{Arrangement, Plant};
use daylift_plant_file::ValueOrigin;
use daylift_supply::YearResult;
use daylift_units::{Axis, Step, Warning};
use rayon::prelude::*;

use crate::answer::{Row, WeatherSummary};
use crate::best_rule::{Effort, FindRules, find_or_held};
use crate::detail::{Cash, Month, WaterSecured, cash, months, water_secured, weather_summary};
use crate::memory::Memory;
use crate::money::{loads_only_bill, lost, years};
use crate::notice::{Notice, notices, of_strings, warnings_of};
use crate::pairs::{Pair, pairs, runner_up};
use crate::prices::Prices;
use crate::row::row;
use crate::rules::Rules;
use crate::series::Series;
use crate::service::{PricedAt, Service};
use crate::stages::Stages;
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
    /// A row for each arrangement that the plant file asks for and the plant has the parts for. With a generator, also
    /// one beside every row that serves less than today's way.
    pub rows: Vec<ComparedRow>,
    /// The year in steps.
    pub axis: Axis,
    /// Years of the money calculation; 0 without costs.
    pub years: u32,
    /// Which prices the plant has.
    pub prices: Prices,
    /// Values of what is missing, which the money figures include; `None` if the plant gives none.
    pub priced_at: Option<PricedAt>,
    /// What the best row adds to its runner-up; `None` if no comparable row pays.
    pub runner_up: Option<Pair>,
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

    /// What each comparable row adds to every cheaper one.
    #[must_use]
    pub fn pairs(&self) -> Vec<Pair> {
        pairs(&self.rows, self.reference)
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
    /// How the best rules of pumping are found.
    pub rules: FindRules,
}

/// Which rows have workings of their headline numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WorkingsOf {
    /// No row.
    None,
    /// One row; the reference if the comparison does not have that row.
    Row(Arrangement),
    /// All rows.
    All,
}

impl WorkingsOf {
    /// The same, with the reference in place of a row that is not among `years`.
    fn among(self, years: &[Ran], reference: Arrangement) -> Self {
        match self {
            Self::Row(one) if years.iter().all(|(year, _)| year.arrangement != one) => Self::Row(reference),
            other => other,
        }
    }

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
        rules: FindRules::Search(Effort::Descent),
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
    let listed = plant.arrangements();
    let pieces = 1 + listed.len();
    progress(0, pieces);
    // The search needs most stages of the answer, too.
    let own = Memory::new();
    let memory = if memory.is_none() { &own } else { memory };
    let find = |rows: &[Arrangement]| find_or_held(plant, step, rows, memory, extras.rules);
    let mut rules = find(&listed);
    let lit = Stages::without_devices(plant, step, memory).with_rules(rules.clone());
    let (mut solved, runs) = run_all(&lit, &listed, extras.series, &mut |done| progress(done, pieces));
    let loads_only_bill = loads_only_bill(&solved.plain);
    let with_costs = |stages: &Stages<'_>, rows: Vec<Arrangement>, runs: Vec<Run>| -> Vec<Ran> {
        let costed = |(row, (year, series))| (ArrangementYear::new(stages, loads_only_bill, row, year), series);
        rows.into_iter().zip(runs).map(costed).collect()
    };
    let mut runs = with_costs(&solved.plain, listed, runs);
    let reference = runs.iter().map(|(year, _)| year).find(|y| y.arrangement == plant.reference).cloned();
    let more = generator_rows(plant, &runs, reference.as_ref());
    if !more.is_empty() {
        rules.extend(find(&more));
        solved = solved.with_rules(&rules);
        progress(pieces, pieces + more.len());
        let years = solved.run_each(&more, extras.series);
        progress(pieces + more.len(), pieces + more.len());
        insert(&mut runs, with_costs(&solved.plain, more, years));
    }
    let stages = &solved.plain;
    let workings_of = extras.workings_of.among(&runs, plant.reference);
    let compared = |(year, series): Ran| {
        let reference = reference.as_ref().unwrap_or(&year);
        let row = row(stages, &year, reference);
        let case = Case {
            stages,
            year: &year,
            reference,
            row: &row,
            names: extras.names,
        };
        let detail = RowDetail {
            series,
            ..detail(&case, workings_of)
        };
        ComparedRow {
            row,
            notices: Vec::new(),
            own_notices: notices(stages, &year, reference),
            detail,
        }
    };
    let rows: Vec<ComparedRow> = runs.into_iter().map(compared).collect();
    let of_plant = warnings_of(read_warnings, stages).chain(of_strings(plant)).chain(every_row_pays(&rows));
    finished(stages, of_plant.collect(), rows)
}

/// The comparison of rows that have no notices of the plant yet.
fn finished(stages: &Stages<'_>, notices: Vec<Notice>, mut rows: Vec<ComparedRow>) -> Comparison {
    let plant = stages.plant;
    for one in &mut rows {
        one.notices = notices.iter().chain(&one.own_notices).cloned().collect();
    }
    Comparison {
        plant: plant.name.clone(),
        reference: plant.reference,
        step_s: stages.axis.step().seconds(),
        steps: stages.axis.steps(),
        weather: weather_summary(stages),
        axis: stages.axis.clone(),
        years: years(plant),
        prices: Prices::of(plant),
        priced_at: PricedAt::of(&lost(plant)),
        runner_up: runner_up(&rows, plant.reference),
        notices,
        can_be_built: None,
        rows,
    }
}

/// A year with its costs, and its series if requested.
type Ran = (ArrangementYear, Option<Series>);

/// The rows with the generator that the comparison lacks: one beside each row that serves less than today's way.
fn generator_rows(plant: &Plant, runs: &[Ran], reference: Option<&ArrangementYear>) -> Vec<Arrangement> {
    let Some(reference) = reference else { return Vec::new() };
    let falls_short = |year: &ArrangementYear| Service::of(year, reference, &lost(plant)).is_less();
    let is_there = |row: &Arrangement| runs.iter().any(|(year, _)| year.arrangement == *row);
    let short = runs.iter().map(|(year, _)| year).filter(|year| falls_short(year));
    let with_generator = short.map(|year| year.arrangement.with_generator());
    with_generator.filter(|row| plant.can_run(*row) && !is_there(row)).collect()
}

/// Inserts rows with the generator, each directly after the row without it.
fn insert(runs: &mut Vec<Ran>, more: Vec<Ran>) {
    for ran in more {
        let row = ran.0.arrangement;
        let before = runs
            .iter()
            .position(|(year, _)| !year.arrangement.generator && year.arrangement.with_generator() == row);
        runs.insert(before.map_or(runs.len(), |at| at + 1), ran);
    }
}

/// A notice if every row pays, some only because of the value of what is missing.
fn every_row_pays(rows: &[ComparedRow]) -> Option<Notice> {
    let mut others = rows.iter().filter(|one| !one.detail.traits.is_reference);
    let by_value = rows.iter().any(|one| one.own_notices.contains(&Notice::PaysByValueOnly));
    (by_value && others.all(|one| one.row.money.npv.is_some_and(|npv| npv > 0.0)))
        .then_some(Notice::EveryRowPaysByValue)
}

fn detail(case: &Case<'_>, workings_of: WorkingsOf) -> RowDetail {
    let year = case.year;
    RowDetail {
        traits: Traits::of(year.arrangement, case.stages.plant.reference),
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

/// Stages with the devices solved.
struct Solved<'p> {
    /// For rows without mains on the drives' second input.
    plain: Stages<'p>,
    /// For rows with it; `None` if the comparison has none.
    second_input: Option<Stages<'p>>,
}

impl Solved<'_> {
    /// The same stages with rules of pumping that were found.
    fn with_rules(&self, rules: &Rules) -> Self {
        Self {
            plain: self.plain.with_rules(rules.clone()),
            second_input: self.second_input.as_ref().map(|stages| stages.with_rules(rules.clone())),
        }
    }

    /// Runs the years of more rows, on all cores.
    fn run_each(&self, rows: &[Arrangement], with_series: bool) -> Vec<Run> {
        let one = |row: &Arrangement| {
            let slow = self.second_input.as_ref().filter(|stages| stages.takes_second_input(*row));
            run_one(slow.unwrap_or(&self.plain), *row, with_series)
        };
        rows.par_iter().map(one).collect()
    }
}

type Run = (YearResult, Option<Series>);

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
) -> (Solved<'p>, Vec<Run>) {
    let (slow, quick): (Vec<Arrangement>, Vec<Arrangement>) =
        arrangements.iter().partition(|row| lit.takes_second_input(**row));
    let (done, reports) = channel();
    let all = move || {
        let (slow_done, quick_done) = (done.clone(), done);
        rayon::join(
            || {
                let stages = (!slow.is_empty()).then(|| lit.with_devices(&slow));
                let runs = stages.as_ref().map(|stages| run_each(stages, &slow, with_series, slow_done));
                (stages, runs.unwrap_or_default())
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
    let ((second_input, slow_runs), (plain, quick_runs)) = std::thread::scope(|scope| {
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
    (Solved { plain, second_input }, runs)
}

/// Runs the years of some arrangements, on all cores; returns them in the same order.
fn run_each(stages: &Stages<'_>, rows: &[Arrangement], with_series: bool, done: Sender<()>) -> Vec<Run> {
    let one = |done: &mut Sender<()>, row: &Arrangement| {
        let out = run_one(stages, *row, with_series);
        let _ = done.send(());
        out
    };
    // The last rows take longest. They start first, so that no core waits for one of them at the end.
    let mut runs: Vec<Run> = rows.par_iter().rev().map_with(done, one).collect();
    runs.reverse();
    runs
}

/// Runs a year of one arrangement, and records its series if requested.
fn run_one(stages: &Stages<'_>, arrangement: Arrangement, with_series: bool) -> Run {
    if !with_series {
        return (stages.year_or_earlier(arrangement), None);
    }
    let mut series = Series::new(&stages.axis);
    let year = stages.year(arrangement, &mut series);
    (year, Some(series))
}
