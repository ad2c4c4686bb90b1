//! Surplus: pumps on the bus that run while it is not open to them, because the inverters offer enough.

use crate::now::{Now, OnMains};
use crate::route::PumpFeed;
use crate::stream::Steps;
use crate::sun_on_bus::{offered_bounds, offered_w};

/// What the inverters offer to the pumps.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Spare {
    offered_w: f64,
    /// Share of the pumps' power that they must offer.
    share: f64,
}

impl Spare {
    /// Whether it is enough for pumps that take `pump_w` from the bus.
    pub(crate) fn carries(&self, pump_w: f64) -> bool {
        self.share * pump_w <= self.offered_w
    }
}

impl Now<'_> {
    /// What the inverters offer to the pumps in a step; `None` where the pumps on the bus do not run on surplus.
    pub(crate) fn spare(&self, on_mains: OnMains, step: usize) -> Option<Spare> {
        if on_mains != OnMains::OnSurplus {
            return None;
        }
        self.spare_of(offered_w(self.route, self.around.offers, step))
    }

    /// The same for a power that the inverters offer.
    fn spare_of(&self, offered_w: f64) -> Option<Spare> {
        let loads_w = if self.around.sun_to_pump_first {
            0.0
        } else {
            self.bus.load_w
        };
        self.around.surplus.map(|share| Spare {
            offered_w: offered_w - loads_w,
            share,
        })
    }

    /// Whether the same sets run on surplus in all of these steps, on a bus without a limit: whether least and greatest
    /// offer are enough for the same sets.
    pub(crate) fn surplus_is_alike(&self, steps: &Steps) -> bool {
        let bounds = offered_bounds(self.route, self.around.offers, steps);
        let Some([least, greatest]) =
            self.spare_of(bounds.least).zip(self.spare_of(bounds.greatest)).map(<[_; 2]>::from)
        else {
            return true;
        };
        let mut taken_w = 0.0;
        let sets = self.route.sets.iter().zip(&self.around.offers.sets);
        for (_, set) in sets.filter(|(feed, _)| **feed == PumpFeed::Mains) {
            let with_w = taken_w + set.mains[self.span.month].bus_w();
            if least.carries(with_w) != greatest.carries(with_w) {
                return false;
            }
            if least.carries(with_w) {
                taken_w = with_w;
            }
        }
        true
    }
}
