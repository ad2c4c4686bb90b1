//! One span settled: who takes how much, what is lost and why, what happens to the tank.
//!
//! It knows routes, offers, stores and the demand; it never asks which arrangement it serves.

use daylift_grid::Export;
use daylift_lift::Tank;

use crate::cause::{LossCause, ShortfallCause};
use crate::limits::Cuts;
use crate::offers::{Mains, Offers};
use crate::piece::{Piece, Recorder};
use crate::route::{ArrayFeed, PumpFeed, Route};
use crate::tank::{LowMark, TankState};
use crate::timeline::Span;

/// What a span's surroundings are.
pub(crate) struct Surroundings<'a> {
    pub(crate) offers: &'a Offers,
    pub(crate) tank: &'a Tank,
    pub(crate) export: Export,
    pub(crate) load_w: f64,
    pub(crate) demand_m3_s: f64,
}

/// The pump in a piece.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Running {
    Stands(ShortfallCause),
    OnDrive,
    OnMains,
    /// On mains for the fraction of the time that holds the tank at its low mark.
    HoldingLowMark,
}

/// Settles one span piece by piece: a piece ends where the tank reaches a mark.
pub(crate) fn settle(
    span: &Span,
    route: &Route,
    around: &Surroundings<'_>,
    state: &mut TankState,
    out: &mut impl Recorder,
) {
    let mut left_s = span.length_s;
    // Instants are seconds of a year in f64: what is left of a span below a nanosecond is rounding.
    while left_s > 1e-9 {
        let running = decide(span, route, around, state);
        let spent_s = match running {
            Running::HoldingLowMark => hold_low_mark(span, route, around, state, left_s, out),
            _ => run_to_mark(span, route, around, state, left_s, running, out),
        };
        left_s -= spent_s;
    }
}

fn decide(span: &Span, route: &Route, around: &Surroundings<'_>, state: &TankState) -> Running {
    match route.pump {
        PumpFeed::Stands(cause) => Running::Stands(cause),
        // Not wanted: the cause is never asked for, as a tank that wants nothing is not short of water.
        _ if !state.wanting => Running::Stands(ShortfallCause::PumpTooSlow),
        PumpFeed::Drive => match around.offers.drive.get(span.step as usize) {
            Some(offer) if offer.flow_m3_s > 0.0 => Running::OnDrive,
            Some(offer) => Running::Stands(offer.held_back_by),
            None => Running::Stands(ShortfallCause::TooLittleSun),
        },
        PumpFeed::Mains => decide_on_mains(span, route, around, state),
    }
}

fn decide_on_mains(span: &Span, route: &Route, around: &Surroundings<'_>, state: &TankState) -> Running {
    let flow_m3_s = around.offers.mains[usize::from(span.month) % 12].flow_m3_s;
    if flow_m3_s <= 0.0 {
        return Running::Stands(ShortfallCause::WellLimit);
    }
    if route.mains_hours.allows(span.hour) {
        return Running::OnMains;
    }
    match state.low_mark(around.tank) {
        LowMark::Below => Running::OnMains,
        LowMark::Above => Running::Stands(ShortfallCause::OutsideHours),
        LowMark::At if around.demand_m3_s <= 0.0 => Running::Stands(ShortfallCause::OutsideHours),
        LowMark::At if flow_m3_s > around.demand_m3_s => Running::HoldingLowMark,
        LowMark::At => Running::OnMains,
    }
}

/// Runs until the span ends or the tank reaches a mark; gives the time spent \[s\].
fn run_to_mark(
    span: &Span,
    route: &Route,
    around: &Surroundings<'_>,
    state: &mut TankState,
    left_s: f64,
    running: Running,
    out: &mut impl Recorder,
) -> f64 {
    let mut piece = flows(span, route, around, state, running);
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

/// At the low mark outside the allowed hours: the pump's share of the time is demand over flow, and the level stays.
fn hold_low_mark(
    span: &Span,
    route: &Route,
    around: &Surroundings<'_>,
    state: &TankState,
    left_s: f64,
    out: &mut impl Recorder,
) -> f64 {
    let mut on = flows(span, route, around, state, Running::OnMains);
    let mut off = flows(
        span,
        route,
        around,
        state,
        Running::Stands(ShortfallCause::OutsideHours),
    );
    on.length_s = left_s * on.demand_m3_s / on.pumped_m3_s;
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
fn flows(span: &Span, route: &Route, around: &Surroundings<'_>, state: &TankState, running: Running) -> Piece {
    let offers = around.offers;
    let step = span.step as usize;
    let mut piece = Piece {
        length_s: 0.0,
        utility: route.utility,
        available_w: if route.array == ArrayFeed::Absent {
            0.0
        } else {
            offers.available_w.get(step).copied().unwrap_or(0.0)
        },
        lost_w: [0.0; LossCause::COUNT],
        array_to_pump_w: 0.0,
        array_to_loads_w: 0.0,
        exported_w: 0.0,
        imported_w: 0.0,
        grid_to_pump_w: 0.0,
        grid_cable_w: 0.0,
        load_w: around.load_w,
        grid_to_loads_w: 0.0,
        unserved_w: 0.0,
        pumped_m3_s: 0.0,
        demand_m3_s: around.demand_m3_s,
        delivered_m3_s: 0.0,
        held_back_by: ShortfallCause::PumpTooSlow,
        tank_m3: state.content_m3,
        stored_m3: 0.0,
        hz: 0.0,
    };
    let mains = match running {
        Running::OnMains | Running::HoldingLowMark => offers.mains[usize::from(span.month) % 12],
        _ => Mains::default(),
    };
    piece.pumped_m3_s = mains.flow_m3_s;
    piece.held_back_by = match running {
        Running::Stands(cause) => cause,
        Running::OnDrive => offers.drive.get(step).map_or(ShortfallCause::TooLittleSun, |o| o.held_back_by),
        Running::OnMains | Running::HoldingLowMark if mains.throttled => ShortfallCause::WellLimit,
        Running::OnMains | Running::HoldingLowMark => ShortfallCause::PumpTooSlow,
    };
    match route.array {
        ArrayFeed::Absent => {}
        ArrayFeed::Idle(cause) => piece.lose(cause, piece.available_w),
        ArrayFeed::Drive => drive_side(&mut piece, offers, step, running, state.wanting),
        ArrayFeed::Bus => {}
    }
    bus_side(&mut piece, route, around, &mains, step);
    piece.delivered_m3_s = if state.is_empty(around.tank) {
        piece.demand_m3_s.min(piece.pumped_m3_s)
    } else {
        piece.demand_m3_s
    };
    piece
}

fn book_cuts(piece: &mut Piece, cuts: &Cuts) {
    for &(cause, w) in cuts.parts() {
        piece.lose(cause, w);
    }
}

fn drive_side(piece: &mut Piece, offers: &Offers, step: usize, running: Running, wanting: bool) {
    let Some(offer) = offers.drive.get(step) else { return };
    if !wanting {
        piece.lose(LossCause::WaterNotWanted, piece.available_w);
        return;
    }
    book_cuts(piece, &offer.cuts);
    if running == Running::OnDrive {
        piece.array_to_pump_w = offer.motor_w;
        piece.pumped_m3_s = offer.flow_m3_s;
        piece.hz = offer.hz;
        piece.lose(LossCause::DriveConversion, offer.drive_loss_w);
        piece.lose(LossCause::Cables, offer.dc_cable_w + offer.motor_cable_w);
    }
}

/// The bus: the array's share goes to the pump first, then to the loads, then out; the grid fills what is missing.
fn bus_side(piece: &mut Piece, route: &Route, around: &Surroundings<'_>, mains: &Mains, step: usize) {
    if !route.utility {
        piece.unserved_w = piece.load_w;
        if route.array == ArrayFeed::Bus {
            piece.lose(LossCause::GridDown, piece.available_w);
        }
        return;
    }
    let pump_w = mains.bus_w();
    let wanted_w = pump_w + piece.load_w + around.export.greatest_w();
    let sun_w = if route.array == ArrayFeed::Bus {
        array_to_bus(piece, around.offers, step, wanted_w)
    } else {
        0.0
    };
    let sun_to_pump_w = sun_w.min(pump_w);
    piece.array_to_loads_w = (sun_w - sun_to_pump_w).min(piece.load_w);
    piece.exported_w = sun_w - sun_to_pump_w - piece.array_to_loads_w;
    let grid_to_pump_bus_w = pump_w - sun_to_pump_w;
    piece.grid_to_loads_w = piece.load_w - piece.array_to_loads_w;
    piece.imported_w = grid_to_pump_bus_w + piece.grid_to_loads_w;
    if pump_w > 0.0 {
        // Energy to the pump counts at the motor's terminals; both sources bear the motor cable alike.
        let (motor, cable) = (mains.motor_w / pump_w, mains.cable_w / pump_w);
        piece.array_to_pump_w = sun_to_pump_w * motor;
        piece.lose(LossCause::Cables, sun_to_pump_w * cable);
        piece.grid_to_pump_w = grid_to_pump_bus_w * motor;
        piece.grid_cable_w = grid_to_pump_bus_w * cable;
    }
}

/// Brings array power to the bus, at most `wanted_w`; gives what arrives \[W\] and books what does not.
fn array_to_bus(piece: &mut Piece, offers: &Offers, step: usize, wanted_w: f64) -> f64 {
    let (Some(offer), Some(path)) = (offers.bus.get(step), &offers.bus_path) else {
        return 0.0;
    };
    book_cuts(piece, &offer.cuts);
    let (array_w, bus_w) = if offer.bus_w <= wanted_w {
        (offer.array_w, offer.bus_w)
    } else {
        let held_w = path.array_for_bus_w(wanted_w).min(offer.array_w);
        piece.lose(LossCause::ExportLimit, offer.array_w - held_w);
        (held_w, wanted_w)
    };
    let (conversion_w, cables_w) = path.losses_w(array_w, bus_w);
    piece.lose(LossCause::InverterConversion, conversion_w);
    piece.lose(LossCause::Cables, cables_w);
    bus_w
}
