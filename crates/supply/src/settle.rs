//! Settles one span: what happens to tank and battery while pumps, loads and sources share the power.
//!
//! This code knows routes, offers, stores and the demand, but not the arrangement. Steps are settled together while only
//! the sun can change in them.

use crate::battery::{BatteryFlow, BatteryState};
use crate::bus::LiveBus;
use crate::cause::ShortfallCause;
use crate::flow::Flow;
use crate::now::{Now, OnMains};
use crate::piece::{Piece, Recorder};
use crate::route::Route;
use crate::starts::Motors;
use crate::steady::Stretch;
use crate::stream::Steps;
use crate::surroundings::Surroundings;
use crate::tank::{LowMark, TankState};
use crate::timeline::Span;

/// The stores while the year runs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Stores {
    pub(crate) tank: TankState,
    pub(crate) battery: Option<BatteryState>,
}

/// Settles one span piece by piece. A piece ends where tank or battery reaches a mark. It also ends at the end of its step
/// if anything other than the sun may change in the next step.
pub(crate) fn settle<R: Recorder>(
    span: &Span,
    route: &Route,
    around: &Surroundings<'_>,
    stores: &mut Stores,
    out: &mut R,
) {
    let grid = around.grid;
    let (mut step, mut at_s) = (span.step as usize, span.start_s);
    // Instants are seconds of a year in f64: a rest of a span below `LEAST_S` is rounding.
    while span.end_s - at_s > LEAST_S {
        while grid.end_s(step) - at_s <= LEAST_S {
            step += 1;
        }
        if let (Some(state), Some(battery)) = (&mut stores.battery, around.battery) {
            state.update_live(route.utility, battery);
        }
        let bus = LiveBus::of(route, around, stores.battery, step, span.hour);
        let now = Now {
            span,
            route,
            around,
            bus: &bus,
            step,
        };
        let decision = now.decide_on_mains(&stores.tank);
        let together = match decision {
            Decision::ForAll(on_mains) if !R::WATCHES => now.together(&stores.tank, on_mains, at_s),
            Decision::ForAll(_) | Decision::ForThisStep(_) => None,
        };
        let stretch = together.unwrap_or_else(|| Stretch::of_one(step, at_s, grid.end_s(step).min(span.end_s)));
        let spent_s = match decision.on_mains() {
            OnMains::HoldLowMark => now.hold_low_mark(stores, &stretch.steps, out),
            on_mains => now.run_to_mark(stores, &stretch, on_mains, out),
        };
        at_s = if spent_s >= stretch.steps.length_s {
            stretch.end_s
        } else {
            at_s + spent_s
        };
    }
}

/// Times below this are rounding \[s\].
const LEAST_S: f64 = 1e-8;

/// What the pumps on the bus do, and how long the decision holds.
#[derive(Clone, Copy)]
enum Decision {
    /// Until the tank reaches a mark.
    ForAll(OnMains),
    /// In this step; the next may have different flows.
    ForThisStep(OnMains),
}

impl Decision {
    fn on_mains(self) -> OnMains {
        match self {
            Self::ForAll(on_mains) | Self::ForThisStep(on_mains) => on_mains,
        }
    }
}

impl Now<'_> {
    /// Whether the pumps that may run on the bus do so now.
    fn decide_on_mains(&self, tank: &TankState) -> Decision {
        // No water is wanted, so water is not short and the cause does not matter.
        if !tank.wanting {
            return Decision::ForAll(OnMains::Stop(ShortfallCause::PumpTooSlow));
        }
        if !self.bus.is_live() {
            return Decision::ForAll(OnMains::Stop(ShortfallCause::GridDown));
        }
        if self.is_open(tank) {
            return Decision::ForAll(OnMains::Run);
        }
        let off = self.when_not_open();
        match tank.low_mark(&self.around.levels) {
            LowMark::Below => Decision::ForAll(OnMains::Run),
            LowMark::Above => Decision::ForAll(off),
            LowMark::At => self.at_low_mark(tank, off),
        }
    }

    /// At the low mark, while the bus is not open: it depends on what drives and surplus give, and on what the bus could add.
    fn at_low_mark(&self, tank: &TankState, off: OnMains) -> Decision {
        let demand_m3_s = self.around.demand_m3_s;
        let one = Steps::one(self.step, 1.0);
        let pumped_m3_s = |on_mains: OnMains| {
            let mut piece = Piece::at_rest();
            self.flows(&mut piece, tank, on_mains, &one);
            piece[Flow::Pumped]
        };
        let decision = if pumped_m3_s(off) >= demand_m3_s {
            off
        } else if pumped_m3_s(OnMains::Run) > demand_m3_s {
            OnMains::HoldLowMark
        } else {
            OnMains::Run
        };
        if self.has_drives() || off == OnMains::OnSurplus {
            Decision::ForThisStep(decision)
        } else {
            Decision::ForAll(decision)
        }
    }

    /// Runs until the steps end or a store reaches a mark; returns the time spent \[s\].
    fn run_to_mark<R: Recorder>(&self, stores: &mut Stores, stretch: &Stretch, on_mains: OnMains, out: &mut R) -> f64 {
        let steps = &stretch.steps;
        let mut piece = Piece::at_rest();
        self.flows(&mut piece, &stores.tank, on_mains, steps);
        let (tank, state) = (&self.around.levels, &mut stores.tank);
        let net_m3_s = piece[Flow::Pumped] - piece[Flow::Delivered];
        let before_m3 = state.content_m3;
        if steps.is_one() {
            let mark = state.next_mark(net_m3_s, tank);
            let battery_s = self.until_battery_mark_s(stores.battery, &piece.battery_flow());
            piece.length_s = mark.map_or(f64::INFINITY, |m| m.after_s).min(battery_s).min(steps.length_s);
            match mark {
                Some(mark) if mark.after_s <= piece.length_s => state.reach(mark.content_m3, tank),
                _ => state.advance(net_m3_s, piece.length_s, tank),
            }
        } else {
            // Steps that are settled together reach no mark before their end.
            piece.length_s = steps.length_s;
            match stretch.reaches_m3 {
                Some(mark_m3) => state.reach(mark_m3, tank),
                None => state.advance(net_m3_s, piece.length_s, tank),
            }
        }
        piece.tank_m3 = state.content_m3;
        piece.stored_m3 = state.content_m3 - before_m3;
        self.advance_battery(stores, &piece.battery_flow(), piece.length_s, [&mut piece]);
        piece.close();
        out.piece(steps.first, &piece);
        piece.length_s
    }

    /// At the low mark, while the bus is not open: the pumps on the bus run for the share of the time that covers what drives
    /// and surplus leave of the demand, and the level stays. Returns the time spent \[s\].
    fn hold_low_mark<R: Recorder>(&self, stores: &mut Stores, steps: &Steps, out: &mut R) -> f64 {
        let tank = stores.tank;
        let [mut on, mut off] = [Piece::at_rest(), Piece::at_rest()];
        self.flows(&mut on, &tank, OnMains::Run, steps);
        self.flows(&mut off, &tank, self.when_not_open(), steps);
        let share = (on[Flow::Demand] - off[Flow::Pumped]) / (on[Flow::Pumped] - off[Flow::Pumped]);
        let mean = on.battery_flow().mixed(share, &off.battery_flow());
        let length_s = self.until_battery_mark_s(stores.battery, &mean).min(steps.length_s);
        on.length_s = length_s * share;
        off.length_s = length_s - on.length_s;
        // The level is held overall: a tank whose low mark is its floor delivers the whole demand too.
        on[Flow::Delivered] = on[Flow::Demand];
        off[Flow::Delivered] = off[Flow::Demand];
        on.stored_m3 = (on[Flow::Pumped] - on[Flow::Delivered]) * on.length_s;
        off.stored_m3 = -on.stored_m3;
        (on.tank_m3, off.tank_m3) = (tank.content_m3, tank.content_m3);
        self.advance_battery(stores, &mean, length_s, [&mut on, &mut off]);
        Motors::by_turns(&mut on.motors, &mut off.motors);
        for mut piece in [on, off] {
            piece.close();
            out.piece(steps.first, &piece);
        }
        length_s
    }

    fn until_battery_mark_s(&self, state: Option<BatteryState>, flow: &BatteryFlow) -> f64 {
        let both = self.around.battery.zip(state);
        both.map_or(f64::INFINITY, |(battery, state)| {
            state.until_mark_s(flow.net_w(), battery)
        })
    }

    /// Changes the battery's content and books it to the pieces, whose lengths add up to `length_s`.
    fn advance_battery<const N: usize>(
        &self,
        stores: &mut Stores,
        mean: &BatteryFlow,
        length_s: f64,
        mut pieces: [&mut Piece; N],
    ) {
        let Some((battery, state)) = self.around.battery.zip(stores.battery.as_mut()) else {
            return;
        };
        let before_j = state.content_j();
        state.advance(mean, length_s, battery);
        for piece in &mut pieces {
            piece.battery_j = state.content_j();
        }
        store(state.content_j() - before_j, length_s, pieces);
    }
}

/// Books `stored_j` \[J\], what a battery stored, to pieces whose lengths add up to `length_s`. Each gets its own flow, and
/// by its share of the time a part of the rounding, so that the sum is exact.
fn store<const N: usize>(stored_j: f64, length_s: f64, pieces: [&mut Piece; N]) {
    let own_j = pieces.each_ref().map(|piece| piece.battery_flow().net_w() * piece.length_s);
    let rounding_j = stored_j - own_j.iter().sum::<f64>();
    for (piece, own_j) in pieces.into_iter().zip(own_j) {
        piece.battery_stored_j = own_j + rounding_j * (piece.length_s / length_s);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn piece(length_s: f64, charge_w: f64, discharge_w: f64) -> Piece {
        let mut piece = Piece::at_rest();
        piece.length_s = length_s;
        piece[Flow::GridToBattery] = charge_w;
        piece[Flow::Discharged] = discharge_w;
        piece
    }

    #[test]
    fn pieces_together_store_what_the_battery_stored() {
        // Worked by hand: 10 W in for 30 s and 5 W out for 10 s are 300 − 50 = 250 J. Of 252 J stored, 2 J are rounding:
        // 1.5 J in three quarters of the time, 0.5 J in the rest.
        let (mut on, mut off) = (piece(30.0, 10.0, 0.0), piece(10.0, 0.0, 5.0));
        store(252.0, 40.0, [&mut on, &mut off]);
        assert!((on.battery_stored_j - 301.5).abs() < 1e-12 && (off.battery_stored_j + 49.5).abs() < 1e-12);
    }

    #[test]
    fn a_piece_alone_has_stored_all() {
        // Worked by hand: 10 W in for 30 s are 300 J; the battery was full after 299.
        let mut alone = piece(30.0, 10.0, 0.0);
        store(299.0, 30.0, [&mut alone]);
        assert!((alone.battery_stored_j - 299.0).abs() < 1e-12);
    }
}
