//! The ledger: what happened to every joule, cubic metre and second, by month.

use std::ops::Index;

use daylift_units::{Hour, Hourly, Month, MonthHour, Monthly};

use crate::battery::BatteryFlow;
use crate::flow::{Flow, LOST, SHORTFALL, USES, book};
use crate::piece::{Piece, Source};

/// One month's account: the amount of every [`Flow`], energies in J, volumes in m³, times in s.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MonthBook {
    amounts: [f64; Flow::COUNT],
}

impl Default for MonthBook {
    fn default() -> Self {
        Self {
            amounts: [0.0; Flow::COUNT],
        }
    }
}

impl Index<Flow> for MonthBook {
    type Output = f64;

    /// Amount of a flow: J, m³ or s.
    fn index(&self, flow: Flow) -> &f64 {
        &self.amounts[flow.index()]
    }
}

impl MonthBook {
    #[inline]
    fn add(&mut self, piece: &Piece) {
        book(&mut self.amounts, piece.rates(), piece.length_s);
    }

    fn merge(&mut self, other: &Self) {
        for (sum, amount) in self.amounts.iter_mut().zip(&other.amounts) {
            *sum += amount;
        }
    }

    /// A flow in the unit of results.
    #[must_use]
    pub fn shown(&self, flow: Flow) -> f64 {
        flow.measure().in_unit(self[flow])
    }

    /// Energy lost to each cause, in the order of [`LossCause::ALL`](crate::LossCause::ALL) \[J\].
    #[must_use]
    pub fn lost_j(&self) -> &[f64] {
        &self.amounts[LOST]
    }

    /// Demand not met, over all causes.
    #[must_use]
    pub fn shortfall_m3(&self) -> f64 {
        self.amounts[SHORTFALL].iter().sum()
    }
}

/// The worst residual (imbalance) of each balance, as a fraction.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Residuals {
    /// Energy at array, bus and battery, as a fraction of the inflow (at least 1 W).
    pub energy: f64,
    /// Water at the tank, in any piece or over the year, as a fraction of what flowed.
    pub water: f64,
    /// Time over the year, as a fraction of the year.
    pub hours: f64,
}

/// An account of consecutive spans of one month.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct Account {
    book: MonthBook,
    imported_j: Hourly<f64>,
    exported_j: Hourly<f64>,
    worst_energy: f64,
    worst_water: f64,
}

impl Account {
    /// Books a piece of an hour of the civil day; `day` keeps the day's sums of demand and shortfall.
    pub(crate) fn book(&mut self, hour: Hour, day: &mut (f64, f64), piece: &Piece) {
        self.book.add(piece);
        self.imported_j[hour] += piece[Flow::Imported] * piece.length_s;
        self.exported_j[hour] += piece[Flow::Exported] * piece.length_s;
        day.0 += piece[Flow::Demand] * piece.length_s;
        day.1 += piece.shortfall_m3_s() * piece.length_s;
        energy_residuals(piece, &mut self.worst_energy);
        water_residual(piece, &mut self.worst_water);
    }
}

/// A year's account.
#[derive(Debug, Clone, PartialEq)]
pub struct Ledger {
    /// Months.
    pub months: Monthly<MonthBook>,
    /// Imported energy by month and hour of the civil day \[J\].
    pub imported_j: MonthHour<f64>,
    /// Exported energy by month and hour of the civil day \[J\].
    pub exported_j: MonthHour<f64>,
    /// Demand and shortfall of each civil day of the year \[m³\].
    pub days: Vec<(f64, f64)>,
    /// Worst residual of energy in any piece.
    pub worst_energy: f64,
    /// Worst residual of water in any piece.
    pub worst_water: f64,
}

impl Ledger {
    /// Empty, with demand and shortfall of each civil day \[m³\].
    pub(crate) fn new(days: Vec<(f64, f64)>) -> Self {
        Self {
            months: Monthly::default(),
            imported_j: MonthHour::default(),
            exported_j: MonthHour::default(),
            days,
            worst_energy: 0.0,
            worst_water: 0.0,
        }
    }

    /// Adds an account of a month, or of a part of it.
    pub(crate) fn add(&mut self, month: Month, account: &Account) {
        self.months[month].merge(&account.book);
        for hour in Hour::ALL {
            self.imported_j[month][hour] += account.imported_j[hour];
            self.exported_j[month][hour] += account.exported_j[hour];
        }
        self.worst_energy = self.worst_energy.max(account.worst_energy);
        self.worst_water = self.worst_water.max(account.worst_water);
    }

    /// The year's sum.
    #[must_use]
    pub fn year(&self) -> MonthBook {
        let mut sum = MonthBook::default();
        for month in self.months.values() {
            sum.merge(month);
        }
        sum
    }
}

/// Raises the worst residual to |`missing`| / `scale` if that is larger. `scale` is above 0; the division is done only when
/// needed.
#[inline]
fn worse(worst: &mut f64, missing: f64, scale: f64) {
    if missing.abs() > *worst * scale {
        *worst = missing.abs() / scale;
    }
}

/// The sum of the losses, added as four separate sums, which the processor can do in parallel.
#[inline]
fn sum_of(lost_w: &[f64]) -> f64 {
    let (fours, rest) = lost_w.as_chunks::<4>();
    let add = |sums: [f64; 4], four: &[f64; 4]| std::array::from_fn(|i| sums[i] + four[i]);
    let [a, b, c, d] = fours.iter().fold([0.0; 4], add);
    (a + b) + (c + d) + rest.iter().sum::<f64>()
}

/// The tank's imbalance, as a fraction of what flowed through it. That flow counts as at least a millionth of the content,
/// so that rounding of the content does not look like an imbalance.
fn water_residual(p: &Piece, worst: &mut f64) {
    let (pumped_m3_s, delivered_m3_s) = (p[Flow::Pumped], p[Flow::Delivered]);
    let flowed_m3 = pumped_m3_s.max(delivered_m3_s) * p.length_s;
    let missing_m3 = (pumped_m3_s - delivered_m3_s) * p.length_s - p.stored_m3;
    worse(worst, missing_m3, flowed_m3.max(1e-6 * p.tank_m3).max(1e-6));
}

/// The imbalances at array, sources, loads and battery, as fractions of the inflow (at least 1 W).
fn energy_residuals(p: &Piece, worst: &mut f64) {
    let available_w = p[Flow::Available];
    let used_w: f64 = p.rates()[USES].iter().sum();
    let lost_w = if available_w > 0.0 { sum_of(p.lost_w()) } else { 0.0 };
    worse(worst, available_w - used_w - lost_w, available_w.max(1.0));
    let mut to_loads_w = p[Flow::ArrayToLoads];
    let sources = [
        (Source::GRID, p[Flow::GridToBattery] + p[Flow::GridChargingLost]),
        (Source::BATTERY, 0.0),
        (Source::GENERATOR, 0.0),
    ];
    for (source, to_battery_w) in sources {
        let from = p.supplied(source);
        let left_w = from.given_w - from.to_pump_w - from.to_loads_w;
        worse(worst, left_w - to_battery_w - from.lost_w, from.given_w.max(1.0));
        to_loads_w += from.to_loads_w;
    }
    let load_w = p[Flow::Load];
    worse(worst, load_w - to_loads_w - p[Flow::Unserved], load_w.max(1.0));
    battery_residual(p, worst);
}

/// The battery's imbalance, as a fraction of what flowed through it. That flow counts as at least a millionth of the
/// content, so that rounding of the content does not look like an imbalance.
fn battery_residual(p: &Piece, worst: &mut f64) {
    let flow = p.battery_flow();
    if flow == BatteryFlow::default() && p.battery_stored_j == 0.0 {
        return;
    }
    let flowed_j = (flow.from_array_w + flow.from_grid_w).max(flow.out_w) * p.length_s;
    let missing_j = flow.net_w() * p.length_s - p.battery_stored_j;
    worse(worst, missing_j, flowed_j.max(1e-6 * p.battery_j).max(1.0));
}

#[cfg(test)]
mod tests;
