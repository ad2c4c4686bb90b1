//! Which prices a plant has, for all that show money.

use daylift_plant::Plant;
use schemars::JsonSchema;
use serde::Serialize;

/// Which prices a plant has.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Prices {
    /// Whether capital, upkeep and the terms of the money calculation are given.
    pub costs: bool,
    /// Whether the bill is known: there is a tariff, or there are costs and no utility to pay.
    pub bill: bool,
}

impl Prices {
    /// Those of a plant.
    #[must_use]
    pub fn of(plant: &Plant) -> Self {
        let costs = plant.costs.is_some();
        Self {
            costs,
            bill: plant.grid.tariff.is_some() || (costs && !plant.grid.connected),
        }
    }

    /// Whether arrangements can be compared by money: net present value, internal rate of return, payback.
    #[must_use]
    pub const fn are_complete(self) -> bool {
        self.costs && self.bill
    }

    /// Whether there are none at all.
    #[must_use]
    pub const fn are_none(self) -> bool {
        !self.costs && !self.bill
    }
}
