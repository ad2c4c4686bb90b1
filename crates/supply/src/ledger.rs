//! The ledger: what happened to every joule, cubic metre and second, by month.

use daylift_grid::MonthHour;

use crate::battery::BatteryFlow;
use crate::cause::{LossCause, ShortfallCause};
use crate::piece::{Piece, Supplied};

/// Energy from one source beside the array \[J\].
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct SourceBook {
    /// At the source: the utility's meter, the battery's terminals, the generating set's.
    pub given_j: f64,
    /// At the motor's terminals.
    pub to_pump_j: f64,
    /// To the loads.
    pub to_loads_j: f64,
    /// Into the battery.
    pub to_battery_j: f64,
}

impl SourceBook {
    fn add(&mut self, p: &Supplied, s: f64) {
        if p.given_w == 0.0 {
            return;
        }
        self.given_j += p.given_w * s;
        self.to_pump_j += p.to_pump_w * s;
        self.to_loads_j += p.to_loads_w * s;
        self.to_battery_j += p.to_battery_w * s;
    }

    fn merge(&mut self, other: &Self) {
        self.given_j += other.given_j;
        self.to_pump_j += other.to_pump_j;
        self.to_loads_j += other.to_loads_j;
        self.to_battery_j += other.to_battery_j;
    }
}

/// One month's account: energies in J, volumes in m³, times in s.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct MonthBook {
    /// Energy at the maximum-power point.
    pub available_j: f64,
    /// Lost energy by cause.
    pub lost_j: [f64; LossCause::COUNT],
    /// Array energy at the motor's terminals.
    pub array_to_pump_j: f64,
    /// Array energy to the loads.
    pub array_to_loads_j: f64,
    /// Array energy into the battery.
    pub array_to_battery_j: f64,
    /// Array energy exported.
    pub exported_j: f64,
    /// Of that, at a credit.
    pub exported_paid_j: f64,
    /// From the utility.
    pub grid: SourceBook,
    /// From the battery.
    pub battery: SourceBook,
    /// Of what the battery gave, what had come from the array.
    pub battery_of_array_j: f64,
    /// From the generating set.
    pub generator: SourceBook,
    /// Time that it ran.
    pub generator_s: f64,
    /// Of that, below its least load.
    pub generator_low_s: f64,
    /// Its fuel \[m³\].
    pub fuel_m3: f64,
    /// Energy the loads want.
    pub load_j: f64,
    /// Load energy not served.
    pub unserved_j: f64,
    /// Water pumped.
    pub pumped_m3: f64,
    /// Water wanted by the farm.
    pub demand_m3: f64,
    /// Water delivered.
    pub delivered_m3: f64,
    /// Water delivered while the utility was away.
    pub delivered_in_outage_m3: f64,
    /// Water wanted while the utility was away.
    pub demand_in_outage_m3: f64,
    /// Demand not met, by what held the pump back.
    pub shortfall_m3: [f64; ShortfallCause::COUNT],
    /// Time with the utility away.
    pub outage_s: f64,
    /// Time with flow.
    pub pumping_s: f64,
    /// Time with flow and the utility away.
    pub pumping_in_outage_s: f64,
    /// All time.
    pub time_s: f64,
}

impl MonthBook {
    fn add(&mut self, p: &Piece) {
        let s = p.length_s;
        if p.available_w > 0.0 {
            self.add_array(p, s);
        }
        self.grid.add(&p.grid, s);
        self.battery.add(&p.battery, s);
        if p.battery.given_w > 0.0 {
            self.battery_of_array_j += p.battery.given_w * p.battery_array_share * s;
        }
        self.generator.add(&p.generator, s);
        if p.generator.given_w > 0.0 {
            self.generator_s += s;
            if p.generator_below_least {
                self.generator_low_s += s;
            }
            self.fuel_m3 += p.fuel_m3_s * s;
        }
        self.load_j += p.load_w * s;
        self.unserved_j += p.unserved_w * s;
        self.pumped_m3 += p.pumped_m3_s * s;
        self.demand_m3 += p.demand_m3_s * s;
        self.delivered_m3 += p.delivered_m3_s * s;
        self.shortfall_m3[p.held_back_by.index()] += p.shortfall_m3_s() * s;
        self.time_s += s;
        self.pumping_s += p.pumping * s;
        if !p.utility {
            self.outage_s += s;
            self.delivered_in_outage_m3 += p.delivered_m3_s * s;
            self.demand_in_outage_m3 += p.demand_m3_s * s;
            self.pumping_in_outage_s += p.pumping * s;
        }
    }

    fn add_array(&mut self, p: &Piece, s: f64) {
        self.available_j += p.available_w * s;
        for (sum, w) in self.lost_j.iter_mut().zip(&p.lost_w) {
            *sum += w * s;
        }
        self.array_to_pump_j += p.array_to_pump_w * s;
        self.array_to_loads_j += p.array_to_loads_w * s;
        self.array_to_battery_j += p.array_to_battery_w * s;
        self.exported_j += p.exported_w * s;
        if p.export_paid {
            self.exported_paid_j += p.exported_w * s;
        }
    }

    fn merge(&mut self, other: &Self) {
        let lists = self
            .lost_j
            .iter_mut()
            .zip(other.lost_j)
            .chain(self.shortfall_m3.iter_mut().zip(other.shortfall_m3));
        for (sum, v) in lists {
            *sum += v;
        }
        self.available_j += other.available_j;
        self.array_to_pump_j += other.array_to_pump_j;
        self.array_to_loads_j += other.array_to_loads_j;
        self.array_to_battery_j += other.array_to_battery_j;
        self.exported_j += other.exported_j;
        self.exported_paid_j += other.exported_paid_j;
        self.grid.merge(&other.grid);
        self.battery.merge(&other.battery);
        self.battery_of_array_j += other.battery_of_array_j;
        self.generator.merge(&other.generator);
        self.generator_s += other.generator_s;
        self.generator_low_s += other.generator_low_s;
        self.fuel_m3 += other.fuel_m3;
        self.load_j += other.load_j;
        self.unserved_j += other.unserved_j;
        self.pumped_m3 += other.pumped_m3;
        self.demand_m3 += other.demand_m3;
        self.delivered_m3 += other.delivered_m3;
        self.delivered_in_outage_m3 += other.delivered_in_outage_m3;
        self.demand_in_outage_m3 += other.demand_in_outage_m3;
        self.outage_s += other.outage_s;
        self.pumping_s += other.pumping_s;
        self.pumping_in_outage_s += other.pumping_in_outage_s;
        self.time_s += other.time_s;
    }

    /// Energy lost to a cause.
    #[must_use]
    pub fn lost(&self, cause: LossCause) -> f64 {
        self.lost_j[cause.index()]
    }

    /// Demand not met.
    #[must_use]
    pub fn shortfall_m3(&self) -> f64 {
        self.shortfall_m3.iter().sum()
    }
}

/// Worst residuals of the balances, each as a fraction of the flow.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Residuals {
    /// Energy at array, bus and battery, of the larger of the inflow and 1 W.
    pub energy: f64,
    /// Water at the tank, in any piece or over the year, of what flowed.
    pub water: f64,
    /// Time over the year, of the year.
    pub hours: f64,
}

/// An account of consecutive spans of one month.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct Account {
    book: MonthBook,
    imported_j: [f64; 24],
    exported_j: [f64; 24],
    worst_energy: f64,
    worst_water: f64,
}

impl Account {
    /// Books a piece of an hour of the civil day, of whose demand and shortfall `day` keeps the sums.
    pub(crate) fn book(&mut self, hour: u8, day: &mut (f64, f64), piece: &Piece) {
        let hour = usize::from(hour) % 24;
        self.book.add(piece);
        self.imported_j[hour] += piece.grid.given_w * piece.length_s;
        self.exported_j[hour] += piece.exported_w * piece.length_s;
        day.0 += piece.demand_m3_s * piece.length_s;
        day.1 += piece.shortfall_m3_s() * piece.length_s;
        energy_residuals(piece, &mut self.worst_energy);
        water_residual(piece, &mut self.worst_water);
    }
}

/// A year's account.
#[derive(Debug, Clone, PartialEq)]
pub struct Ledger {
    /// Months, 0 = January.
    pub months: [MonthBook; 12],
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
            months: [MonthBook::default(); 12],
            imported_j: [[0.0; 24]; 12],
            exported_j: [[0.0; 24]; 12],
            days,
            worst_energy: 0.0,
            worst_water: 0.0,
        }
    }

    /// Adds an account of a month, or of a part of it.
    pub(crate) fn add(&mut self, month: u8, account: &Account) {
        let month = usize::from(month) % 12;
        self.months[month].merge(&account.book);
        for hour in 0..24 {
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
        for month in &self.months {
            sum.merge(month);
        }
        sum
    }
}

/// The larger of the worst residual so far and |`missing`| over `scale`, which is above 0; it divides only when it is that.
#[inline]
fn worse(worst: &mut f64, missing: f64, scale: f64) {
    if missing.abs() > *worst * scale {
        *worst = missing.abs() / scale;
    }
}

/// The sum of what is lost, in four that do not wait for each other.
#[inline]
fn sum_of(lost_w: &[f64; LossCause::COUNT]) -> f64 {
    let (fours, rest) = lost_w.as_chunks::<4>();
    let add = |sums: [f64; 4], four: &[f64; 4]| std::array::from_fn(|i| sums[i] + four[i]);
    let [a, b, c, d] = fours.iter().fold([0.0; 4], add);
    (a + b) + (c + d) + rest.iter().sum::<f64>()
}

/// The tank's imbalance, of the larger of what flowed through it and a millionth of its content (rounding of the content
/// itself is no imbalance of the flow).
fn water_residual(p: &Piece, worst: &mut f64) {
    let flowed_m3 = p.pumped_m3_s.max(p.delivered_m3_s) * p.length_s;
    let missing_m3 = (p.pumped_m3_s - p.delivered_m3_s) * p.length_s - p.stored_m3;
    worse(worst, missing_m3, flowed_m3.max(1e-6 * p.tank_m3).max(1e-6));
}

/// The imbalances at array, sources, loads and battery, of the larger of the inflow and 1 W.
fn energy_residuals(p: &Piece, worst: &mut f64) {
    let used_w = p.array_to_pump_w + p.array_to_loads_w + p.array_to_battery_w + p.exported_w;
    let lost_w = if p.available_w > 0.0 { sum_of(&p.lost_w) } else { 0.0 };
    worse(worst, p.available_w - used_w - lost_w, p.available_w.max(1.0));
    let sources = [&p.grid, &p.battery, &p.generator];
    let mut to_loads_w = p.array_to_loads_w;
    for source in sources {
        worse(worst, source.missing_w(), source.given_w.max(1.0));
        to_loads_w += source.to_loads_w;
    }
    worse(worst, p.load_w - to_loads_w - p.unserved_w, p.load_w.max(1.0));
    battery_residual(p, worst);
}

/// The battery's imbalance, of the larger of what flowed through it and a millionth of its content (rounding of the
/// content itself is no imbalance of the flow).
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
