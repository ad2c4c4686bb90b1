//! A moment of a span, and the decision about the pumps on the bus.

use crate::bus::{Holder, LiveBus};
use crate::cause::ShortfallCause;
use crate::route::{PumpFeed, Route};
use crate::surroundings::Surroundings;
use crate::timeline::Span;

/// The pumps that may run on the bus, in a piece.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum OnMains {
    Run,
    Stop(ShortfallCause),
    /// Run for the fraction of the time that, together with the drives, holds the tank at its low mark.
    HoldLowMark,
}

impl OnMains {
    /// Whether they run at all.
    pub(crate) fn runs(self) -> bool {
        !matches!(self, Self::Stop(_))
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
    /// Whether the hour allows pumps on the bus above the low mark as well as below it.
    pub(crate) fn runs_at_any_level(&self) -> bool {
        let only_when_low = matches!(self.bus.holder, Holder::Generator(_))
            && self.around.generator.is_some_and(|g| g.pumps_only_when_low);
        !only_when_low && self.route.mains_hours.allows(self.span.hour)
    }

    /// Whether this route runs a set on a drive.
    pub(crate) fn has_drives(&self) -> bool {
        self.route.sets.iter().any(|feed| !matches!(feed, PumpFeed::Mains | PumpFeed::Stopped(_)))
    }
}
