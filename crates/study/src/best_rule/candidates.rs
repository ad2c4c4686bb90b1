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
    /// The candidates of a row: a single one for each part that the plant file gives.
    pub(crate) fn of(plant: &Plant, row: Arrangement) -> Self {
        let (given, today) = (plant.given_rule(row), plant.written_rule(plant.reference));
        let low_mark = given.low_mark.map_or_else(|| listed(today.low_mark, &LOW_MARKS), |mark| vec![mark]);
        let fill = given.fill.map_or_else(|| fills(&today.fill), |fill| vec![fill]);
        // A fill level must be above the low mark. A given part decides; otherwise the low marks are all below the levels.
        let above = |fill: &Hourly<f64>, mark: f64| fill.values().all(|level| *level > mark);
        let fits = |mark: &f64| fill.iter().any(|fill| above(fill, *mark));
        let low_mark: Vec<f64> = low_mark.into_iter().filter(fits).collect();
        let highest = low_mark.iter().copied().fold(0.0, f64::max);
        let fill = if given.fill.is_some() {
            fill
        } else {
            fill.into_iter().filter(|fill| above(fill, highest)).collect()
        };
        let surplus = match given.surplus {
            Some(share) => vec![Some(share)],
            None if row.traits().has_inverter => listed(today.surplus, &SURPLUSES),
            None => vec![None],
        };
        Self {
            hours: given.hours.map_or_else(|| hours(plant, today.hours), |hours| vec![hours]),
            surplus,
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

    /// Where the search starts: today's rule with the highest low mark. Few hours of pumping on mains often keep today's
    /// water only with a high low mark, so hours and low mark cannot be chosen one after the other from today's.
    pub(crate) fn start(&self) -> Choice {
        let marks = self.low_mark.iter().enumerate();
        let highest = marks.reduce(|highest, one| if one.1 > highest.1 { one } else { highest });
        [0, 0, 0, highest.map_or(0, |(place, _)| place)]
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

/// `first`, then the others that differ from it.
fn listed<T: Copy + PartialEq>(first: T, others: &[T]) -> Vec<T> {
    std::iter::once(first)
        .chain(others.iter().copied().filter(|other| *other != first))
        .collect()
}

fn fills(today: &Hourly<f64>) -> Vec<Hourly<f64>> {
    listed(*today, &FILLS.map(|level| Hourly::from_array([level; 24])))
}

/// Today's hours, all hours, the hours with sun, and for each price of the tariff the hours that cost no more: alone, with
/// the hours of sun, and those of them with sun.
fn hours(plant: &Plant, today: DayHours) -> Vec<DayHours> {
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
    let tried = cheap.flat_map(|cheap| [cheap, cheap.or(sun), cheap.and(sun)]);
    let mut all = vec![today];
    for hours in [DayHours::ALL, sun].into_iter().chain(tried) {
        if !all.contains(&hours) && (1..=DayHours::MOST_WINDOWS).contains(&hours.windows().len()) {
            all.push(hours);
        }
    }
    all
}
