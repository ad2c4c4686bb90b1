//! The array's power on the bus: how much the inverters bring, and which uses it covers.

use std::sync::Arc;

use daylift_array::Inverter;

use crate::cause::LossCause;
use crate::flow::Flow;
use crate::limits::Ladder;
use crate::offers::{BusYear, Draw, InverterOffers, Offers};
use crate::piece::Piece;
use crate::route::{ArrayFeed, Route};
use crate::stream::{Bounds, Steps};
use crate::uses::Uses;

/// What may happen to the power that pumps, loads and battery do not take \[W\].
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Surplus {
    /// Export that the line allows before its voltage trips the inverters.
    pub(crate) line_w: f64,
    /// Export that agreement and line allow.
    pub(crate) export_w: f64,
    /// The cause of the rest, which is lost.
    pub(crate) cause: LossCause,
}

/// A bus that the sun may feed.
pub(crate) struct Sunlit<'a> {
    pub(crate) route: &'a Route,
    pub(crate) offers: &'a Offers,
    /// Power that pumps and loads want and that the sun may cover.
    pub(crate) wanted: Uses,
    /// What the battery may take \[W\].
    pub(crate) charge_w: f64,
    pub(crate) surplus: Surplus,
    /// Whether pumps come before loads.
    pub(crate) pump_first: bool,
}

/// The inverters that feed the bus in a route.
fn feeding<'o>(route: &'o Route, offers: &'o Offers) -> impl Iterator<Item = &'o InverterOffers> {
    let all = offers.inverters.iter().map(Arc::as_ref);
    all.filter(|i| route.groups.get(i.group) == Some(&ArrayFeed::Bus))
}

/// What they offer together in a step \[W\].
pub(crate) fn offered_w(route: &Route, offers: &Offers, step: usize) -> f64 {
    feeding(route, offers).map(|i| i.bus.bus_w.at(step)).sum()
}

/// Bounds of what they offer together in some steps \[W\].
pub(crate) fn offered_bounds(route: &Route, offers: &Offers, steps: &Steps) -> Bounds {
    let all = feeding(route, offers).map(|i| i.bus.bus_w.bounds(steps));
    all.fold(Bounds::always(0.0), Bounds::plus)
}

impl Sunlit<'_> {
    /// Brings array power to the bus and books what does not arrive. Returns means over the steps: the power that arrives
    /// \[W\], and the uses that it covers.
    pub(crate) fn bring(&self, piece: &mut Piece, steps: &Steps) -> (f64, Uses) {
        let bounds = offered_bounds(self.route, self.offers, steps);
        if bounds.greatest <= self.taken_w() + self.surplus.export_w.min(self.surplus.line_w) {
            self.bring_all(piece, steps, bounds)
        } else if steps.is_one() {
            self.bring_in_step(piece, steps.first, 1.0)
        } else {
            let mut mean = (0.0, Uses::default());
            for (step, share) in steps.with_shares() {
                let (sun_w, covered) = self.bring_in_step(piece, step, share);
                mean.0 += share * sun_w;
                mean.1.add(covered, share);
            }
            mean
        }
    }

    /// For steps in which everything offered arrives.
    fn bring_all(&self, piece: &mut Piece, steps: &Steps, bounds: Bounds) -> (f64, Uses) {
        let mut sun_w = 0.0;
        for i in feeding(self.route, self.offers) {
            sun_w += i.bus.bus_w.mean(steps);
            piece.lose_each(&i.bus.cuts_w, steps);
            piece.lose(LossCause::InverterConversion, i.bus.conversion_w.mean(steps));
            piece.lose(LossCause::Cables, i.bus.cables_w.mean(steps));
        }
        // Covered power against sun power is a line with two bends: where the first use is covered, and where both are. If
        // the sun crosses no bend in these steps, the means can be used.
        let first_w = if self.pump_first {
            self.wanted.pump_w
        } else {
            self.wanted.loads_w
        };
        let bends = [first_w, self.wanted.total_w()];
        if bends.iter().all(|&w| bounds.greatest <= w || bounds.least >= w) {
            return (sun_w, self.wanted.covered_by(sun_w, self.pump_first));
        }
        let mut covered = Uses::default();
        for (step, share) in steps.with_shares() {
            let step_w = offered_w(self.route, self.offers, step);
            covered.add(self.wanted.covered_by(step_w, self.pump_first), share);
        }
        (sun_w, covered)
    }

    /// One step, booked for a share of the piece. What arrives is at most what is taken plus what may be exported. Inverters
    /// that are held back give in proportion to their offers.
    fn bring_in_step(&self, piece: &mut Piece, step: usize, share: f64) -> (f64, Uses) {
        let Surplus {
            line_w,
            export_w,
            cause,
        } = self.surplus;
        let offered_w = offered_w(self.route, self.offers, step);
        let part = |most_w: f64| if offered_w > most_w { most_w / offered_w } else { 1.0 };
        let (line_part, brought_part) = (part(self.taken_w() + line_w), part(self.taken_w() + export_w));
        for i in feeding(self.route, self.offers) {
            let brought = bring(&i.bus, &i.inverter, step, brought_part);
            let array_w = i.bus.array_w(step);
            if line_part < 1.0 {
                // The line's cause is first in the list, so it also gets what window, rating and agreement would have cut.
                let found = || i.bus.cuts_w.iter().map(|(cause, stream)| (cause, stream.at(step)));
                let mut ladder = Ladder::new(array_w + found().map(|(_, w)| w).sum::<f64>());
                let allowed_w = bring(&i.bus, &i.inverter, step, line_part).array_w;
                ladder.cut_to(LossCause::GridVoltageTrip, allowed_w);
                ladder.repeat(found());
                ladder.cut_to(cause, brought.array_w);
                for &(cause, w) in ladder.cuts.parts() {
                    piece.lose(cause, share * w);
                }
            } else {
                for (cause, stream) in i.bus.cuts_w.iter() {
                    piece.lose(cause, share * stream.at(step));
                }
                piece.lose(cause, share * (array_w - brought.array_w));
            }
            piece.lose(LossCause::InverterConversion, share * brought.conversion_w);
            piece.lose(LossCause::Cables, share * brought.cables_w);
        }
        let sun_w = offered_w.min(self.taken_w() + export_w);
        if cause == LossCause::ExportLimit {
            // The line's part of the cut has its own cause.
            piece[Flow::ExportLimitAc] += share * (offered_w.min(self.taken_w() + line_w) - sun_w).max(0.0);
        }
        (sun_w, self.wanted.covered_by(sun_w, self.pump_first))
    }

    /// Power that pumps, loads and battery take on the bus \[W\].
    fn taken_w(&self) -> f64 {
        self.wanted.total_w() + self.charge_w
    }
}

/// What an inverter draws and loses to bring a part of its offer to the bus.
fn bring(year: &BusYear, inverter: &Inverter, step: usize, part: f64) -> Draw {
    let offered_w = year.bus_w.at(step);
    Draw::part(
        inverter,
        [offered_w * part, offered_w],
        year.array_w(step),
        year.cable(step),
    )
}
