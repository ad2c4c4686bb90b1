//! The sets at one moment: what the sun runs, which request power from the bus, and which get it (§9, §10c, §10d).

use std::borrow::Cow;

use daylift_plant::{LoadsFed, SetId, Wiring};

use super::basis::Moment;
use super::bus::Source;
use super::drive::{self, Driven};
use super::moment::{Ask, Pumps, Sum, Wants};
use super::phases::Piece;
use super::plan::{Plan, SetAt};

/// Flows closer than this share are the same: at full speed the sun gives all of the wanted flow.
const HAIR: f64 = 1e-6;

/// A set that requests power from the bus.
pub(super) struct Bid<'m> {
    set: SetId,
    supply_w: f64,
    /// At the motor, and its flow, where it runs directly on the bus.
    motor_w: f64,
    flow_m3_s: f64,
    /// On a drive: with power from the bus, and without.
    drives: Option<(Cow<'m, Driven>, &'m Driven)>,
}

/// Runs the sets that the sun runs, and collects those that request power from the bus.
pub(super) fn gather<'m>(
    plan: &'m Plan<'_, '_>,
    piece: &Piece,
    ask: Ask,
    moment: &'m Moment<'_>,
    sum: &mut Sum,
) -> Vec<Bid<'m>> {
    let mut bids = Vec::new();
    let wanted = ask.pumps != Pumps::None;
    for set in plan.plant().sets.keys() {
        match plan.set_at(set, piece) {
            SetAt::Nowhere => {}
            SetAt::Bus if wanted => bids.extend(direct(plan, set, piece, ask)),
            SetAt::Bus => {}
            SetAt::Drive if wanted => bids.extend(on_drive(plan, set, piece, ask, moment, sum)),
            SetAt::Drive => book_driven(&drive::idle(&moment.drives[set].strings), "", sum),
        }
    }
    bids
}

fn direct<'m>(plan: &Plan<'_, '_>, set: SetId, piece: &Piece, ask: Ask) -> Option<Bid<'m>> {
    let holds = match ask.pumps {
        Pumps::None => false,
        Pumps::Surplus => matches!(ask.source, Source::Grid | Source::Island),
        Pumps::All => matches!(ask.source, Source::Grid | Source::Island | Source::Generator),
    };
    if !holds || !plan.is_closed(set, piece) {
        return None;
    }
    let mains = plan.basis.lift(set, piece.month).mains?;
    Some(Bid {
        set,
        supply_w: mains.supply_w,
        motor_w: mains.duty.motor_w,
        flow_m3_s: mains.duty.flow_m3_s,
        drives: None,
    })
}

fn on_drive<'m>(
    plan: &'m Plan<'_, '_>,
    set: SetId,
    piece: &Piece,
    ask: Ask,
    moment: &'m Moment<'_>,
    sum: &mut Sum,
) -> Option<Bid<'m>> {
    let lift = plan.basis.lift(set, piece.month);
    let drive = &moment.drives[set];
    let alone = drive.alone(lift, plan.basis.running(set, piece.step));
    let lacks_sun = ask.source == Source::Generator && lacks_sun(plan, set, piece, alone);
    let open = ask.pumps == Pumps::All;
    let helps = open && (ask.source == Source::Grid || lacks_sun);
    if let Some(input) = plan.input.filter(|_| helps) {
        let wanted_speed = input.wanted_speed[piece.middle_hour];
        match drive.with_mains(lift, input.kind, wanted_speed) {
            Some(helped) if helped.mains_w > 0.0 => {
                return Some(Bid {
                    set,
                    supply_w: helped.mains_w,
                    motor_w: 0.0,
                    flow_m3_s: 0.0,
                    drives: Some((Cow::Borrowed(helped), alone)),
                });
            }
            Some(helped) => book_driven(helped, "", sum),
            None => book_driven(drive.free(lift), "", sum),
        }
        return None;
    }
    let by_generator = lacks_sun && plan.wiring != Wiring::SolarDriveWithGrid;
    let Some(bid) = direct(plan, set, piece, ask).filter(|_| open && by_generator) else {
        book_driven(alone, "", sum);
        return None;
    };
    Some(Bid {
        drives: Some((Cow::Owned(drive.held_off(lift)), alone)),
        ..bid
    })
}

/// Whether the sun gives a set less than the share of its wanted flow from which it runs beside the generator.
fn lacks_sun(plan: &Plan<'_, '_>, set: SetId, piece: &Piece, alone: &Driven) -> bool {
    let lift = plan.basis.lift(set, piece.month);
    let input = plan.input.map(|input| input.kind);
    let wanted_m3_s = drive::wanted_flow_m3_s(lift, plan.basis.height_derating(set), input);
    let sun_share = plan.generator.map_or(0.0, |generator| generator.sun_share);
    alone.flow_m3_s() <= 0.0 || alone.flow_m3_s() < sun_share * wanted_m3_s * (1.0 - HAIR)
}

/// Books a drive; `mains` is the id of what mains brings to the pump.
fn book_driven(driven: &Driven, mains: &'static str, sum: &mut Sum) {
    for &(cause, power_w) in &driven.cuts {
        sum.book.add(cause, power_w);
    }
    let Some(work) = driven.work else { return };
    let share = driven.sun_w / (driven.sun_w + driven.mains_w);
    sum.book.add("to-pump", work.motor_w * share);
    sum.book.add("pump-array", work.motor_w * share);
    sum.book.add("drive-conversion", work.loss_w * share);
    sum.book.add("cables", work.cable_w * share + driven.array_w - driven.sun_w);
    if share < 1.0 {
        sum.book.add(mains, work.motor_w * (1.0 - share));
    }
    sum.drive_flow_m3_s += work.flow_m3_s;
    if work.flow_m3_s > 0.0 {
        sum.running = sum.running.max(driven.running);
    }
}

/// Takes sets and loads as far as the source can carry them; returns the loads served \[W\].
pub(super) fn choose(plan: &Plan<'_, '_>, ask: Ask, sun_w: f64, wants: &Wants, bids: &[Bid<'_>], sum: &mut Sum) -> f64 {
    let discharge_w = plan.battery.map_or(0.0, |b| b.sheet().discharge_w);
    let (most_w, wanted_w) = match ask.source {
        Source::Grid => (f64::INFINITY, wants.load_w),
        Source::Island => (sun_w + discharge_w, wants.backed_up_w),
        Source::Generator => plan.generator.map_or((0.0, 0.0), |g| {
            let fed_w = match g.loads {
                LoadsFed::None => 0.0,
                LoadsFed::BackedUp => wants.backed_up_w,
                LoadsFed::All => wants.load_w,
            };
            (g.set.rated_w(), fed_w)
        }),
        Source::Dark | Source::Nothing => (0.0, 0.0),
    };
    let pump_first = plan.plant().pumping.sun_to_pump_first;
    let before_w = if pump_first { 0.0 } else { wanted_w.min(most_w) };
    let offered_w = if pump_first { sun_w } else { sun_w - wanted_w };
    let mut taken_w = 0.0;
    for bid in bids {
        let with_it_w = taken_w + bid.supply_w;
        let allowed = match (ask.pumps, plan.rule.surplus) {
            (Pumps::All, _) => true,
            (Pumps::Surplus, Some(surplus)) => surplus * with_it_w <= offered_w,
            (Pumps::Surplus, None) | (Pumps::None, _) => false,
        };
        let taken = allowed && with_it_w <= most_w - before_w;
        if taken {
            taken_w = with_it_w;
        }
        take(ask, bid, taken, sum);
    }
    wanted_w.min(most_w - taken_w)
}

fn take(ask: Ask, bid: &Bid<'_>, taken: bool, sum: &mut Sum) {
    if !taken {
        if let Some((_, alone)) = &bid.drives {
            book_driven(alone, "", sum);
        }
        return;
    }
    let from_grid = ask.source == Source::Grid;
    let mut through_drive_w = 0.0;
    if let Some((helped, _)) = &bid.drives {
        book_driven(helped, if from_grid { "pump-grid" } else { "pump-generator" }, sum);
        through_drive_w = helped.mains_w;
        sum.book.add(if from_grid { "imported" } else { "generator" }, through_drive_w);
    }
    if through_drive_w <= 0.0 {
        sum.bus_pump_w += bid.supply_w;
        sum.bus_motor_w += bid.motor_w;
        sum.bus_flow_m3_s += bid.flow_m3_s;
        sum.on_bus[bid.set] = 1.0;
    }
}
