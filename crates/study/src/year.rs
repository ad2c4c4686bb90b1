//! An arrangement's year with its costs.

use daylift_money::RowCosts;
use daylift_plant::Arrangement;
use daylift_supply::{Recorder, YearResult};

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

/// The year and the costs of an arrangement.
pub(crate) fn arrangement_year<R: Recorder>(
    stages: &Stages<'_>,
    baseline: &Baseline,
    arrangement: Arrangement,
    recorder: &mut R,
) -> ArrangementYear {
    let result = stages.year(arrangement, recorder);
    let costs = row_costs(stages.plant, baseline, arrangement, &result.ledger);
    ArrangementYear {
        arrangement,
        result,
        costs,
    }
}
