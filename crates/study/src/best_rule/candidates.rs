//! What is tried for each part of a row's rule.

use daylift_plant::{Arrangement, DayHours, MainsRule, Plant};
use daylift_units::{Hour, Hourly, Month};

use super::search::Choice;

/// Hours with sun, in which an array may help: the usual working day of an array, as a window.
const SUN: (u8, u8) = (6, 18);
/// Fill levels that are tried.
const FILLS: [f64; 4] = [1.0, 0.8, 0.65, 0.5];
/// Low marks that are tried.
const LOW_MARKS: [f64; 4] = [0.1, 0.2, 0.3, 0.4];
/// Surpluses that are tried where inverters feed the bus.
const SURPLUSES: [Option<f64>; 4] = [None, Some(1.0), Some(0.7), Some(0.4)];

/// What is tried for each part. The first of each list is the start: what the file gives, otherwise today's.
#[derive(Debug, Clone)]
pub(crate) struct Candidates {
    hours: Vec<DayHours>,
    surplus: Vec<Option<f64>>,
    fill: Vec<Hourly<f64>>,
    low_mark: Vec<f64>,
}

impl Candidates {
    /// The candidates of a row: a single one for each part that the plant file gives. Today's way under its best rule may
    /// always keep today's part, which the file may give for the reference alone.
    pub(crate) fn of(plant: &Plant, row: Arrangement) -> Self {
        let (given, today) = (plant.given_rule(row), plant.written_rule(plant.reference));
        let is_today = row.best_rule;
        let low_mark = tried(is_today, given.low_mark, today.low_mark, || LOW_MARKS.to_vec());
        let fill = tried(is_today, given.fill, today.fill, flat_fills);
        // A fill level must be above the low mark. Today's rule stays; then a given part decides; otherwise the low marks
        // are all below the levels.
        let above = |fill: &Hourly<f64>, mark: f64| fill.values().all(|level| *level > mark);
        let fits = |mark: &f64| fill.iter().take(if is_today { 1 } else { fill.len() }).any(|fill| above(fill, *mark));
        let low_mark: Vec<f64> = low_mark.into_iter().filter(fits).collect();
        let highest = low_mark.iter().copied().fold(0.0, f64::max);
        let is_given = given.fill.is_some() && !is_today;
        let fill = fill.into_iter().filter(|fill| is_given || above(fill, highest)).collect();
        let surpluses = || {
            if row.traits().has_inverter {
                SURPLUSES.to_vec()
            } else {
                Vec::new()
            }
        };
        Self {
            hours: tried(is_today, given.hours, today.hours, || hours(plant)),
            surplus: tried(is_today, given.surplus.map(Some), today.surplus, surpluses),
            fill,
            low_mark,
        }
    }

    /// How many there are of each part.
    pub(crate) fn sizes(&self) -> Choice {
        [
            self.hours.len(),
            self.surplus.len(),
            self.fill.len(),
            self.low_mark.len(),
        ]
    }

    /// Where the search starts: today's rule with the lowest and with the highest low mark. Few hours of pumping on mains
    /// often keep today's water only with a high low mark, and save money only with a low one: hours and low mark cannot be
    /// chosen one after the other.
    pub(crate) fn starts(&self) -> Vec<Choice> {
        let by_level = |a: &(usize, &f64), b: &(usize, &f64)| a.1.total_cmp(b.1);
        let marks = || self.low_mark.iter().enumerate();
        let ends = [marks().min_by(by_level), marks().max_by(by_level)];
        ends.into_iter().flatten().map(|(place, _)| [0, 0, 0, place]).collect()
    }

    /// Whether there is anything to choose.
    pub(crate) fn is_fixed(&self) -> bool {
        self.sizes() == [1; 4]
    }

    /// The rule of a choice.
    pub(crate) fn rule(&self, [hours, surplus, fill, low_mark]: Choice) -> MainsRule {
        MainsRule {
            hours: self.hours[hours],
            surplus: self.surplus[surplus],
            fill: self.fill[fill],
            low_mark: self.low_mark[low_mark],
        }
    }
}

/// What is tried for a part: what the file gives; otherwise today's, then the others that differ from it. In today's way
/// always today's first.
fn tried<T: Copy + PartialEq>(is_today: bool, given: Option<T>, today: T, others: impl FnOnce() -> Vec<T>) -> Vec<T> {
    let (first, others) = match given {
        Some(given) if !is_today => return vec![given],
        Some(given) => (today, vec![given]),
        None => (today, others()),
    };
    let mut all = vec![first];
    for other in others {
        if !all.contains(&other) {
            all.push(other);
        }
    }
    all
}

fn flat_fills() -> Vec<Hourly<f64>> {
    FILLS.map(|level| Hourly::from_array([level; 24])).to_vec()
}

/// All hours, the hours with sun, and for each price of the tariff the hours that cost no more: alone, with
/// the hours of sun, and those of them with sun.
fn hours(plant: &Plant) -> Vec<DayHours> {
    let sun = DayHours::between(SUN.0, SUN.1);
    let price = |hour: Hour| {
        let of = |month| plant.grid.tariff.as_ref().map_or(0.0, |tariff| tariff.price_per_j(month, hour));
        Month::ALL.into_iter().map(of).sum::<f64>()
    };
    let prices: Hourly<f64> = Hourly::from_fn(price);
    let mut levels: Vec<f64> = prices.values().copied().collect();
    levels.sort_by(f64::total_cmp);
    levels.dedup_by(|a, b| (*a - *b).abs() <= 1e-9 * b.abs());
    let cheap = levels.iter().map(|level| DayHours::of(|hour| prices[hour] <= level * (1.0 + 1e-9)));
    let combined = cheap.flat_map(|cheap| [cheap, cheap.or(sun), cheap.and(sun)]);
    let all = [DayHours::ALL, sun].into_iter().chain(combined);
    all.filter(|hours| (1..=DayHours::MOST_WINDOWS).contains(&hours.windows().len()))
        .collect()
}
