//! One moment of a row: flow, battery power, and the account of all energies.

use daylift_plant::{InverterId, LoadsFed, SetId, Wiring};

use super::account::Account;
use super::basis::Moment;
use super::bus::{self, Leave, Meeting, Settled, Source};
use super::drive::{self, Driven};
use super::phases::Piece;
use super::plan::{GroupAt, Plan, SetAt};

/// The conditions of the moment.
#[derive(Debug, Clone, Copy)]
pub(super) struct Ask {
    /// Share of the time that pumps on the bus run.
    pub(super) share: f64,
    pub(super) wanted: bool,
    pub(super) source: Source,
    pub(super) leave: Leave,
}

/// The results of the moment.
#[derive(Debug, Clone, Default)]
pub(super) struct Act {
    pub(super) flow_m3_s: f64,
    /// Power into the battery, less power out of it \[W\].
    pub(super) stored_w: f64,
    pub(super) book: Account,
}

impl Act {
    pub(super) fn mix(on: &Self, off: &Self, share: f64) -> Self {
        let mean = |a: f64, b: f64| a * share + b * (1.0 - share);
        Self {
            flow_m3_s: mean(on.flow_m3_s, off.flow_m3_s),
            stored_w: mean(on.stored_w, off.stored_w),
            book: Account::mix(&on.book, &off.book, share),
        }
    }
}

/// A set that requests power from the bus.
struct Bid<'m> {
    supply_w: f64,
    motor_w: f64,
    flow_m3_s: f64,
    /// On a drive: with power from the bus, and without.
    drives: Option<(&'m Driven, &'m Driven)>,
}

/// Loads of the moment \[W\].
struct Wants {
    load_w: f64,
    backed_up_w: f64,
}

struct Sum {
    book: Account,
    drive_flow_m3_s: f64,
    bus_flow_m3_s: f64,
    bus_pump_w: f64,
    bus_motor_w: f64,
}

pub(super) fn act(plan: &Plan<'_, '_>, piece: &Piece, ask: Ask) -> Act {
    let moment = plan.basis.moment(piece.step, piece.month);
    let mut sum = Sum {
        book: Account::default(),
        drive_flow_m3_s: 0.0,
        bus_flow_m3_s: 0.0,
        bus_pump_w: 0.0,
        bus_motor_w: 0.0,
    };
    let feeding = book_groups(plan, piece, &moment, &mut sum.book);
    let sun_w: f64 = feeding.iter().map(|&j| moment.feeding[j].offer_w).sum();
    let bids = gather(plan, piece, ask, &moment, &mut sum);
    let wants = wants(plan, piece);
    let load_w = choose(plan, ask, sun_w, &wants, &bids, &mut sum);
    let settled = settle(plan, piece, ask, sun_w, load_w, &sum);
    book_inverters(&moment, &feeding, sun_w, ask, &settled, &mut sum.book);
    book_bus(plan, piece, ask, &settled, &mut sum);
    sum.book.add("load-unserved", wants.load_w - load_w);
    let stored_w = book_battery(plan, &settled, &mut sum.book);
    book_hours(piece, ask, &mut sum);
    Act {
        flow_m3_s: sum.drive_flow_m3_s + sum.bus_flow_m3_s,
        stored_w,
        book: sum.book,
    }
}

fn wants(plan: &Plan<'_, '_>, piece: &Piece) -> Wants {
    let grid = &plan.plant().grid;
    let mean_w =
        |loads: &daylift_grid::Loads| loads.mean_power_w(piece.start_s, piece.length_s(), piece.month, piece.hour);
    Wants {
        load_w: mean_w(&grid.loads),
        backed_up_w: mean_w(&grid.backed_up),
    }
}

/// Books what is available and what is lost, by where the groups are connected; returns the inverters that feed.
fn book_groups(plan: &Plan<'_, '_>, piece: &Piece, moment: &Moment<'_>, book: &mut Account) -> Vec<InverterId> {
    let mut feeding = Vec::new();
    if !plan.wiring.has_array() {
        return feeding;
    }
    for (group, lit) in plan.basis.groups().iter().zip(&moment.groups) {
        book.add("available", lit.best.power_w);
        match plan.group_at(group, piece) {
            GroupAt::Inverter(j) if !feeding.contains(&j) => feeding.push(j),
            GroupAt::Lost(cause) => book.add(cause, lit.best.power_w),
            GroupAt::Inverter(_) | GroupAt::Drive => {}
        }
    }
    feeding
}

/// Runs the sets that the sun runs, and collects those that request power from the bus.
fn gather<'m>(plan: &'m Plan<'_, '_>, piece: &Piece, ask: Ask, moment: &'m Moment<'_>, sum: &mut Sum) -> Vec<Bid<'m>> {
    let mut bids = Vec::new();
    for set in plan.plant().sets.keys() {
        match plan.set_at(set, piece) {
            SetAt::Nowhere => {}
            SetAt::Bus if ask.wanted => bids.extend(direct(plan, set, piece, ask)),
            SetAt::Bus => {}
            SetAt::Drive if ask.wanted => bids.extend(on_drive(plan, set, piece, ask, moment, sum)),
            SetAt::Drive => book_driven(&drive::idle(&moment.drives[set].strings), "", sum),
        }
    }
    bids
}

fn direct<'m>(plan: &Plan<'_, '_>, set: SetId, piece: &Piece, ask: Ask) -> Option<Bid<'m>> {
    let holds = matches!(ask.source, Source::Grid | Source::Island | Source::Generator);
    if ask.share <= 0.0 || !holds {
        return None;
    }
    let mains = plan.basis.lift(set, piece.month).mains?;
    Some(Bid {
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
    let alone = drive.alone(lift);
    let stopped = alone.flow_m3_s() <= 0.0;
    let helps = ask.share > 0.0 && (ask.source == Source::Grid || (ask.source == Source::Generator && stopped));
    if let Some(input) = plan.input.filter(|_| helps) {
        let wanted_speed = input.wanted_speed[piece.middle_hour];
        match drive.with_mains(lift, input.kind, wanted_speed) {
            Some(helped) if helped.mains_w > 0.0 => {
                return Some(Bid {
                    supply_w: helped.mains_w,
                    motor_w: 0.0,
                    flow_m3_s: 0.0,
                    drives: Some((helped, alone)),
                });
            }
            Some(helped) => book_driven(helped, "", sum),
            None => book_driven(alone, "", sum),
        }
        return None;
    }
    book_driven(alone, "", sum);
    let by_generator = ask.source == Source::Generator && stopped && plan.wiring != Wiring::SolarDriveWithGrid;
    direct(plan, set, piece, ask).filter(|_| by_generator)
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
}

/// Takes sets and loads as far as the source can carry them; returns the loads served \[W\].
fn choose(plan: &Plan<'_, '_>, ask: Ask, sun_w: f64, wants: &Wants, bids: &[Bid<'_>], sum: &mut Sum) -> f64 {
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
    let mut taken_w = 0.0;
    for bid in bids {
        let taken = taken_w + bid.supply_w <= most_w - before_w;
        if taken {
            taken_w += bid.supply_w;
        }
        take(ask, bid, taken, sum);
    }
    // Pumps that run for a share of the time take only their mean from the loads.
    wanted_w.min(most_w - taken_w * ask.share)
}

fn take(ask: Ask, bid: &Bid<'_>, taken: bool, sum: &mut Sum) {
    let Some((helped, alone)) = bid.drives else {
        if taken {
            sum.bus_pump_w += bid.supply_w * ask.share;
            sum.bus_motor_w += bid.motor_w * ask.share;
            sum.bus_flow_m3_s += bid.flow_m3_s * ask.share;
        }
        return;
    };
    if !taken {
        book_driven(alone, "", sum);
        return;
    }
    let from_grid = ask.source == Source::Grid;
    book_driven(helped, if from_grid { "pump-grid" } else { "pump-generator" }, sum);
    sum.book.add(if from_grid { "imported" } else { "generator" }, helped.mains_w);
}

fn settle(plan: &Plan<'_, '_>, piece: &Piece, ask: Ask, sun_w: f64, load_w: f64, sum: &Sum) -> Settled {
    let export = &plan.plant().grid.export;
    let at = Meeting {
        sun_w,
        pump_w: sum.bus_pump_w,
        load_w,
        pump_first: plan.plant().pumping.sun_to_pump_first,
        agreed_w: export.agreed_w(),
        borne_w: export.line_limit_w(),
    };
    let battery = plan.battery.filter(|_| plan.battery_works(piece));
    match (ask.source, battery) {
        (Source::Grid, None) => bus::on_grid(at, None, Leave::default()),
        (Source::Grid, battery) => bus::on_grid(at, battery, ask.leave),
        (Source::Island | Source::Dark, Some(battery)) => bus::on_island(at, battery, ask.leave),
        (Source::Generator, Some(battery)) => {
            let none = Meeting {
                pump_w: 0.0,
                load_w: 0.0,
                ..at
            };
            Settled {
                other: bus::on_generator(at).other,
                ..bus::on_island(none, battery, ask.leave)
            }
        }
        (Source::Generator, None) => bus::on_generator(at),
        (Source::Island | Source::Dark | Source::Nothing, _) => Settled::default(),
    }
}

fn book_inverters(
    moment: &Moment<'_>,
    feeding: &[InverterId],
    sun_w: f64,
    ask: Ask,
    settled: &Settled,
    book: &mut Account,
) {
    let limit = if ask.source == Source::Grid {
        "export-limit"
    } else {
        "battery-limit"
    };
    for &j in feeding {
        let inverter = &moment.feeding[j];
        let part = if sun_w > 0.0 { inverter.offer_w / sun_w } else { 0.0 };
        let tripped_w = settled.tripped_w.map(|w| w * part);
        inverter.book(settled.sun_used_w() * part, tripped_w, limit, book);
    }
}

fn book_bus(plan: &Plan<'_, '_>, piece: &Piece, ask: Ask, settled: &Settled, sum: &mut Sum) {
    let other = if ask.source == Source::Grid {
        ["pump-grid", "load-grid", "imported"]
    } else {
        ["pump-generator", "load-generator", "generator"]
    };
    let book = &mut sum.book;
    let at_motor = if sum.bus_pump_w > 0.0 {
        sum.bus_motor_w / sum.bus_pump_w
    } else {
        0.0
    };
    book.add("to-pump", settled.sun.pump_w * at_motor);
    book.add("pump-array", settled.sun.pump_w * at_motor);
    book.add("cables", settled.sun.pump_w * (1.0 - at_motor));
    book.add("pump-battery", settled.battery.pump_w * at_motor);
    book.add(other[0], settled.other.pump_w * at_motor);
    book.add("to-loads", settled.sun.load_w);
    book.add("load-battery", settled.battery.load_w);
    book.add(other[1], settled.other.load_w);
    book.add(other[2], settled.drawn_w());
    book.add("exported", settled.export_w);
    let paid = plan.plant().grid.export.is_paid(piece.month, piece.hour);
    book.add(if paid { "exported-paid" } else { "exported-unpaid" }, settled.export_w);
    if let Some(generator) = plan.generator.filter(|_| ask.source == Source::Generator) {
        let made_w = book.get("generator");
        book.add("generator-time", if made_w > 0.0 { 1.0 } else { 0.0 });
        book.add("fuel", generator.set.fuel_m3_s(made_w));
    }
}

fn book_battery(plan: &Plan<'_, '_>, settled: &Settled, book: &mut Account) -> f64 {
    let Some(battery) = plan.battery else { return 0.0 };
    let (into, out) = (battery.sheet().charge_efficiency, battery.sheet().discharge_efficiency);
    let discharged_w = settled.given_w() / out;
    book.add("to-battery", settled.sun_charge_w * into);
    book.add("battery-conversion", settled.sun_charge_w * (1.0 - into));
    book.add("from-grid", settled.grid_charge_w * into);
    book.add("discharged", discharged_w);
    (settled.sun_charge_w + settled.grid_charge_w) * into - discharged_w
}

fn book_hours(piece: &Piece, ask: Ask, sum: &mut Sum) {
    let pumping = if sum.drive_flow_m3_s > 0.0 {
        1.0
    } else if sum.bus_flow_m3_s > 0.0 {
        ask.share
    } else {
        0.0
    };
    sum.book.add("pumping", pumping);
    if piece.grid_down {
        sum.book.add("outage", 1.0);
        sum.book.add("pumping-in-outage", pumping);
    }
}
