//! What energy costs a row in one year: the utility's bill and fuel.

use crate::bill::Bill;
use crate::costs::Terms;

/// Bill and fuel of one year.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct EnergyCost {
    /// The utility's bill.
    pub bill: Bill,
    /// Fuel for the generator.
    pub fuel: f64,
}

/// The same in a later year, at that year's prices.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Aged {
    pub(crate) charges: f64,
    pub(crate) export_credit: f64,
    pub(crate) fuel: f64,
}

impl EnergyCost {
    /// The year that follows year 1 by `age_years`, at that year's prices.
    ///
    /// `unaged` is what the farm pays in year 1 without the array whose age counts: the reference's costs for a row with an
    /// array, the row's own where nothing ages. Each of three savings, on charges, by the credit and on fuel, shrinks to
    /// (1 − d)^age where it is positive; a negative one stays as it is.
    pub(crate) fn aged(&self, unaged: &Self, age_years: f64, terms: &Terms) -> Aged {
        let grown = |rate: f64| (1.0 + rate).powf(age_years);
        let lost = 1.0 - (1.0 - terms.yearly_degradation).powf(age_years);
        // What the older array no longer saves of a saving in year 1.
        let missed = |saving: f64| saving.max(0.0) * lost;
        let (charges, credit) = (self.bill.charges(), self.bill.export_credit);
        Aged {
            charges: (charges + missed(unaged.bill.charges() - charges)) * grown(terms.price_escalation),
            export_credit: (credit - missed(credit - unaged.bill.export_credit))
                * grown(terms.export_credit_escalation),
            fuel: (self.fuel + missed(unaged.fuel - self.fuel)) * grown(terms.fuel_escalation),
        }
    }
}
