//! Rows of many designs of one farm, all compared with the same reference, which is calculated only once.

use daylift_plant::Arrangement;
use daylift_supply::NoRecorder;

use crate::answer::Row;
use crate::money::loads_only_bill;
use crate::row::row;
use crate::stages::Stages;
use crate::year::ArrangementYear;

/// The reference with which the money of rows is compared.
#[derive(Debug, Clone)]
pub struct Against {
    loads_only_bill: f64,
    reference: ArrangementYear,
}

impl Against {
    /// Runs the year of a plant's reference, and the bill of the loads alone, which does not depend on the arrangement.
    #[must_use]
    pub fn new(stages: &Stages<'_>) -> Self {
        let today = stages.plant.reference;
        let year = stages.year(today, &mut NoRecorder);
        let loads_only_bill = loads_only_bill(stages);
        Self {
            reference: ArrangementYear::new(stages, loads_only_bill, today, year),
            loads_only_bill,
        }
    }

    /// The row of an arrangement, with its money. The plant may be another design of the same farm.
    #[must_use]
    pub fn row(&self, stages: &Stages<'_>, arrangement: Arrangement) -> Row {
        let year = stages.year(arrangement, &mut NoRecorder);
        let year = ArrangementYear::new(stages, self.loads_only_bill, arrangement, year);
        row(stages, &year, &self.reference)
    }
}
