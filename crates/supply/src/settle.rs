//! One span settled: who takes how much, what is lost and why, what happens to tank and battery.
//!
//! It knows routes, offers, stores and the demand; it never asks which arrangement it serves.

use crate::battery::{BatteryFlow, BatteryState};
use crate::bus::{Holder, LiveBus, bus_side};
use crate::cause::{LossCause, ShortfallCause};
use crate::offers::{DriveOffer, Mains};
use crate::piece::{Piece, Recorder};
use crate::route::{ArrayFeed, PumpFeed, Route};
use crate::surroundings::Surroundings;
use crate::tank::{LowMark, TankState};
use crate::timeline::Span;

/// The stores while the year runs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Stores {
    pub(crate) tank: TankState,
    pub(crate) battery: Option<BatteryState>,
}

/// The pumps that may run on the bus, in a piece.
#[derive(Debug, Clone, Copy, PartialEq)]
enum OnMains {
    Run,
    Stand(ShortfallCause),
    /// For the fraction of the time that, with what the drives give, holds the tank at its low mark.
    HoldLowMark,
}

/// Settles one span piece by piece: a piece ends where tank or battery reaches a mark.
pub(crate) fn settle<R: Recorder>(
    span: &Span,
    route: &Route,
    around: &Surroundings<'_>,
    stores: &mut Stores,
    out: &mut R,
) {
    let mut left_s = span.length_s;
    // Instants are seconds of a year in f64: what is left of a span below a nanosecond is rounding.
    while left_s > 1e-9 {
        if let (Some(state), Some(battery)) = (&mut stores.battery, around.battery) {
            state.wake_or_put_out(route.utility, battery);
        }
        let bus = LiveBus::new(route, around, stores.battery, span.step as usize, span.hour);
        let now = Now {
            span,
            route,
            around,
            bus: &bus,
        };
        left_s -= match now.decide_on_mains(&stores.tank) {
            OnMains::HoldLowMark => now.hold_low_mark(stores, left_s, out),
            on_mains => now.run_to_mark(stores, left_s, on_mains, out),
        };
    }
}

/// A moment of a span.
struct Now<'a> {
    span: &'a Span,
    route: &'a Route,
    around: &'a Surroundings<'a>,
    bus: &'a LiveBus<'a>,
}

impl Now<'_> {
    /// Whether the pumps on the bus run: water is wanted, something holds the bus, and the hour is allowed or the tank is
    /// low.
    fn decide_on_mains(&self, tank: &TankState) -> OnMains {
        // Not wanted: the cause is never asked for, as a tank that wants nothing is not short of water.
        if !tank.wanting {
            return OnMains::Stand(ShortfallCause::PumpTooSlow);
        }
        if !self.bus.is_live() {
            return OnMains::Stand(ShortfallCause::GridDown);
        }
        let only_when_low = matches!(self.bus.holder, Holder::Generator(_))
            && self.around.generator.is_some_and(|g| g.pumps_only_when_low);
        if !only_when_low && self.route.mains_hours.allows(self.span.hour) {
            return OnMains::Run;
        }
        let stand = OnMains::Stand(ShortfallCause::OutsideHours);
        match tank.low_mark(self.around.tank) {
            LowMark::Below => OnMains::Run,
            LowMark::Above => stand,
            LowMark::At => {
                let demand_m3_s = self.around.demand_m3_s;
                if self.flows(tank, stand).pumped_m3_s >= demand_m3_s {
                    stand
                } else if self.flows(tank, OnMains::Run).pumped_m3_s > demand_m3_s {
                    OnMains::HoldLowMark
                } else {
                    OnMains::Run
                }
            }
        }
    }

    /// Runs until the span ends or a store reaches a mark; gives the time spent \[s\].
    fn run_to_mark<R: Recorder>(&self, stores: &mut Stores, left_s: f64, on_mains: OnMains, out: &mut R) -> f64 {
        let mut piece = self.flows(&stores.tank, on_mains);
        let (tank, state) = (self.around.tank, &mut stores.tank);
        let net_m3_s = piece.pumped_m3_s - piece.delivered_m3_s;
        let before_m3 = state.content_m3;
        let mark = state.next_mark(net_m3_s, tank);
        let battery_s = self.until_battery_mark_s(stores.battery, &piece.battery_flow());
        piece.length_s = mark.map_or(f64::INFINITY, |m| m.after_s).min(battery_s).min(left_s);
        match mark {
            Some(mark) if mark.after_s <= piece.length_s => state.reach(mark.content_m3, tank),
            _ => state.advance(net_m3_s, piece.length_s, tank),
        }
        piece.tank_m3 = state.content_m3;
        piece.stored_m3 = state.content_m3 - before_m3;
        self.advance_battery(stores, &piece.battery_flow(), piece.length_s, [&mut piece]);
        out.piece(self.span.step as usize, &piece);
        piece.length_s
    }

    /// At the low mark outside the allowed hours: the pumps on the bus run for the share of the time that makes up for
    /// what the drives leave of the demand, and the level stays.
    fn hold_low_mark<R: Recorder>(&self, stores: &mut Stores, left_s: f64, out: &mut R) -> f64 {
        let tank = stores.tank;
        let mut on = self.flows(&tank, OnMains::Run);
        let mut off = self.flows(&tank, OnMains::Stand(ShortfallCause::OutsideHours));
        let share = (on.demand_m3_s - off.pumped_m3_s) / (on.pumped_m3_s - off.pumped_m3_s);
        let mean = on.battery_flow().mixed(share, &off.battery_flow());
        let length_s = self.until_battery_mark_s(stores.battery, &mean).min(left_s);
        on.length_s = length_s * share;
        off.length_s = length_s - on.length_s;
        // The level is held on the whole: also a tank whose low mark is its floor gives all that is wanted.
        on.delivered_m3_s = on.demand_m3_s;
        off.delivered_m3_s = off.demand_m3_s;
        on.stored_m3 = (on.pumped_m3_s - on.delivered_m3_s) * on.length_s;
        off.stored_m3 = -on.stored_m3;
        (on.tank_m3, off.tank_m3) = (tank.content_m3, tank.content_m3);
        self.advance_battery(stores, &mean, length_s, [&mut on, &mut off]);
        for piece in [on, off] {
            out.piece(self.span.step as usize, &piece);
        }
        length_s
    }

    fn until_battery_mark_s(&self, state: Option<BatteryState>, flow: &BatteryFlow) -> f64 {
        let both = self.around.battery.zip(state);
        both.map_or(f64::INFINITY, |(battery, state)| {
            state.until_mark_s(flow.net_w(), battery)
        })
    }

    /// Moves the battery's content and tells each piece, whose lengths add up to `length_s`, what it stored.
    fn advance_battery<const N: usize>(
        &self,
        stores: &mut Stores,
        mean: &BatteryFlow,
        length_s: f64,
        pieces: [&mut Piece; N],
    ) {
        let Some((battery, state)) = self.around.battery.zip(stores.battery.as_mut()) else {
            return;
        };
        let before_j = state.content_j();
        state.advance(mean, length_s, battery);
        let stored_j = state.content_j() - before_j;
        let planned_j = mean.net_w() * length_s;
        for piece in pieces {
            piece.battery_j = state.content_j();
            let own_j = piece.battery_flow().net_w() * piece.length_s;
            piece.battery_stored_j = own_j + (stored_j - planned_j);
        }
    }

    /// All flows of a piece; its length is not yet known.
    fn flows(&self, tank: &TankState, on_mains: OnMains) -> Piece {
        let around = self.around;
        let step = self.span.step as usize;
        let mut piece = Piece::at_rest(self.route.utility, around.load_w, around.demand_m3_s);
        piece.tank_m3 = tank.content_m3;
        self.idle_groups(&mut piece);
        let mains = self.pumps(&mut piece, tank, on_mains);
        piece.pumped_m3_s += mains.flow_m3_s;
        bus_side(&mut piece, self.bus, self.route, around, &mains, step);
        piece.delivered_m3_s = if tank.is_empty(around.tank) {
            piece.demand_m3_s.min(piece.pumped_m3_s)
        } else {
            piece.demand_m3_s
        };
        piece
    }

    /// What the string groups have, and what those lose that go nowhere.
    fn idle_groups(&self, piece: &mut Piece) {
        for (feed, available_w) in self.route.groups.iter().zip(&self.around.offers.available_w) {
            let w = available_w.get(self.span.step as usize).copied().unwrap_or(0.0);
            piece.available_w += w;
            if let ArrayFeed::Idle(cause) = feed {
                piece.lose(*cause, w);
            }
        }
    }

    /// Runs the sets; gives what those on the bus take and pump, as one.
    fn pumps(&self, piece: &mut Piece, tank: &TankState, on_mains: OnMains) -> Mains {
        let on = matches!(on_mains, OnMains::Run | OnMains::HoldLowMark);
        let mut left_w = self.bus.for_pumps_w(self.around.sun_to_pump_first);
        let mut all = Mains::default();
        let mut held_back = None;
        for (feed, set) in self.route.sets.iter().zip(&self.around.offers.sets) {
            let step = self.span.step as usize;
            let mains = &set.mains[usize::from(self.span.month) % 12];
            let alone = set.drive.get(step);
            let sun_runs = alone.is_some_and(|offer| offer.flow_m3_s > 0.0);
            let mut take = |asked: &Mains| {
                let fits = asked.bus_w() <= left_w;
                if fits {
                    left_w -= asked.bus_w();
                    all.add(asked);
                }
                fits
            };
            let cause = match *feed {
                PumpFeed::Stands(cause) => cause,
                PumpFeed::Drive => drive_side(piece, alone, tank.wanting),
                PumpFeed::DriveAndMains { only_without_sun } => {
                    let helped = set.with_mains.get(step).filter(|_| on && !(only_without_sun && sun_runs));
                    match helped {
                        Some(offer) if offer.mains_w > 0.0 && take(&offer.on_mains()) => {
                            drive_side(piece, Some(offer), tank.wanting)
                        }
                        Some(offer) if offer.mains_w > 0.0 => {
                            drive_side(piece, alone, tank.wanting);
                            ShortfallCause::SourceTooSmall
                        }
                        // Mains may help in this hour, and the sun does it alone.
                        Some(offer) => drive_side(piece, Some(offer), tank.wanting),
                        None => drive_side(piece, alone, tank.wanting),
                    }
                }
                PumpFeed::DriveElseMains if !on || sun_runs => drive_side(piece, alone, tank.wanting),
                PumpFeed::Mains | PumpFeed::DriveElseMains => {
                    if *feed == PumpFeed::DriveElseMains {
                        drive_side(piece, alone, tank.wanting);
                    }
                    match on_mains {
                        OnMains::Stand(cause) => cause,
                        _ if !take(mains) => ShortfallCause::SourceTooSmall,
                        _ if mains.throttled => ShortfallCause::WellLimit,
                        _ => ShortfallCause::PumpTooSlow,
                    }
                }
            };
            // Of several sets the first cause of the list speaks.
            held_back = Some(held_back.map_or(cause, |first: ShortfallCause| first.min(cause)));
        }
        piece.held_back_by = held_back.unwrap_or(ShortfallCause::GridDown);
        all
    }
}

/// Books a set on its drive: the array's share of it here, what mains brings on the bus.
fn drive_side(piece: &mut Piece, offer: Option<&DriveOffer>, wanting: bool) -> ShortfallCause {
    let Some(offer) = offer else {
        return ShortfallCause::TooLittleSun;
    };
    if !wanting {
        piece.lose(LossCause::WaterNotWanted, offer.available_w);
        return ShortfallCause::PumpTooSlow;
    }
    piece.lose_cuts(&offer.cuts);
    let share = offer.array_share();
    piece.array_to_pump_w += offer.motor_w * share;
    piece.pumped_m3_s += offer.flow_m3_s;
    piece.hz = piece.hz.max(offer.hz);
    piece.lose(LossCause::DriveConversion, offer.drive_loss_w * share);
    piece.lose(LossCause::Cables, offer.dc_cable_w + offer.motor_cable_w * share);
    offer.held_back_by
}
