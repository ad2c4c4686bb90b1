//! One moment of a row: flow, battery power, and the account of all energies.

use daylift_plant::{BySet, InverterId};

use super::account::Account;
use super::basis::Moment;
use super::bids::{choose, gather};
use super::bus::{self, Leave, Meeting, Settled, Source};
use super::fuel;
use super::phases::Piece;
use super::plan::{GroupAt, Plan};

/// Which pumps may run on the bus.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Pumps {
    /// None: the tank is full.
    None,
    /// Those for which the inverters offer enough, by the row's surplus.
    Surplus,
    /// All.
    All,
}

/// The conditions of the moment.
#[derive(Debug, Clone, Copy)]
pub(super) struct Ask {
    pub(super) pumps: Pumps,
    pub(super) source: Source,
    pub(super) leave: Leave,
}

/// The results of the moment.
#[derive(Debug, Clone, Default)]
pub(super) struct Act {
    pub(super) flow_m3_s: f64,
    /// Power into the battery, less power out of it \[W\].
    pub(super) stored_w: f64,
    /// Share of the time that each set runs directly on the bus.
    pub(super) on_bus: BySet<f64>,
    pub(super) book: Account,
}

impl Act {
    pub(super) fn mix(on: &Self, off: &Self, share: f64) -> Self {
        let mean = |a: f64, b: f64| a * share + b * (1.0 - share);
        Self {
            flow_m3_s: mean(on.flow_m3_s, off.flow_m3_s),
            stored_w: mean(on.stored_w, off.stored_w),
            on_bus: on.on_bus.iter().zip(&off.on_bus).map(|(&on, &off)| mean(on, off)).collect(),
            book: Account::mix(&on.book, &off.book, share),
        }
    }
}

/// Loads of the moment \[W\].
pub(super) struct Wants {
    pub(super) load_w: f64,
    pub(super) backed_up_w: f64,
}

/// What the sets and the bus do together.
pub(super) struct Sum {
    pub(super) book: Account,
    pub(super) drive_flow_m3_s: f64,
    pub(super) bus_flow_m3_s: f64,
    pub(super) bus_pump_w: f64,
    pub(super) bus_motor_w: f64,
    pub(super) on_bus: BySet<f64>,
    /// Share of the time in which some drive gives water.
    pub(super) running: f64,
}

pub(super) fn act(plan: &Plan<'_, '_>, piece: &Piece, ask: Ask) -> Act {
    let moment = plan.basis.moment(piece.step, piece.month);
    let mut sum = Sum {
        book: Account::default(),
        drive_flow_m3_s: 0.0,
        bus_flow_m3_s: 0.0,
        bus_pump_w: 0.0,
        bus_motor_w: 0.0,
        on_bus: plan.plant().sets.iter().map(|_| 0.0).collect(),
        running: 0.0,
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
    book_hours(piece, &mut sum);
    Act {
        flow_m3_s: sum.drive_flow_m3_s + sum.bus_flow_m3_s,
        stored_w,
        on_bus: sum.on_bus,
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
        book.add("fuel", fuel::flow_m3_s(generator.set.sheet(), made_w));
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

fn book_hours(piece: &Piece, sum: &mut Sum) {
    // A drive that starts within the step runs to its end, so of several the longest run counts.
    let pumping = if sum.bus_flow_m3_s > 0.0 { 1.0 } else { sum.running };
    sum.book.add("pumping", pumping);
    if piece.grid_down {
        sum.book.add("outage", 1.0);
        sum.book.add("pumping-in-outage", pumping);
    }
}
