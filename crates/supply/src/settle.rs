//! One span settled: who takes how much, what is lost and why, what happens to the tank.
//!
//! It knows routes, offers, stores and the demand; it never asks which arrangement it serves.

use daylift_grid::Export;
use daylift_lift::Tank;

use crate::bus::bus_side;
use crate::cause::{LossCause, ShortfallCause};
use crate::limits::Cuts;
use crate::offers::{DriveOffer, Mains, Offers};
use crate::piece::{Piece, Recorder};
use crate::route::{ArrayFeed, PumpFeed, Route};
use crate::tank::{LowMark, TankState};
use crate::timeline::Span;

/// What a span's surroundings are.
pub(crate) struct Surroundings<'a> {
    pub(crate) offers: &'a Offers,
    pub(crate) tank: &'a Tank,
    pub(crate) export: Export,
    pub(crate) sun_to_pump_first: bool,
    pub(crate) load_w: f64,
    pub(crate) demand_m3_s: f64,
}

/// The pumps that may run on mains, in a piece.
#[derive(Debug, Clone, Copy, PartialEq)]
enum OnMains {
    Run,
    Stand(ShortfallCause),
    /// For the fraction of the time that, with what the drives give, holds the tank at its low mark.
    HoldLowMark,
}

/// Settles one span piece by piece: a piece ends where the tank reaches a mark.
pub(crate) fn settle<R: Recorder>(
    span: &Span,
    route: &Route,
    around: &Surroundings<'_>,
    state: &mut TankState,
    out: &mut R,
) {
    let mut left_s = span.length_s;
    // Instants are seconds of a year in f64: what is left of a span below a nanosecond is rounding.
    while left_s > 1e-9 {
        left_s -= match decide_on_mains(span, route, around, state) {
            OnMains::HoldLowMark => hold_low_mark(span, route, around, state, left_s, out),
            on_mains => run_to_mark(span, route, around, state, left_s, on_mains, out),
        };
    }
}

/// Whether the pumps on mains run: water is wanted, and the hour is allowed or the tank is low.
fn decide_on_mains(span: &Span, route: &Route, around: &Surroundings<'_>, state: &TankState) -> OnMains {
    // Not wanted: the cause is never asked for, as a tank that wants nothing is not short of water.
    if !state.wanting {
        return OnMains::Stand(ShortfallCause::PumpTooSlow);
    }
    if route.mains_hours.allows(span.hour) {
        return OnMains::Run;
    }
    let stand = OnMains::Stand(ShortfallCause::OutsideHours);
    match state.low_mark(around.tank) {
        LowMark::Below => OnMains::Run,
        LowMark::Above => stand,
        LowMark::At => {
            let driven_m3_s = drives(span, route, around.offers).map(|d| d.flow_m3_s).sum::<f64>();
            let mains_m3_s = mains_sum(span, route, around.offers).flow_m3_s;
            if driven_m3_s >= around.demand_m3_s {
                stand
            } else if driven_m3_s + mains_m3_s > around.demand_m3_s {
                OnMains::HoldLowMark
            } else {
                OnMains::Run
            }
        }
    }
}

/// The offers of the drives that the route runs.
fn drives<'a>(span: &Span, route: &'a Route, offers: &'a Offers) -> impl Iterator<Item = &'a DriveOffer> {
    let step = span.step as usize;
    let sets = route.sets.iter().zip(&offers.sets);
    sets.filter(|(feed, _)| **feed == PumpFeed::Drive)
        .filter_map(move |(_, set)| set.drive.get(step))
}

/// All pumps that the route puts on mains, as one.
fn mains_sum(span: &Span, route: &Route, offers: &Offers) -> Mains {
    let mut sum = Mains::default();
    let sets = route.sets.iter().zip(&offers.sets);
    for (_, set) in sets.filter(|(feed, _)| **feed == PumpFeed::Mains) {
        sum.add(&set.mains[usize::from(span.month) % 12]);
    }
    sum
}

/// Runs until the span ends or the tank reaches a mark; gives the time spent \[s\].
fn run_to_mark<R: Recorder>(
    span: &Span,
    route: &Route,
    around: &Surroundings<'_>,
    state: &mut TankState,
    left_s: f64,
    on_mains: OnMains,
    out: &mut R,
) -> f64 {
    let mut piece = flows(span, route, around, state, on_mains);
    let net_m3_s = piece.pumped_m3_s - piece.delivered_m3_s;
    let before_m3 = state.content_m3;
    match state.next_mark(net_m3_s, around.tank) {
        Some(mark) if mark.after_s <= left_s => {
            piece.length_s = mark.after_s;
            state.reach(mark.content_m3, around.tank);
        }
        _ => {
            piece.length_s = left_s;
            state.advance(net_m3_s, left_s, around.tank);
        }
    }
    piece.tank_m3 = state.content_m3;
    piece.stored_m3 = state.content_m3 - before_m3;
    out.piece(span.step as usize, &piece);
    piece.length_s
}

/// At the low mark outside the allowed hours: the pumps on mains run for the share of the time that makes up for what
/// the drives leave of the demand, and the level stays.
fn hold_low_mark<R: Recorder>(
    span: &Span,
    route: &Route,
    around: &Surroundings<'_>,
    state: &TankState,
    left_s: f64,
    out: &mut R,
) -> f64 {
    let mut on = flows(span, route, around, state, OnMains::Run);
    let mut off = flows(span, route, around, state, OnMains::Stand(ShortfallCause::OutsideHours));
    let mains_m3_s = on.pumped_m3_s - off.pumped_m3_s;
    on.length_s = left_s * (on.demand_m3_s - off.pumped_m3_s) / mains_m3_s;
    off.length_s = left_s - on.length_s;
    // The level is held on the whole: also a tank whose low mark is its floor gives all that is wanted.
    on.delivered_m3_s = on.demand_m3_s;
    off.delivered_m3_s = off.demand_m3_s;
    on.stored_m3 = (on.pumped_m3_s - on.delivered_m3_s) * on.length_s;
    off.stored_m3 = -on.stored_m3;
    for piece in [on, off] {
        out.piece(span.step as usize, &piece);
    }
    left_s
}

/// All flows of a piece; its length is not yet known.
fn flows(span: &Span, route: &Route, around: &Surroundings<'_>, state: &TankState, on_mains: OnMains) -> Piece {
    let offers = around.offers;
    let mut piece = Piece::at_rest(route.utility, around.load_w, around.demand_m3_s, state.content_m3);
    idle_groups(&mut piece, span, route, offers);
    let mut held_back = None;
    for (feed, set) in route.sets.iter().zip(&offers.sets) {
        let cause = match (feed, on_mains) {
            (PumpFeed::Stands(cause), _) => *cause,
            (PumpFeed::Drive, _) => match set.drive.get(span.step as usize) {
                Some(offer) => drive_side(&mut piece, offer, state.wanting),
                None => ShortfallCause::TooLittleSun,
            },
            (PumpFeed::Mains, OnMains::Stand(cause)) => cause,
            (PumpFeed::Mains, _) if set.mains[usize::from(span.month) % 12].throttled => ShortfallCause::WellLimit,
            (PumpFeed::Mains, _) => ShortfallCause::PumpTooSlow,
        };
        // Of several sets the first cause of the list speaks.
        held_back = Some(held_back.map_or(cause, |first: ShortfallCause| first.min(cause)));
    }
    piece.held_back_by = held_back.unwrap_or(ShortfallCause::GridDown);
    let mains = match on_mains {
        OnMains::Stand(_) => Mains::default(),
        OnMains::Run | OnMains::HoldLowMark => mains_sum(span, route, offers),
    };
    piece.pumped_m3_s += mains.flow_m3_s;
    bus_side(&mut piece, route, around, &mains, span.step as usize);
    piece.delivered_m3_s = if state.is_empty(around.tank) {
        piece.demand_m3_s.min(piece.pumped_m3_s)
    } else {
        piece.demand_m3_s
    };
    piece
}

/// What the string groups have, and what those lose that go nowhere.
fn idle_groups(piece: &mut Piece, span: &Span, route: &Route, offers: &Offers) {
    for (feed, available_w) in route.groups.iter().zip(&offers.available_w) {
        let w = available_w.get(span.step as usize).copied().unwrap_or(0.0);
        piece.available_w += w;
        if let ArrayFeed::Idle(cause) = feed {
            piece.lose(*cause, w);
        }
    }
}

fn drive_side(piece: &mut Piece, offer: &DriveOffer, wanting: bool) -> ShortfallCause {
    if !wanting {
        piece.lose(LossCause::WaterNotWanted, offer.available_w);
        return ShortfallCause::PumpTooSlow;
    }
    book_cuts(piece, &offer.cuts);
    piece.array_to_pump_w += offer.motor_w;
    piece.pumped_m3_s += offer.flow_m3_s;
    piece.hz = piece.hz.max(offer.hz);
    piece.lose(LossCause::DriveConversion, offer.drive_loss_w);
    piece.lose(LossCause::Cables, offer.dc_cable_w + offer.motor_cable_w);
    offer.held_back_by
}

/// Books what limits cut off.
pub(crate) fn book_cuts(piece: &mut Piece, cuts: &Cuts) {
    for &(cause, w) in cuts.parts() {
        piece.lose(cause, w);
    }
}
