//! A moment of a span, and the decision about the pumps on the bus.

use crate::bus::{Holder, LiveBus};
use crate::cause::ShortfallCause;
use crate::offers::SetOffers;
use crate::route::{PumpFeed, Route};
use crate::surroundings::Surroundings;
use crate::tank::TankState;
use crate::timeline::Span;

/// The pumps that may run on the bus, in a piece.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum OnMains {
    Run,
    Stop(ShortfallCause),
    /// Run as far as the sun offers enough for them; the others stop.
    OnSurplus,
    /// Run for the fraction of the time that, together with the drives, holds the tank at its low mark.
    HoldLowMark,
}

impl OnMains {
    /// Whether all of them run for some of the time.
    pub(crate) fn runs(self) -> bool {
        matches!(self, Self::Run | Self::HoldLowMark)
    }
}

/// Two ways to compute the same flow differ by less than this fraction.
const ROUNDING: f64 = 1e-9;

/// A moment of a span.
pub(crate) struct Now<'a> {
    pub(crate) span: &'a Span,
    pub(crate) route: &'a Route,
    pub(crate) around: &'a Surroundings<'a>,
    pub(crate) bus: &'a LiveBus<'a>,
    /// The step that contains it.
    pub(crate) step: usize,
}

impl Now<'_> {
    /// Whether the bus is open to the pumps: they run on it above the low mark as well as below it.
    pub(crate) fn is_open(&self, tank: &TankState) -> bool {
        let only_when_low = matches!(self.bus.holder, Holder::Generator(_))
            && self.around.generator.is_some_and(|g| g.pumps_only_when_low);
        let filled = self.around.levels.fill.is_some() && tank.fill_stopped;
        !only_when_low && !filled && self.route.mains_hours.allows(self.span.hour)
    }

    /// What pumps on the bus do at or above the low mark while the bus is not open to them.
    pub(crate) fn when_not_open(&self) -> OnMains {
        match self.bus.holder {
            Holder::Utility | Holder::Island if self.around.surplus.is_some() => OnMains::OnSurplus,
            _ => OnMains::Stop(ShortfallCause::OutsideHours),
        }
    }

    /// Whether a flow from the sun alone \[m³/s\] is enough to run a set without the generator.
    pub(crate) fn is_enough(&self, set: &SetOffers, flow_m3_s: f64) -> bool {
        let share = self.around.generator.map_or(0.0, |generator| generator.sun_share);
        let least_m3_s = share * set.wanted_m3_s[self.span.month] * (1.0 - ROUNDING);
        flow_m3_s > 0.0 && flow_m3_s >= least_m3_s
    }

    /// Whether the sun alone gives a set enough flow in a step.
    pub(crate) fn sun_suffices(&self, set: &SetOffers, step: usize) -> bool {
        set.drive.as_ref().is_some_and(|year| self.is_enough(set, year.flow_m3_s.at(step)))
    }

    /// Whether a set that can run on the sun or directly on the bus needs the bus in a step, and can use it.
    pub(crate) fn bus_replaces_sun(&self, set: &SetOffers, step: usize) -> bool {
        set.mains[self.span.month].flow_m3_s > 0.0 && !self.sun_suffices(set, step)
    }

    /// Whether this route runs a set on a drive.
    pub(crate) fn has_drives(&self) -> bool {
        self.route.sets.iter().any(|feed| !matches!(feed, PumpFeed::Mains | PumpFeed::Stopped(_)))
    }
}
