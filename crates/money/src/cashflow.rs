//! Yearly flows of a row against the reference.

use crate::costs::{RowCosts, Terms};
use crate::measures::{discounted_payback_years, npv, simple_payback_years};
use crate::rate_of_return::irr;

#[cfg(test)]
mod tests;

/// What a row saves or costs more than today's way, year by year.
#[derive(Debug, Clone, PartialEq)]
pub struct Cashflow {
    flows: Vec<f64>,
    first_saving: f64,
    discount_rate: f64,
}

impl Cashflow {
    /// Flows of the years 0 to N. Year 0: −(capital − reference's capital). Year n: everything the reference pays and lacks
    /// less everything the row pays and lacks, as [`RowCosts::years`] has it. What is lacking counts at its value.
    #[must_use]
    pub fn against(reference: &RowCosts, row: &RowCosts, terms: &Terms) -> Self {
        let pairs: Vec<_> = reference.years(reference, terms).zip(row.years(reference, terms)).collect();
        let savings = pairs.iter().map(|(theirs, ours)| theirs.with_missing() - ours.with_missing());
        Self {
            flows: std::iter::once(reference.capital - row.capital).chain(savings).collect(),
            first_saving: pairs.first().map_or(0.0, |(theirs, ours)| {
                theirs.running() + theirs.missing - ours.running() - ours.missing
            }),
            discount_rate: terms.discount_rate,
        }
    }

    /// Flows, the first at time 0, one per year after it.
    #[must_use]
    pub fn flows(&self) -> &[f64] {
        &self.flows
    }

    /// Running sum of the flows, undiscounted, at the start and after each year.
    #[must_use]
    pub fn sums(&self) -> Vec<f64> {
        let add = |sum: &mut f64, flow: &f64| {
            *sum += flow;
            Some(*sum)
        };
        self.flows.iter().scan(0.0, add).collect()
    }

    /// The year from whose end on the running sum stays at zero or above. 0 when it is never below zero; `None` when it is
    /// below zero at the end of the last year.
    #[must_use]
    pub fn ahead_from_year(&self) -> Option<usize> {
        let sums = self.sums();
        let behind = sums.iter().rposition(|sum| *sum < 0.0).map_or(0, |year| year + 1);
        (behind < sums.len()).then_some(behind)
    }

    /// Saving of the first year, without replacements.
    #[must_use]
    pub fn first_saving(&self) -> f64 {
        self.first_saving
    }

    /// Net present value at the nominal discount rate.
    #[must_use]
    pub fn npv(&self) -> f64 {
        npv(self.discount_rate, &self.flows)
    }

    /// Internal rate of return, see [`irr`].
    #[must_use]
    pub fn irr(&self) -> Option<f64> {
        irr(&self.flows)
    }

    /// Simple payback \[years\]: capital beyond the reference over the first year's saving, without replacements.
    #[must_use]
    pub fn simple_payback_years(&self) -> Option<f64> {
        simple_payback_years(-self.flows[0], self.first_saving)
    }

    /// Discounted payback \[years\].
    #[must_use]
    pub fn discounted_payback_years(&self) -> Option<f64> {
        discounted_payback_years(self.discount_rate, &self.flows)
    }
}
