//! The bus that pumps, loads, inverters, battery, generating set and utility share.

use daylift_array::Inverter;
use daylift_grid::{Battery, BatteryRule, GeneratingSet};

use crate::battery::BatteryState;
use crate::cause::LossCause;
use crate::limits::Ladder;
use crate::offers::{BusOffer, Mains, Offers};
use crate::piece::{Piece, Supplied};
use crate::route::{ArrayFeed, Bus, Route};
use crate::surroundings::Surroundings;

/// What holds the bus at the moment: what the route says, as far as hour and battery allow.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Holder<'a> {
    Nobody,
    Utility,
    Generator(&'a GeneratingSet),
    Island,
}

/// The bus in a piece.
pub(crate) struct LiveBus<'a> {
    pub(crate) holder: Holder<'a>,
    /// The battery, when it gives or takes.
    pub(crate) battery: Option<(&'a Battery, BatteryState)>,
    /// Power that the loads on it want \[W\].
    pub(crate) load_w: f64,
    /// Most that it gives to pumps and loads \[W\].
    limit_w: f64,
}

impl<'a> LiveBus<'a> {
    /// The bus of a route in an hour; `battery` is the battery's state, woken or put out.
    pub(crate) fn new(
        route: &Route,
        around: &Surroundings<'a>,
        battery: Option<BatteryState>,
        step: usize,
        hour: u8,
    ) -> Self {
        let generator = || match around.generator {
            Some(generator) if generator.hours.allows(hour) => Holder::Generator(generator.set),
            _ => Holder::Nobody,
        };
        let live = battery.is_some_and(|b| b.live);
        let holder = match route.bus {
            Bus::Dead => Holder::Nobody,
            Bus::Utility { .. } => Holder::Utility,
            Bus::Generator => generator(),
            Bus::Island { .. } if live => Holder::Island,
            Bus::Island { generator: true } => generator(),
            Bus::Island { generator: false } => Holder::Nobody,
        };
        let takes_part = matches!(route.bus, Bus::Utility { battery: true } | Bus::Island { .. });
        let battery = around.battery.zip(battery).filter(|_| takes_part);
        let (load_w, limit_w) = match holder {
            Holder::Nobody => (0.0, 0.0),
            Holder::Utility => (around.load_w, f64::INFINITY),
            Holder::Generator(set) => (around.generator_load_w, set.rated_w()),
            Holder::Island => {
                let discharge_w = battery.map_or(0.0, |(b, _)| b.sheet().discharge_w);
                (around.backed_up_w, offered_w(route, around.offers, step) + discharge_w)
            }
        };
        Self {
            holder,
            battery,
            load_w,
            limit_w,
        }
    }

    /// Whether anything holds it.
    pub(crate) fn is_live(&self) -> bool {
        self.holder != Holder::Nobody
    }

    /// Power that pumps may take \[W\].
    pub(crate) fn for_pumps_w(&self, pump_first: bool) -> f64 {
        if pump_first {
            self.limit_w
        } else {
            self.limit_w - self.load_w.min(self.limit_w)
        }
    }
}

/// The inverters that feed in a route, with what each offers in a step.
fn feeding<'o>(
    route: &'o Route,
    offers: &'o Offers,
    step: usize,
) -> impl Iterator<Item = (&'o Inverter, &'o BusOffer)> {
    let on = offers.inverters.iter().filter(|i| route.groups.get(i.group) == Some(&ArrayFeed::Bus));
    on.filter_map(move |i| Some((&i.inverter, i.bus.get(step)?)))
}

/// What they offer together \[W\].
fn offered_w(route: &Route, offers: &Offers, step: usize) -> f64 {
    feeding(route, offers, step).map(|(_, offer)| offer.bus_w).sum()
}

/// Power for the two uses of the bus \[W\].
#[derive(Clone, Copy)]
struct Uses {
    pump_w: f64,
    loads_w: f64,
}

impl Uses {
    const NONE: Self = Self {
        pump_w: 0.0,
        loads_w: 0.0,
    };

    fn total_w(self) -> f64 {
        self.pump_w + self.loads_w
    }

    /// What of these wants `power_w` covers, in the plant's order.
    fn covered_by(self, power_w: f64, pump_first: bool) -> Self {
        // All of it is all of it, without the rounding of sums and differences.
        if power_w >= self.total_w() {
            return self;
        }
        let (pump_w, loads_w);
        if pump_first {
            pump_w = power_w.min(self.pump_w);
            loads_w = (power_w - pump_w).min(self.loads_w);
        } else {
            loads_w = power_w.min(self.loads_w);
            pump_w = (power_w - loads_w).min(self.pump_w);
        }
        Self { pump_w, loads_w }
    }

    fn less(self, covered: Self) -> Self {
        Self {
            pump_w: self.pump_w - covered.pump_w,
            loads_w: self.loads_w - covered.loads_w,
        }
    }
}

/// Shares the power among pumps, loads, battery and export: the sun first, then the battery by its rule, then what holds
/// the bus.
pub(crate) fn bus_side(
    piece: &mut Piece,
    bus: &LiveBus<'_>,
    route: &Route,
    around: &Surroundings<'_>,
    mains: &Mains,
    step: usize,
) {
    let first = around.sun_to_pump_first;
    let pump_w = mains.bus_w();
    let wanted = Uses {
        pump_w,
        loads_w: bus.load_w.min((bus.limit_w - pump_w).max(0.0)),
    };
    piece.unserved_w = piece.load_w - wanted.loads_w;
    let charge_w = bus.battery.map_or(0.0, |(b, state)| charge_room_w(b, &state));
    let surplus = Surplus::of(bus, route, around);
    // A generating set never shares the bus with the sun, which charges the battery behind it.
    let within_reach = match bus.holder {
        Holder::Utility | Holder::Island => wanted,
        Holder::Generator(_) | Holder::Nobody => Uses::NONE,
    };
    let sun_w = array_to_bus(
        piece,
        route,
        around.offers,
        step,
        within_reach.total_w() + charge_w,
        &surplus,
    );
    let from_sun = within_reach.covered_by(sun_w, first);
    let mut rest = wanted.less(from_sun);
    let beyond_w = sun_w - from_sun.total_w();
    let to_battery_w = beyond_w.min(charge_w);
    piece.exported_w = beyond_w - to_battery_w;
    piece.export_paid = around.export_paid;
    let shares = Shares::of(mains);
    piece.array_to_loads_w = from_sun.loads_w;
    piece.array_to_pump_w += from_sun.pump_w * shares.motor;
    piece.lose(LossCause::Cables, from_sun.pump_w * shares.lost);
    if let Some((battery, state)) = bus.battery {
        let into = battery.sheet().charge_efficiency;
        piece.array_to_battery_w = to_battery_w * into;
        piece.lose(LossCause::BatteryConversion, to_battery_w * (1.0 - into));
        let given = rest.covered_by(discharge_w(bus, battery, &state, rest.total_w()), first);
        rest = rest.less(given);
        battery_side(piece, bus, charge_w - to_battery_w, shares.supplied(given));
    }
    holder_side(piece, bus, &shares.supplied(rest));
}

/// What the battery gives, and what the grid charges of the power that the sun leaves it \[W\].
fn battery_side(piece: &mut Piece, bus: &LiveBus<'_>, left_w: f64, given: Supplied) {
    let Some((battery, state)) = bus.battery else { return };
    piece.battery = given;
    piece.battery.given_w = given.given_w / battery.sheet().discharge_efficiency;
    piece.battery.lost_w += piece.battery.given_w - given.given_w;
    piece.battery_array_share = state.array_share();
    if bus.holder == Holder::Utility && state.is_below(battery.grid_charges_to_j(), battery) {
        let into = battery.sheet().charge_efficiency;
        piece.grid.given_w = left_w;
        piece.grid.to_battery_w = left_w * into;
        piece.grid.lost_w = left_w * (1.0 - into);
    }
}

/// What holds the bus gives the rest.
fn holder_side(piece: &mut Piece, bus: &LiveBus<'_>, rest: &Supplied) {
    match bus.holder {
        Holder::Utility => piece.grid.add(rest),
        Holder::Generator(set) => {
            piece.generator = *rest;
            piece.fuel_m3_s = set.fuel_m3_s(rest.given_w);
            piece.generator_below_least = rest.given_w < set.least_w();
        }
        // An island's wants are covered by sun and battery: what is left is rounding.
        Holder::Island => piece.battery.add(rest),
        Holder::Nobody => {}
    }
}

/// Power that the battery may take \[W\], at the bus.
fn charge_room_w(battery: &Battery, state: &BatteryState) -> f64 {
    if state.is_below(battery.capacity_j(), battery) {
        battery.sheet().charge_w
    } else {
        0.0
    }
}

/// Power that the battery gives of what is wanted \[W\], at the bus.
fn discharge_w(bus: &LiveBus<'_>, battery: &Battery, state: &BatteryState, wanted_w: f64) -> f64 {
    let may = match bus.holder {
        Holder::Island => true,
        Holder::Utility => {
            battery.rule() == BatteryRule::SelfConsumption && state.is_above(battery.reserve_j(), battery)
        }
        Holder::Generator(_) | Holder::Nobody => false,
    };
    if may {
        wanted_w.min(battery.sheet().discharge_w)
    } else {
        0.0
    }
}

/// How pump power on the bus parts between motor and losses.
struct Shares {
    motor: f64,
    lost: f64,
}

impl Shares {
    fn of(mains: &Mains) -> Self {
        let pump_w = mains.bus_w();
        // Energy to the pump counts at the motor's terminals; every source bears the losses alike.
        if pump_w > 0.0 {
            Self {
                motor: mains.motor_w / pump_w,
                lost: mains.lost_w / pump_w,
            }
        } else {
            Self { motor: 0.0, lost: 0.0 }
        }
    }

    fn supplied(&self, uses: Uses) -> Supplied {
        Supplied {
            given_w: uses.total_w(),
            to_pump_w: uses.pump_w * self.motor,
            to_loads_w: uses.loads_w,
            to_battery_w: 0.0,
            lost_w: uses.pump_w * self.lost,
        }
    }
}

impl Supplied {
    fn add(&mut self, other: &Self) {
        self.given_w += other.given_w;
        self.to_pump_w += other.to_pump_w;
        self.to_loads_w += other.to_loads_w;
        self.to_battery_w += other.to_battery_w;
        self.lost_w += other.lost_w;
    }
}

/// What may become of power that pumps, loads and battery leave \[W\].
struct Surplus {
    /// Borne by the line before its voltage throws the inverters off.
    line_w: f64,
    /// Let out by the agreement and the line.
    export_w: f64,
    /// Why the rest is lost.
    cause: LossCause,
}

impl Surplus {
    fn of(bus: &LiveBus<'_>, route: &Route, around: &Surroundings<'_>) -> Self {
        if bus.holder == Holder::Utility {
            let line_w = around.export.borne_by_line_w();
            return Self {
                line_w,
                export_w: around.export.agreed_w().min(line_w),
                cause: LossCause::ExportLimit,
            };
        }
        debug_assert!(matches!(route.bus, Bus::Island { .. }) || !route.groups.contains(&ArrayFeed::Bus));
        Self {
            line_w: f64::INFINITY,
            export_w: 0.0,
            cause: LossCause::BatteryLimit,
        }
    }
}

/// Brings array power to the bus, at most what is taken there and what may leave; gives what arrives \[W\] and books what
/// does not. Inverters that are held back give in proportion to what they offer.
fn array_to_bus(
    piece: &mut Piece,
    route: &Route,
    offers: &Offers,
    step: usize,
    taken_w: f64,
    surplus: &Surplus,
) -> f64 {
    let offered_w = offered_w(route, offers, step);
    let part = |most_w: f64| if offered_w > most_w { most_w / offered_w } else { 1.0 };
    let (borne, brought_part) = (part(taken_w + surplus.line_w), part(taken_w + surplus.export_w));
    for (inverter, offer) in feeding(route, offers, step) {
        let brought = offer.bring(inverter, offer.bus_w * brought_part);
        if borne < 1.0 {
            // First in the list: it has what rating, window and agreement would have cut as well.
            let mut ladder = Ladder::new(offer.array_w + offer.cuts.total_w());
            ladder.hold(
                LossCause::GridVoltageTrip,
                offer.bring(inverter, offer.bus_w * borne).array_w,
            );
            ladder.hold_again(&offer.cuts);
            ladder.hold(surplus.cause, brought.array_w);
            piece.lose_cuts(&ladder.cuts);
        } else {
            piece.lose_cuts(&offer.cuts);
            piece.lose(surplus.cause, offer.array_w - brought.array_w);
        }
        piece.lose(LossCause::InverterConversion, brought.conversion_w);
        piece.lose(LossCause::Cables, brought.cables_w);
    }
    offered_w.min(taken_w + surplus.export_w)
}
