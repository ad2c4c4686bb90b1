//! What is tried for each part of a row's rule.

use daylift_plant::{Arrangement, DayHours, MainsRule, Plant};
use daylift_units::{Hour, Hourly, Month};

use super::search::{Choice, PARTS};

/// Hours with sun, in which an array may help: the usual working day of an array, as a window. Our choice without a
/// source, like the levels below.
const SUN: (u8, u8) = (6, 18);
/// Fill levels that are tried.
const FILLS: [f64; 4] = [1.0, 0.8, START_FILL, 0.5];
/// The fill level with which hours are tried first where drives pump from the sun.
const START_FILL: f64 = 0.65;
/// Low marks that are tried.
const LOW_MARKS: [f64; 4] = [0.1, 0.2, 0.3, 0.4];
/// Surpluses that are tried where inverters feed the bus.
const SURPLUSES: [Option<f64>; 4] = [None, Some(1.0), START_SURPLUS, Some(0.4)];
/// The surplus with which hours are tried first.
const START_SURPLUS: Option<f64> = Some(0.7);

/// What is tried for each part. The first of each list is the start: what the file gives, otherwise today's.
#[derive(Debug, Clone)]
pub(crate) struct Candidates {
    hours: Vec<DayHours>,
    surplus: Vec<Option<f64>>,
    fill: Vec<Hourly<f64>>,
    low_mark: Vec<f64>,
    /// Whether drives pump from the sun, so that the bus may leave them room in the tank.
    leaves_room: bool,
}

impl Candidates {
    /// The candidates of a row: a single one for each part that the plant file gives. For today's way under its best rule
    /// every part is open: it shows what other settings of today's equipment would save.
    pub(crate) fn of(plant: &Plant, row: Arrangement) -> Self {
        let (given, today) = (plant.given_rule(row), plant.written_rule(plant.reference));
        let is_today = row.best_rule;
        let marks = || LOW_MARKS.into_iter().filter(|mark| *mark < plant.tank.restart_level()).collect();
        // Only what inverters offer can be a surplus.
        let surplus = if row.traits().has_inverter {
            tried(is_today, given.surplus.map(Some), today.surplus, || SURPLUSES.to_vec())
        } else {
            vec![given.surplus]
        };
        Self {
            hours: tried(is_today, given.hours, today.hours, || hours(plant)),
            surplus,
            fill: tried(is_today, given.fill, today.fill, flat_fills),
            low_mark: tried(is_today, given.low_mark, today.low_mark, marks),
            leaves_room: row.traits().has_drive,
        }
    }

    /// Whether a choice is a rule that a plant file may have: fill levels are above the low mark.
    pub(crate) fn is_possible(&self, [.., fill, low_mark]: Choice) -> bool {
        self.fill[fill].values().all(|level| *level > self.low_mark[low_mark])
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

    /// The places of each part, from the lowest to the highest value; hours as they are listed.
    pub(crate) fn orders(&self) -> [Vec<usize>; PARTS] {
        let mean = |fill: &Hourly<f64>| fill.values().sum::<f64>();
        [
            (0..self.hours.len()).collect(),
            // Without surplus pumps run on it least.
            ordered(&self.surplus, |share| share.unwrap_or(f64::INFINITY)),
            ordered(&self.fill, mean),
            ordered(&self.low_mark, |mark| *mark),
        ]
    }

    /// Where the search starts: with the lowest and with the highest low mark; on surplus where that is possible; with
    /// room for the sun where drives pump from it.
    pub(crate) fn starts(&self) -> [Choice; 2] {
        let mark = |better: fn(f64, f64) -> bool| {
            let marks = self.low_mark.iter().enumerate();
            marks
                .reduce(|best, one| if better(*one.1, *best.1) { one } else { best })
                .map_or(0, |(place, _)| place)
        };
        let surplus = self.surplus.iter().position(|share| *share == START_SURPLUS).unwrap_or(0);
        let fill = if self.leaves_room {
            self.fill.iter().position(is_start_fill).unwrap_or(0)
        } else {
            0
        };
        [mark(|a, b| a < b), mark(|a, b| a > b)].map(|mark| [0, surplus, fill, mark])
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

/// What is tried for a part: only what the file gives; otherwise today's, then the others that differ from it. In today's
/// way all of these.
fn tried<T: Copy + PartialEq>(is_today: bool, given: Option<T>, today: T, others: impl FnOnce() -> Vec<T>) -> Vec<T> {
    if let Some(given) = given.filter(|_| !is_today) {
        return vec![given];
    }
    let mut all = vec![today];
    for other in given.into_iter().chain(others()) {
        if !all.contains(&other) {
            all.push(other);
        }
    }
    all
}

fn ordered<T>(all: &[T], value: impl Fn(&T) -> f64) -> Vec<usize> {
    let mut places: Vec<usize> = (0..all.len()).collect();
    places.sort_by(|a, b| value(&all[*a]).total_cmp(&value(&all[*b])));
    places
}

fn is_start_fill(fill: &Hourly<f64>) -> bool {
    fill.values().all(|level| level.total_cmp(&START_FILL).is_eq())
}

fn flat_fills() -> Vec<Hourly<f64>> {
    FILLS.map(|level| Hourly::from_array([level; 24])).to_vec()
}

/// All hours, the hours with sun, the cheapest hours of the tariff, and all hours except the dearest: alone, with
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
    // All hours except the dearest, and only the cheapest: more windows do not fit into the years of a search.
    levels.pop();
    if let [cheapest, .., last] = levels[..] {
        levels = vec![cheapest, last];
    }
    let cheap = levels.iter().map(|level| DayHours::of(|hour| prices[hour] <= level * (1.0 + 1e-9)));
    let combined = cheap.flat_map(|cheap| [cheap, cheap.or(sun), cheap.and(sun)]);
    let all = [DayHours::ALL, sun].into_iter().chain(combined);
    all.filter(|hours| (1..=DayHours::MOST_WINDOWS).contains(&hours.windows().len()))
        .collect()
}
