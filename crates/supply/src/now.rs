//! A moment of a span, and the decision about the pumps on the bus.

use crate::bus::{Holder, LiveBus};
use crate::cause::ShortfallCause;
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

    /// Whether this route runs a set on a drive.
    pub(crate) fn has_drives(&self) -> bool {
        self.route.sets.iter().any(|feed| !matches!(feed, PumpFeed::Mains | PumpFeed::Stopped(_)))
    }
}
