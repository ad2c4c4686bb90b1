//! What a row costs, year by year.

use crate::energy::EnergyCost;

#[cfg(test)]
mod tests;

/// Terms of a calculation over several years; rates are fractions per year.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Terms {
    /// Number of years N.
    pub years: u32,
    /// Nominal discount rate.
    pub discount_rate: f64,
    /// Yearly rise of electricity prices and charges e.
    pub price_escalation: f64,
    /// Yearly rise of the credit for exported energy c.
    pub export_credit_escalation: f64,
    /// Yearly rise of the cost of upkeep i.
    pub inflation: f64,
    /// Yearly rise of the price of fuel f.
    pub fuel_escalation: f64,
    /// Yearly loss of an array's output d.
    pub yearly_degradation: f64,
}

/// Costs and yield of one row: one arrangement on one farm.
#[derive(Debug, Clone, PartialEq)]
pub struct RowCosts {
    /// Capital, paid at time 0.
    pub capital: f64,
    /// Upkeep in the first year.
    pub upkeep_per_year: f64,
    /// Bill and fuel of the first year.
    pub energy: EnergyCost,
    /// Value of the water and load that are missing in the first year; 0 where they have no value.
    pub missing_per_year: f64,
    /// Parts that are replaced: the interval in years, and the cost at today's prices.
    pub replacements: Vec<(u32, f64)>,
    /// Water delivered in a year \[m³\], the same in every year.
    pub delivered_m3: f64,
    /// Whether the row has an array, whose age makes its savings shrink.
    pub has_array: bool,
    /// First year's bill of the farm's loads alone, on the grid.
    pub loads_only_bill: f64,
}

/// Costs of a row in one year.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct YearCost {
    /// The utility's charges.
    pub charges: f64,
    /// Credit for exported energy: a positive number, which is subtracted.
    pub export_credit: f64,
    /// Upkeep.
    pub upkeep: f64,
    /// Fuel.
    pub fuel: f64,
    /// Replacements.
    pub replacements: f64,
    /// Value of the water and load that are missing, which nobody pays.
    pub missing: f64,
    /// Bill of the farm's loads alone.
    pub loads_only_bill: f64,
}

impl YearCost {
    /// Everything paid in the year, except replacements.
    #[must_use]
    pub fn running(&self) -> f64 {
        self.charges - self.export_credit + self.upkeep + self.fuel
    }

    /// Everything paid in the year.
    #[must_use]
    pub fn total(&self) -> f64 {
        self.running() + self.replacements
    }

    /// Everything paid in the year, and the value of what is missing: what one way is compared with another by.
    #[must_use]
    pub fn with_missing(&self) -> f64 {
        self.total() + self.missing
    }
}

impl RowCosts {
    /// Replacements due at the end of year n: none at the end of the last year, when the plant is given up.
    fn due(&self, year: u32, years: u32) -> f64 {
        let due = self
            .replacements
            .iter()
            .filter(|(every, _)| *every > 0 && year.is_multiple_of(*every) && year < years);
        due.fold(0.0, |sum, (_, cost)| sum + cost)
    }

    /// Costs of the years 1 to N; a = n − 1 is the age in year n.
    ///
    /// - Charges, export credit and fuel grow by (1 + e)^a, (1 + c)^a and (1 + f)^a.
    /// - A row with an array makes three savings against `reference` in year 1: on charges, by the credit, on fuel. Before
    ///   prices grow, each of them shrinks to (1 − d)^a where it is positive, and stays as it is where it is negative. The
    ///   rule is the same with a grid or without one. The whole of a positive saving shrinks, although a part of it may
    ///   not come from the array: this is on the cautious side.
    /// - Upkeep, the replacements due and the value of what is missing grow by (1 + i)^a, the bill of the loads alone by (1 + e)^a.
    ///
    /// Against itself a row saves nothing, so the reference does not age. The water delivered stays as in year 1: an older
    /// array is taken to lose savings, not water.
    pub fn years(&self, reference: &Self, terms: &Terms) -> impl Iterator<Item = YearCost> {
        let (row, terms) = (self.clone(), *terms);
        let unaged = if row.has_array { reference.energy } else { row.energy };
        (1..=terms.years).map(move |year| {
            let age_years = f64::from(year - 1);
            let energy = row.energy.aged(&unaged, age_years, &terms);
            let inflation = (1.0 + terms.inflation).powf(age_years);
            YearCost {
                charges: energy.charges,
                export_credit: energy.export_credit,
                upkeep: row.upkeep_per_year * inflation,
                fuel: energy.fuel,
                replacements: row.due(year, terms.years) * inflation,
                missing: row.missing_per_year * inflation,
                loads_only_bill: row.loads_only_bill * (1.0 + terms.price_escalation).powf(age_years),
            }
        })
    }
}
