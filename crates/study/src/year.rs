//! An arrangement's year with its costs.

use daylift_money::RowCosts;
use daylift_plant::Arrangement;
use daylift_supply::YearResult;

use crate::money::{Baseline, row_costs};
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
    /// A year that was run, with its costs.
    pub(crate) fn new(stages: &Stages<'_>, baseline: &Baseline, arrangement: Arrangement, result: YearResult) -> Self {
        Self {
            arrangement,
            costs: row_costs(stages.plant, baseline, arrangement, &result.ledger),
            result,
        }
    }
}
