//! Costs of building and keeping the arrangements.

use daylift_units::Id;

use crate::arrangement::{Arrangement, Wiring};
use crate::lost_value::LostValue;
use crate::quantities::{Per, Quantities};

/// Which arrangements a cost line applies to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CostScope {
    /// Every row with this wiring, with or without additions.
    Wiring(Wiring),
    /// Every row with a generator.
    Generator,
    /// Every row with a bigger tank.
    NightTank,
    /// Only this row.
    Row(Arrangement),
}

/// All possible values: wirings, generator, bigger tank, and rows with additions.
const SCOPES: [CostScope; 4 * Wiring::ALL.len() + 2] = scopes();

const fn scopes() -> [CostScope; 4 * Wiring::ALL.len() + 2] {
    let mut all = [CostScope::Generator; 4 * Wiring::ALL.len() + 2];
    let mut at = 0;
    while at < Wiring::ALL.len() {
        all[at] = CostScope::Wiring(Wiring::ALL[at]);
        at += 1;
    }
    // The entry at `at` remains `Generator`.
    all[at + 1] = CostScope::NightTank;
    at += 2;
    let mut row = 0;
    while row < Arrangement::ALL.len() {
        if Arrangement::ALL[row].generator || Arrangement::ALL[row].night_tank {
            all[at] = CostScope::Row(Arrangement::ALL[row]);
            at += 1;
        }
        row += 1;
    }
    all
}

impl Id for CostScope {
    const ALL: &'static [Self] = &SCOPES;

    fn id(self) -> &'static str {
        match self {
            Self::Wiring(wiring) => wiring.id(),
            Self::Generator => "generator",
            Self::NightTank => "night-tank",
            Self::Row(row) => row.id(),
        }
    }
}

impl CostScope {
    fn includes(self, row: Arrangement) -> bool {
        match self {
            Self::Wiring(wiring) => row.wiring == wiring,
            Self::Generator => row.generator,
            Self::NightTank => row.night_tank,
            Self::Row(own) => row.as_written() == own,
        }
    }
}

/// A cost line and the arrangements that it applies to.
#[derive(Debug, Clone, PartialEq)]
pub struct CostLine {
    /// What is paid for.
    pub item: String,
    /// Price of one unit, once or per year.
    pub cost: f64,
    /// What the price is for.
    pub per: Per,
    /// How much of it the farm already owns, in the same unit; it costs nothing.
    pub owned: f64,
    /// Which arrangements it applies to.
    pub applies_to: Vec<CostScope>,
}

impl CostLine {
    /// Whether the cost applies to a row.
    #[must_use]
    pub fn is_cost_of(&self, row: Arrangement) -> bool {
        self.applies_to.iter().any(|scope| scope.includes(row))
    }

    /// How many units are paid for: what the row has, less what the farm owns, and at least 0.
    #[must_use]
    pub fn quantity(&self, has: &Quantities) -> f64 {
        (has.of(self.per) - self.owned).max(0.0)
    }

    /// The price times the quantity.
    #[must_use]
    pub fn amount(&self, has: &Quantities) -> f64 {
        self.cost * self.quantity(has)
    }
}

/// Something that is bought again at fixed intervals.
#[derive(Debug, Clone, PartialEq)]
pub struct Replacement {
    /// Years between purchases.
    pub every_years: u32,
    /// Its cost at today's prices.
    pub line: CostLine,
}

/// Terms of the financial evaluation. Rates are nominal fractions per year.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Terms {
    /// Number of years.
    pub years: u32,
    /// Discount rate.
    pub discount_rate: f64,
    /// Yearly rise of energy prices.
    pub price_escalation: f64,
    /// Yearly rise of the credit for exported energy.
    pub export_credit_escalation: f64,
    /// Yearly rise of upkeep costs.
    pub inflation: f64,
}

/// Capital, upkeep, replacements and terms.
#[derive(Debug, Clone, PartialEq)]
pub struct Costs {
    /// Currency.
    pub currency: String,
    /// Paid once, at the start.
    pub capital: Vec<CostLine>,
    /// Paid every year.
    pub upkeep: Vec<CostLine>,
    /// Paid at fixed intervals of years.
    pub replacements: Vec<Replacement>,
    /// Terms.
    pub terms: Terms,
    /// Value of what is missing.
    pub lost: LostValue,
}

impl Costs {
    /// Every line of capital, upkeep and replacements.
    pub fn lines(&self) -> impl Iterator<Item = &CostLine> {
        let replacements = self.replacements.iter().map(|replacement| &replacement.line);
        self.capital.iter().chain(&self.upkeep).chain(replacements)
    }

    /// The lines of capital that apply to a row.
    pub fn capital_lines(&self, row: Arrangement) -> impl Iterator<Item = &CostLine> {
        self.capital.iter().filter(move |line| line.is_cost_of(row))
    }

    /// Capital of a row that has these quantities.
    #[must_use]
    pub fn capital_of(&self, row: Arrangement, has: &Quantities) -> f64 {
        sum(&self.capital, row, has)
    }

    /// Upkeep of a row in its first year.
    #[must_use]
    pub fn upkeep_of(&self, row: Arrangement, has: &Quantities) -> f64 {
        sum(&self.upkeep, row, has)
    }

    /// Replacements of a row: the years between purchases, and the cost at today's prices.
    #[must_use]
    pub fn replacements_of(&self, row: Arrangement, has: &Quantities) -> Vec<(u32, f64)> {
        let of_row = self.replacements.iter().filter(|r| r.line.is_cost_of(row));
        of_row.map(|r| (r.every_years, r.line.amount(has))).collect()
    }
}

fn sum(lines: &[CostLine], row: Arrangement, has: &Quantities) -> f64 {
    // Starts at 0, because an empty sum of floats is −0.
    lines.iter().filter(|l| l.is_cost_of(row)).fold(0.0, |sum, line| sum + line.amount(has))
}

#[cfg(test)]
mod tests {
    use super::*;

    const HAS: Quantities = Quantities {
        modules: 45.0,
        kwp: 22.95,
        inverter_kw: 20.0,
        drive_kw: 15.0,
        motor_kw: 11.0,
        battery_kwh: 40.0,
        tank_m3: 80.0,
        pipe_m: 430.0,
    };

    #[test]
    fn a_row_has_the_costs_of_its_wiring_and_of_its_additions() {
        let line = |cost: f64, applies_to: &[CostScope]| CostLine {
            item: String::new(),
            cost,
            per: Per::One,
            owned: 0.0,
            applies_to: applies_to.to_vec(),
        };
        let lines = [
            line(1.0, &[CostScope::Wiring(Wiring::DualMode)]),
            line(10.0, &[CostScope::Generator, CostScope::Wiring(Wiring::DualMode)]),
            line(100.0, &[CostScope::NightTank]),
            line(1000.0, &[CostScope::Row(Arrangement::GRID_ONLY.with_generator())]),
        ];
        for (row, cost) in [
            (Arrangement::DUAL_MODE, 11.0),
            (Arrangement::DUAL_MODE.with_generator(), 11.0),
            (Arrangement::GRID_ONLY, 0.0),
            (Arrangement::GRID_ONLY.with_generator(), 1010.0),
            (Arrangement::GRID_ONLY.with_generator().with_night_tank(), 110.0),
        ] {
            assert!((sum(&lines, row, &HAS) - cost).abs() < 1e-12, "{row}");
        }
    }

    /// Worked by hand: price × (quantity − owned), and 0 where the farm owns more than the row has.
    #[test]
    fn a_line_costs_its_price_times_what_the_farm_does_not_own() {
        for (per, cost, owned, amount) in [
            (Per::One, 500.0, 0.0, 500.0),
            (Per::One, 500.0, 1.0, 0.0),
            (Per::Module, 110.0, 0.0, 4950.0),
            (Per::Module, 110.0, 15.0, 3300.0),
            (Per::Kwp, 600.0, 2.95, 12_000.0),
            (Per::InverterKw, 150.0, 0.0, 3000.0),
            (Per::DriveKw, 200.0, 0.0, 3000.0),
            (Per::MotorKw, 90.0, 0.0, 990.0),
            (Per::BatteryKwh, 380.0, 0.0, 15_200.0),
            (Per::TankM3, 55.0, 80.0, 0.0),
            (Per::TankM3, 55.0, 200.0, 0.0),
            (Per::PipeM, 7.0, 400.0, 210.0),
        ] {
            let line = CostLine {
                item: String::new(),
                cost,
                per,
                owned,
                applies_to: Vec::new(),
            };
            assert!((line.amount(&HAS) - amount).abs() < 1e-9, "{per:?}");
        }
    }

    #[test]
    fn every_scope_is_listed_once() {
        let mut ids: Vec<&str> = CostScope::ALL.iter().map(|scope| scope.id()).collect();
        assert_eq!(ids[Wiring::ALL.len()..][..2], ["generator", "night-tank"]);
        let rows = Arrangement::ALL.iter().map(|row| row.id());
        assert!(rows.chain(["generator", "night-tank"]).all(|id| CostScope::from_id(id).is_some()));
        ids.sort_unstable();
        ids.dedup();
        assert_eq!(ids.len(), CostScope::ALL.len());
    }
}
