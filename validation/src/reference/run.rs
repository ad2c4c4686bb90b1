//! The run of a year: tank and battery from mark to mark, and the year again until it ends as it began (§9, §10c).

use daylift_grid::BatteryRule;

use super::account::Account;
use super::bus::Leave;
use super::moment::{self, Act, Ask, Pumps};
use super::phases::Piece;
use super::plan::Plan;
use super::starts::Starts;

/// Passes after which the one closest to agreement counts.
const PASSES: usize = 12;
/// Share of the capacity within which start and end agree.
const AGREED: f64 = 1e-3;
/// Contents closer to a mark than this share of the capacity are at the mark.
const TOLERANCE: f64 = 1e-10;
/// Events in a piece after which it is abandoned, so that no mark can block the year.
const EVENTS: usize = 10_000;

/// The state carried from moment to moment.
#[derive(Debug, Clone, Copy)]
struct State {
    water_m3: f64,
    wanted: bool,
    /// The fill latch has stopped the pumps on the bus.
    filled: bool,
    stored_j: f64,
    shut_down: bool,
}

/// A moment that lasts for some time, and the change of the tank in it.
struct Course {
    act: Act,
    net_m3_s: f64,
    delivered_m3_s: f64,
}

/// The periodic year.
pub(super) fn periodic(plan: &Plan<'_, '_>, pieces: &[Piece]) -> Account {
    let capacity_m3 = plan.tank.capacity_m3();
    let capacity_j = plan.battery.map_or(0.0, daylift_grid::Battery::capacity_j);
    let demand_m3: f64 = pieces.iter().map(|p| demand_m3_s(plan, p) * p.length_s()).sum();
    let water_m3 = AGREED * capacity_m3.min(demand_m3);
    let mut state = State {
        water_m3: capacity_m3,
        wanted: false,
        filled: true,
        stored_j: capacity_j,
        shut_down: false,
    };
    let mut starts = Starts::new(plan);
    let mut best: Option<(f64, Account)> = None;
    for _ in 0..PASSES {
        let mut book = Account::default();
        let begin = state;
        starts.begin_year();
        for piece in pieces {
            run_piece(plan, piece, &mut state, &mut starts, &mut book);
        }
        let of_water = (state.water_m3 - begin.water_m3).abs() / water_m3.max(f64::MIN_POSITIVE);
        let of_battery = (state.stored_j - begin.stored_j).abs() / (AGREED * capacity_j).max(f64::MIN_POSITIVE);
        let off = of_water.max(of_battery);
        if best.as_ref().is_none_or(|(least, _)| off < *least) {
            best = Some((off, book));
        }
        if off <= 1.0 {
            break;
        }
    }
    best.map_or_else(Account::default, |(_, book)| book)
}

fn demand_m3_s(plan: &Plan<'_, '_>, piece: &Piece) -> f64 {
    plan.plant().demand.flow_m3_s(piece.month, piece.hour)
}

fn run_piece(plan: &Plan<'_, '_>, piece: &Piece, state: &mut State, starts: &mut Starts, book: &mut Account) {
    let demand_m3_s = demand_m3_s(plan, piece);
    book.add("demand", demand_m3_s * piece.length_s());
    let mut left_s = piece.length_s();
    if !piece.grid_down {
        state.shut_down = false;
    }
    for _ in 0..EVENTS {
        if left_s <= 0.0 {
            break;
        }
        control_tank(plan, piece, state);
        update_dark(plan, piece, state);
        let course = course(plan, piece, state, demand_m3_s);
        let (until_s, event) = next_event(plan, piece, state, &course, left_s);
        starts.see(plan, piece, &course.act, until_s, book);
        book.add_times(&course.act.book, until_s);
        book.add("pumped", course.act.flow_m3_s * until_s);
        book.add("delivered", course.delivered_m3_s * until_s);
        state.water_m3 += course.net_m3_s * until_s;
        state.stored_j += course.act.stored_w * until_s;
        match event {
            Event::Tank(mark_m3) => state.water_m3 = mark_m3,
            Event::Battery(mark_j) => state.stored_j = mark_j,
            Event::None => {}
        }
        left_s -= until_s;
    }
    control_tank(plan, piece, state);
}

/// The tank's controller: once the tank is full, no water is wanted until it is down at the restart level. The fill latch
/// does the same at its own levels.
fn control_tank(plan: &Plan<'_, '_>, piece: &Piece, state: &mut State) {
    let tolerance_m3 = TOLERANCE * plan.tank.capacity_m3();
    if state.water_m3 >= plan.tank.capacity_m3() - tolerance_m3 {
        state.wanted = false;
    } else if state.water_m3 <= plan.tank.restart_m3() + tolerance_m3 {
        state.wanted = true;
    }
    let latch = plan.rule.latch(&plan.tank, piece.hour);
    if state.water_m3 >= latch.stops_m3 - tolerance_m3 {
        state.filled = true;
    } else if state.water_m3 <= latch.releases_m3 + tolerance_m3 {
        state.filled = false;
    }
}

/// The island shuts down at its minimum content; the shutdown ends at its restart content.
fn update_dark(plan: &Plan<'_, '_>, piece: &Piece, state: &mut State) {
    let Some(battery) = plan.battery.filter(|_| piece.grid_down) else {
        return;
    };
    let tolerance_j = TOLERANCE * battery.capacity_j();
    if state.shut_down && state.stored_j >= battery.restart_j() - tolerance_j {
        state.shut_down = false;
    } else if state.stored_j <= battery.least_j() + tolerance_j {
        state.shut_down = true;
    }
}

fn leave(plan: &Plan<'_, '_>, piece: &Piece, state: &State) -> Leave {
    let Some(battery) = plan.battery else {
        return Leave::default();
    };
    let tolerance_j = TOLERANCE * battery.capacity_j();
    let below = |mark_j: f64| state.stored_j < mark_j - tolerance_j;
    let above = |mark_j: f64| state.stored_j > mark_j + tolerance_j;
    Leave {
        charge: below(battery.capacity_j()),
        give: piece.grid_down || (battery.rule() == BatteryRule::SelfConsumption && above(battery.reserve_j())),
        grid_charge: !piece.grid_down && below(battery.grid_charges_to_j()),
    }
}

/// The rates from here until something changes.
fn course(plan: &Plan<'_, '_>, piece: &Piece, state: &State, demand_m3_s: f64) -> Course {
    let source = plan.source(piece, state.shut_down);
    let ask = |pumps: Pumps| Ask {
        pumps,
        source,
        leave: leave(plan, piece, state),
    };
    let at = |pumps: Pumps| moment::act(plan, piece, ask(pumps));
    let tolerance_m3 = TOLERANCE * plan.tank.capacity_m3();
    let above_low_m3 = state.water_m3 - plan.rule.low_mark_m3(&plan.tank);
    let open = plan.is_open(piece, source, state.filled);
    let act = if !state.wanted {
        at(Pumps::None)
    } else if open || above_low_m3 < -tolerance_m3 {
        at(Pumps::All)
    } else if above_low_m3 > tolerance_m3 {
        at(Pumps::Surplus)
    } else {
        let (on, off) = (at(Pumps::All), at(Pumps::Surplus));
        let share = (demand_m3_s - off.flow_m3_s) / (on.flow_m3_s - off.flow_m3_s);
        if off.flow_m3_s >= demand_m3_s {
            off
        } else if on.flow_m3_s <= demand_m3_s {
            on
        } else {
            let mut held = Act::mix(&on, &off, share);
            held.flow_m3_s = demand_m3_s;
            held
        }
    };
    flow_of_tank(state, act, demand_m3_s, tolerance_m3)
}

fn flow_of_tank(state: &State, act: Act, demand_m3_s: f64, tolerance_m3: f64) -> Course {
    let net_m3_s = act.flow_m3_s - demand_m3_s;
    let empty = state.water_m3 <= tolerance_m3 && net_m3_s < 0.0;
    Course {
        net_m3_s: if empty { 0.0 } else { net_m3_s },
        delivered_m3_s: if empty { act.flow_m3_s } else { demand_m3_s },
        act,
    }
}

enum Event {
    None,
    Tank(f64),
    Battery(f64),
}

/// Time to the next mark in the direction in which a content goes, and the mark.
fn next_mark(content: f64, rate: f64, tolerance: f64, marks: &[f64]) -> Option<(f64, f64)> {
    let ahead = marks.iter().filter(|&&mark| (mark - content) * rate.signum() > tolerance);
    ahead.map(|&mark| ((mark - content) / rate, mark)).min_by(|a, b| a.0.total_cmp(&b.0))
}

fn next_event(plan: &Plan<'_, '_>, piece: &Piece, state: &State, course: &Course, left_s: f64) -> (f64, Event) {
    let mut next = (left_s, Event::None);
    let tank = &plan.tank;
    if course.net_m3_s != 0.0 {
        let latch = plan.rule.latch(tank, piece.hour);
        let marks = [
            0.0,
            plan.rule.low_mark_m3(tank),
            tank.restart_m3(),
            latch.releases_m3,
            latch.stops_m3,
            tank.capacity_m3(),
        ];
        let mark = next_mark(state.water_m3, course.net_m3_s, TOLERANCE * tank.capacity_m3(), &marks);
        if let Some((in_s, mark_m3)) = mark.filter(|m| m.0 < next.0) {
            next = (in_s, Event::Tank(mark_m3));
        }
    }
    if let Some(battery) = plan.battery.filter(|_| course.act.stored_w != 0.0) {
        let marks = [
            battery.least_j(),
            battery.restart_j(),
            battery.reserve_j(),
            battery.grid_charges_to_j(),
            battery.capacity_j(),
        ];
        let mark = next_mark(
            state.stored_j,
            course.act.stored_w,
            TOLERANCE * battery.capacity_j(),
            &marks,
        );
        if let Some((in_s, mark_j)) = mark.filter(|m| m.0 < next.0) {
            next = (in_s, Event::Battery(mark_j));
        }
    }
    next
}
