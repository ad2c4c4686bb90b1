//! An arrangement's year with its costs.

use daylift_money::RowCosts;
use daylift_plant::Arrangement;
use daylift_supply::YearResult;

use crate::money::row_costs;
use crate::stages::Stages;

/// The year of an arrangement, with its costs.
#[derive(Debug, Clone)]
pub struct ArrangementYear {
    /// The arrangement.
    pub arrangement: Arrangement,
    /// Its year.
    pub result: YearResult,
    /// Its costs.
    pub costs: RowCosts,
}

impl ArrangementYear {
    /// Adds the costs to a simulated year. `loads_only_bill` is the same for every arrangement.
    pub(crate) fn new(stages: &Stages<'_>, loads_only_bill: f64, arrangement: Arrangement, result: YearResult) -> Self {
        Self {
            arrangement,
            costs: row_costs(stages.plant, loads_only_bill, arrangement, &result.ledger),
            result,
        }
    }
}
