//! What the arrangements cost to build and to keep.

use crate::arrangement::Arrangement;

/// One line of cost and the arrangements that bear it.
#[derive(Debug, Clone, PartialEq)]
pub struct CostLine {
    /// What is paid for.
    pub item: String,
    /// How much, once or a year.
    pub cost: f64,
    /// Arrangements that need it.
    pub arrangements: Vec<Arrangement>,
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

/// Capital, upkeep and terms.
#[derive(Debug, Clone, PartialEq)]
pub struct Costs {
    /// Paid once, at the start.
    pub capital: Vec<CostLine>,
    /// Paid every year.
    pub upkeep: Vec<CostLine>,
    /// Terms.
    pub terms: Terms,
}

impl Costs {
    /// Capital of an arrangement.
    #[must_use]
    pub fn capital_of(&self, arrangement: Arrangement) -> f64 {
        sum(&self.capital, arrangement)
    }

    /// Upkeep of an arrangement in its first year.
    #[must_use]
    pub fn upkeep_of(&self, arrangement: Arrangement) -> f64 {
        sum(&self.upkeep, arrangement)
    }
}

fn sum(lines: &[CostLine], arrangement: Arrangement) -> f64 {
    let borne = lines.iter().filter(|l| l.arrangements.contains(&arrangement));
    // Begun at 0: an empty sum of floats is −0.
    borne.fold(0.0, |sum, line| sum + line.cost)
}
