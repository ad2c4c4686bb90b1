//! What the arrangements cost to build and to keep.

use crate::arrangement::{Arrangement, Wiring};

/// Who bears a line of cost.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bearer {
    /// Every row with this wiring, whatever stands beside it.
    Wiring(Wiring),
    /// Every row with a generating set.
    Generator,
    /// Every row with a bigger tank.
    NightTank,
    /// One row alone.
    Row(Arrangement),
}

impl Bearer {
    /// Every bearer that a file may name: wirings, what stands beside them, rows with something beside them.
    #[must_use]
    pub fn all() -> Vec<(&'static str, Self)> {
        let wirings = Wiring::choices().into_iter().map(|(id, wiring)| (id, Self::Wiring(wiring)));
        let rows = Arrangement::choices().into_iter().filter(|(_, a)| a.generator || a.night_tank);
        wirings
            .chain([("generator", Self::Generator), ("night-tank", Self::NightTank)])
            .chain(rows.map(|(id, row)| (id, Self::Row(row))))
            .collect()
    }

    fn bears(self, row: Arrangement) -> bool {
        match self {
            Self::Wiring(wiring) => row.wiring == wiring,
            Self::Generator => row.generator,
            Self::NightTank => row.night_tank,
            Self::Row(own) => row == own,
        }
    }
}

/// One line of cost and the rows that bear it.
#[derive(Debug, Clone, PartialEq)]
pub struct CostLine {
    /// What is paid for.
    pub item: String,
    /// How much, once or a year.
    pub cost: f64,
    /// Who bears it.
    pub bearers: Vec<Bearer>,
}

impl CostLine {
    /// Whether a row bears the cost.
    #[must_use]
    pub fn is_borne_by(&self, row: Arrangement) -> bool {
        self.bearers.iter().any(|b| b.bears(row))
    }
}

/// Something that is bought anew every so many years.
#[derive(Debug, Clone, PartialEq)]
pub struct Replacement {
    /// Years from one to the next.
    pub every_years: u32,
    /// What it costs at today's prices.
    pub line: CostLine,
}

/// Terms by which money is judged; rates are fractions a year, nominal.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Terms {
    /// Years.
    pub years: u32,
    /// Discount rate.
    pub discount_rate: f64,
    /// Rise of energy prices.
    pub price_escalation: f64,
    /// Rise of upkeep.
    pub inflation: f64,
}

/// Capital, upkeep, replacements and terms.
#[derive(Debug, Clone, PartialEq)]
pub struct Costs {
    /// Paid once, at the start.
    pub capital: Vec<CostLine>,
    /// Paid every year.
    pub upkeep: Vec<CostLine>,
    /// Paid every so many years.
    pub replacements: Vec<Replacement>,
    /// Terms.
    pub terms: Terms,
}

impl Costs {
    /// Capital of a row.
    #[must_use]
    pub fn capital_of(&self, row: Arrangement) -> f64 {
        sum(&self.capital, row)
    }

    /// Upkeep of a row in its first year.
    #[must_use]
    pub fn upkeep_of(&self, row: Arrangement) -> f64 {
        sum(&self.upkeep, row)
    }

    /// Replacements of a row: years from one to the next, and cost at today's prices.
    #[must_use]
    pub fn replacements_of(&self, row: Arrangement) -> Vec<(u32, f64)> {
        let borne = self.replacements.iter().filter(|r| r.line.is_borne_by(row));
        borne.map(|r| (r.every_years, r.line.cost)).collect()
    }
}

fn sum(lines: &[CostLine], row: Arrangement) -> f64 {
    // Begun at 0: an empty sum of floats is −0.
    lines.iter().filter(|l| l.is_borne_by(row)).fold(0.0, |sum, line| sum + line.cost)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_row_bears_the_lines_of_its_wiring_and_of_what_stands_beside_it() {
        let line = |cost: f64, bearers: &[Bearer]| CostLine {
            item: String::new(),
            cost,
            bearers: bearers.to_vec(),
        };
        let lines = [
            line(1.0, &[Bearer::Wiring(Wiring::DualMode)]),
            line(10.0, &[Bearer::Generator, Bearer::Wiring(Wiring::DualMode)]),
            line(100.0, &[Bearer::NightTank]),
            line(1000.0, &[Bearer::Row(Arrangement::GRID_ONLY.with_generator())]),
        ];
        for (row, borne) in [
            (Arrangement::DUAL_MODE, 11.0),
            (Arrangement::DUAL_MODE.with_generator(), 11.0),
            (Arrangement::GRID_ONLY, 0.0),
            (Arrangement::GRID_ONLY.with_generator(), 1010.0),
            (Arrangement::GRID_ONLY.with_generator().with_night_tank(), 110.0),
        ] {
            assert!((sum(&lines, row) - borne).abs() < 1e-12, "{row}");
        }
    }
}
