//! The best rule of pumping for a row, as far as the plant file leaves it open: `docs/model.md`, "The best rule".

mod candidates;
mod search;

use daylift_money::Cashflow;
use daylift_plant::{Arrangement, MainsRule, Plant, RuleSearch};
use daylift_supply::{Flow, NoRecorder, YearResult};
use daylift_units::{Month, Step};
use rayon::prelude::*;

use self::candidates::Candidates;
use self::search::{Choice, Ranking, Score, descend, try_all};
use crate::memory::Memory;
use crate::money::{loads_only_bill, terms};
use crate::rules::{Found, FoundRule, Rules};
use crate::stages::Stages;
use crate::year::ArrangementYear;

/// Least share of today's water in the year under an admissible rule.
const YEARS_WATER: f64 = 0.999;
/// Least share of today's water in every month under an admissible rule.
const MONTHS_WATER: f64 = 0.99;
/// Water that may be missing beside the wettest rule for money's sake, as a share of today's.
const SAME_WATER: f64 = 0.001;
/// Most years that a descent simulates for a row.
const MOST_YEARS: usize = 20;

/// How many rules a search tries.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Effort {
    /// At most 20 for each row: all combinations if there are no more, otherwise one part of the rule at a time.
    Descent,
    /// All combinations.
    All,
}

/// How the best rules are found.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FindRules {
    /// By a search.
    Search(Effort),
    /// Those of the last search for this plant in the memory, as while a value moves. A row without one is searched for.
    Held,
}

/// The best rules of some rows: searched for, or held from the last search.
pub(crate) fn find_or_held(plant: &Plant, step: Step, rows: &[Arrangement], memory: &Memory, how: FindRules) -> Rules {
    let (mut rules, effort) = match how {
        FindRules::Search(effort) => (Rules::default(), effort),
        // A change may have closed a row to the search since: a new reference, or all as written.
        FindRules::Held => (
            memory.held_rules(&plant.name).only(|row| is_open(plant, row)),
            Effort::Descent,
        ),
    };
    let missing: Vec<Arrangement> = rows.iter().copied().filter(|row| !rules.has(*row)).collect();
    rules.extend(find(plant, step, &missing, memory, effort));
    memory.hold_rules(&plant.name, rows, &rules);
    rules
}

/// Whether a rule may be searched for. The reference runs as written; today's way under its best rule never does.
fn is_open(plant: &Plant, row: Arrangement) -> bool {
    let may = match plant.pumping.search {
        _ if row.best_rule => true,
        RuleSearch::Best => row != plant.reference,
        RuleSearch::AsWritten => false,
    };
    may && plant.pumps_on_bus(row)
}

/// Searches for the best rules of some rows, for a year at `step`. Rows that run as written have no entry: the reference,
/// rows whose rule the plant file gives in full, and, with `rule = "as-written"`, all rows but today's way under its best
/// rule.
///
/// The search itself simulates hourly steps. The winner is simulated at `step`, too; if it does not deliver today's water
/// there, the next best is.
fn find(plant: &Plant, step: Step, rows: &[Arrangement], memory: &Memory, effort: Effort) -> Rules {
    let searched: Vec<(Arrangement, Candidates)> = rows
        .iter()
        .filter(|row| is_open(plant, **row))
        .map(|row| (*row, Candidates::of(plant, *row)))
        .filter(|(_, candidates)| !candidates.is_fixed())
        .collect();
    if searched.is_empty() {
        return Rules::default();
    }
    let needed: Vec<Arrangement> = searched.iter().map(|(row, _)| *row).chain([plant.reference]).collect();
    let (coarse, fine) = rayon::join(
        || Trials::new(plant, Step::Hour, &needed, memory),
        || (step != Step::Hour).then(|| Trials::new(plant, step, &needed, memory)),
    );
    let best = |(row, candidates): &(Arrangement, Candidates)| {
        let judge =
            |choice: Choice| candidates.is_possible(choice).then(|| coarse.score(*row, candidates.rule(choice)));
        let few = candidates.sizes().iter().product::<usize>() <= MOST_YEARS;
        let ranking = match effort {
            Effort::Descent if few => try_all(candidates.sizes(), judge),
            Effort::Descent => descend(&candidates.orders(), candidates.starts(), MOST_YEARS, judge),
            Effort::All => try_all(candidates.sizes(), judge),
        };
        (*row, chosen(&ranking, candidates, *row, fine.as_ref()))
    };
    searched.par_iter().map(best).collect::<Vec<_>>().into_iter().collect()
}

/// The best rule of a ranking that delivers today's water at the reported step, too; otherwise, of those with most
/// water, the one worth most.
fn chosen(ranking: &Ranking, candidates: &Candidates, row: Arrangement, fine: Option<&Trials<'_>>) -> FoundRule {
    let admissible = |(choice, score): &&(Choice, Score)| {
        score.admissible && fine.is_none_or(|trials| trials.keeps_water(row, candidates.rule(*choice)))
    };
    if let Some((choice, _)) = ranking.iter().find(admissible) {
        return FoundRule {
            rule: candidates.rule(*choice),
            found: Found::Best,
        };
    }
    let most = ranking.iter().map(|(_, score)| score.water).fold(0.0, f64::max);
    let about_most = ranking.iter().filter(|(_, score)| score.water >= most - SAME_WATER);
    let wettest = about_most.reduce(|best, one| if one.1.is_worth_more_than(&best.1) { one } else { best });
    FoundRule {
        rule: candidates.rule(wettest.map_or([0; 4], |(choice, _)| *choice)),
        found: Found::Wettest,
    }
}

/// Years of rows under rules that are tried, compared with today's.
struct Trials<'p> {
    stages: Stages<'p>,
    loads_only_bill: f64,
    today: ArrangementYear,
}

impl<'p> Trials<'p> {
    fn new(plant: &'p Plant, step: Step, rows: &[Arrangement], memory: &'p Memory) -> Self {
        let stages = Stages::for_rows(plant, step, rows, memory);
        let loads_only_bill = loads_only_bill(&stages);
        let today = stages.year_or_earlier(plant.reference);
        Self {
            today: ArrangementYear::new(&stages, loads_only_bill, plant.reference, today),
            loads_only_bill,
            stages,
        }
    }

    /// The score of a rule.
    fn score(&self, row: Arrangement, rule: MainsRule) -> Score {
        let result = self.stages.with_rules(Rules::one(row, rule)).year(row, &mut NoRecorder);
        let admissible = self.is_enough(&result);
        let sum = result.ledger.year();
        let imported_j = sum[Flow::Imported];
        let water = sum[Flow::Delivered] / self.today.costs.delivered_m3.max(f64::MIN_POSITIVE);
        let year = ArrangementYear::new(&self.stages, self.loads_only_bill, row, result);
        let terms = terms(self.stages.plant);
        let npv = terms.map(|terms| Cashflow::against(&self.today.costs, &year.costs, &terms).npv());
        Score {
            admissible,
            npv,
            water,
            imported_j,
        }
    }

    /// Whether a row delivers today's water under a rule. The year is kept for the answer.
    fn keeps_water(&self, row: Arrangement, rule: MainsRule) -> bool {
        self.is_enough(&self.stages.with_rules(Rules::one(row, rule)).year_or_earlier(row))
    }

    fn is_enough(&self, year: &YearResult) -> bool {
        let (ours, today) = (&year.ledger, &self.today.result.ledger);
        let month =
            |month: Month| ours.months[month][Flow::Delivered] >= MONTHS_WATER * today.months[month][Flow::Delivered];
        ours.year()[Flow::Delivered] >= YEARS_WATER * today.year()[Flow::Delivered] && Month::ALL.into_iter().all(month)
    }
}
