//! What a row costs, year by year.

/// Terms of a reckoning over several years; rates are fractions per year.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Terms {
    /// Years reckoned, N.
    pub years: u32,
    /// Nominal discount rate.
    pub discount_rate: f64,
    /// Yearly rise of electricity prices e.
    pub price_escalation: f64,
    /// Yearly rise of the cost of upkeep i.
    pub inflation: f64,
    /// Yearly rise of the price of fuel.
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
    /// Electricity bill of the first year.
    pub first_year_bill: f64,
    /// Fuel of the first year.
    pub first_year_fuel: f64,
    /// What is bought anew: years from one to the next, and its cost at today's prices.
    pub replacements: Vec<(u32, f64)>,
    /// Water delivered in a year \[m³\], the same in every year.
    pub delivered_m3: f64,
    /// First year's bill of the same farm with its pump on the grid and no array; `None` for a row without an array.
    pub bill_without_array: Option<f64>,
    /// First year's bill of the farm's loads alone, on the grid.
    pub loads_only_bill: f64,
}

/// Costs of a row in one year.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct YearCost {
    /// Electricity bill.
    pub bill: f64,
    /// Upkeep.
    pub upkeep: f64,
    /// Fuel.
    pub fuel: f64,
    /// Replacements.
    pub replacements: f64,
    /// Bill of the farm's loads alone.
    pub loads_only_bill: f64,
}

impl YearCost {
    /// All that is paid but for replacements.
    #[must_use]
    pub fn running(&self) -> f64 {
        self.bill + self.upkeep + self.fuel
    }

    /// All that is paid.
    #[must_use]
    pub fn total(&self) -> f64 {
        self.running() + self.replacements
    }
}

impl RowCosts {
    /// Replacements due at the end of year n: none at the end of the last, when the plant is given up.
    fn due(&self, year: u32, years: u32) -> f64 {
        let due = self
            .replacements
            .iter()
            .filter(|(every, _)| *every > 0 && year.is_multiple_of(*every) && year < years);
        due.fold(0.0, |sum, (_, cost)| sum + cost)
    }

    /// Costs of the years 1 to N.
    ///
    /// - Bill of a row without an array in year n: bill·(1 + e)^(n−1).
    /// - With an array: (bill without it − saving·(1 − d)^(n−1))·(1 + e)^(n−1), the saving being the bill without the
    ///   array less the row's in year 1. Whatever of the saving does not come from the array shrinks with it: a
    ///   simplification, on the side of caution where the array saves at all.
    /// - Upkeep: first year's·(1 + i)^(n−1), replacements likewise in their years; fuel: first year's·(1 + its own
    ///   rise)^(n−1); bill of the loads alone·(1 + e)^(n−1).
    ///
    /// The water delivered stays as in year 1: an older array is taken to lose export and bill savings, not water.
    pub fn years(&self, terms: &Terms) -> impl Iterator<Item = YearCost> {
        let (row, terms) = (self.clone(), *terms);
        (1..=terms.years).map(move |year| {
            let ages = f64::from(year - 1);
            let price = (1.0 + terms.price_escalation).powf(ages);
            let first_prices = row.bill_without_array.map_or(row.first_year_bill, |without| {
                without - (without - row.first_year_bill) * (1.0 - terms.yearly_degradation).powf(ages)
            });
            let inflation = (1.0 + terms.inflation).powf(ages);
            YearCost {
                bill: first_prices * price,
                upkeep: row.upkeep_per_year * inflation,
                fuel: row.first_year_fuel * (1.0 + terms.fuel_escalation).powf(ages),
                replacements: row.due(year, terms.years) * inflation,
                loads_only_bill: row.loads_only_bill * price,
            }
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const TERMS: Terms = Terms {
        years: 3,
        discount_rate: 0.08,
        price_escalation: 0.10,
        inflation: 0.05,
        fuel_escalation: 0.0,
        yearly_degradation: 0.02,
    };

    fn row(bill: f64, bill_without_array: Option<f64>) -> RowCosts {
        RowCosts {
            capital: 0.0,
            upkeep_per_year: 100.0,
            first_year_bill: bill,
            first_year_fuel: 0.0,
            replacements: Vec::new(),
            delivered_m3: 1.0,
            bill_without_array,
            loads_only_bill: 500.0,
        }
    }

    #[test]
    fn the_saving_shrinks_before_prices_rise() {
        // Worked by hand: year 3: (1000 − 600·0.98²)·1.1² = (1000 − 576.24)·1.21 = 512.7496; upkeep 100·1.05² = 110.25.
        let years: Vec<YearCost> = row(400.0, Some(1000.0)).years(&TERMS).collect();
        assert_eq!(years.len(), 3);
        assert!((years[0].bill - 400.0).abs() < 1e-9);
        assert!((years[2].bill - 512.7496).abs() < 1e-9);
        assert!((years[2].upkeep - 110.25).abs() < 1e-9);
        assert!((years[2].loads_only_bill - 605.0).abs() < 1e-9);
    }

    #[test]
    fn without_an_array_only_prices_rise() {
        let years: Vec<YearCost> = row(400.0, None).years(&TERMS).collect();
        assert!((years[2].bill - 484.0).abs() < 1e-9);
    }

    #[test]
    fn fuel_rises_by_itself_and_nothing_is_replaced_at_the_end() {
        // Worked by hand: 200·1.04² = 216.32 in year 3; every two years of three: in year 2 alone, 50·1.05 = 52.5.
        let terms = Terms {
            fuel_escalation: 0.04,
            ..TERMS
        };
        let row = RowCosts {
            first_year_fuel: 200.0,
            replacements: vec![(2, 50.0), (3, 1000.0)],
            ..row(400.0, None)
        };
        let years: Vec<YearCost> = row.years(&terms).collect();
        assert!((years[2].fuel - 216.32).abs() < 1e-9);
        let replaced: Vec<f64> = years.iter().map(|y| y.replacements).collect();
        assert!(replaced[0] == 0.0 && (replaced[1] - 52.5).abs() < 1e-9 && replaced[2] == 0.0);
        assert!((years[1].total() - years[1].running() - 52.5).abs() < 1e-9);
    }
}
