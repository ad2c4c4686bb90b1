//! The bus shared by pumps, loads, inverters, battery, generator and utility.

use daylift_grid::{Battery, BatteryRule, Generator};
use daylift_units::Hour;

use crate::battery::BatteryState;
use crate::cause::LossCause;
use crate::flow::Flow;
use crate::offers::Mains;
use crate::piece::{Piece, Source, Supplied};
use crate::route::{ArrayFeed, Bus, Route};
use crate::stream::Steps;
use crate::sun_on_bus::{Sunlit, Surplus, offered_w};
use crate::surroundings::Surroundings;
use crate::uses::Uses;

/// What holds the bus at the moment: as the route says, if hour and battery allow it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Holder<'a> {
    Nobody,
    Utility,
    Generator(&'a Generator),
    Island,
}

/// The bus during a piece.
pub(crate) struct LiveBus<'a> {
    pub(crate) holder: Holder<'a>,
    /// The battery, when it may charge or discharge.
    pub(crate) battery: Option<(&'a Battery, BatteryState)>,
    /// Power that the loads on the bus want \[W\].
    pub(crate) load_w: f64,
    /// Maximum power that the bus can give to pumps and loads \[W\].
    limit_w: f64,
}

impl<'a> LiveBus<'a> {
    /// The bus of a route in an hour; `battery` is the battery's state, already updated for this instant.
    pub(crate) fn of(
        route: &Route,
        around: &Surroundings<'a>,
        battery: Option<BatteryState>,
        step: usize,
        hour: Hour,
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

    /// Whether anything holds the bus.
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

/// Shares the power among pumps, loads, battery and export: the sun first, then the battery by its rule, then what holds
/// the bus. `lit` are the steps, or `None` if no string group has any power in them.
pub(crate) fn bus_side(
    piece: &mut Piece,
    bus: &LiveBus<'_>,
    route: &Route,
    around: &Surroundings<'_>,
    mains: &Mains,
    lit: Option<&Steps>,
) {
    let first = around.sun_to_pump_first;
    let pump_w = mains.bus_w();
    let wanted = Uses {
        pump_w,
        loads_w: bus.load_w.min((bus.limit_w - pump_w).max(0.0)),
    };
    piece[Flow::Unserved] = piece[Flow::Load] - wanted.loads_w;
    let charge_w = bus.battery.map_or(0.0, |(b, state)| charge_room_w(b, &state));
    let surplus = surplus_of(bus, route, around);
    // A generator never shares the bus with the sun, which only charges the battery meanwhile.
    let within_reach = match bus.holder {
        Holder::Utility | Holder::Island => wanted,
        Holder::Generator(_) | Holder::Nobody => Uses::NONE,
    };
    let sunlit = Sunlit {
        route,
        offers: around.offers,
        wanted: within_reach,
        charge_w,
        surplus,
        pump_first: first,
    };
    let (sun_w, from_sun) = lit.map_or((0.0, Uses::NONE), |steps| sunlit.bring(piece, steps));
    let mut rest = wanted.less(from_sun);
    let beyond_w = sun_w - from_sun.total_w();
    let to_battery_w = beyond_w.min(charge_w);
    piece[Flow::Exported] = beyond_w - to_battery_w;
    if around.export_paid {
        piece[Flow::ExportedPaid] = piece[Flow::Exported];
    }
    let shares = Shares::of(mains);
    piece[Flow::ArrayToLoads] = from_sun.loads_w;
    piece[Flow::ArrayToPump] += from_sun.pump_w * shares.motor;
    piece.lose(LossCause::Cables, from_sun.pump_w * shares.lost);
    if let Some((battery, state)) = bus.battery {
        let into = battery.sheet().charge_efficiency;
        piece[Flow::ArrayToBattery] = to_battery_w * into;
        piece.lose(LossCause::BatteryConversion, to_battery_w * (1.0 - into));
        let given = rest.covered_by(discharge_w(bus, battery, &state, rest.total_w()), first);
        rest = rest.less(given);
        battery_side(piece, bus, charge_w - to_battery_w, shares.supplied(given));
    }
    holder_side(piece, bus, &shares.supplied(rest));
    if let Some((_, state)) = bus.battery.filter(|_| piece[Flow::Discharged] > 0.0) {
        piece[Flow::DischargedOfArray] = piece[Flow::Discharged] * state.array_share();
    }
}

/// What the battery gives, and what the grid charges with the charging power that the sun leaves \[W\].
fn battery_side(piece: &mut Piece, bus: &LiveBus<'_>, left_w: f64, given: Supplied) {
    let Some((battery, state)) = bus.battery else { return };
    let given_w = given.given_w / battery.sheet().discharge_efficiency;
    let supplied = Supplied {
        given_w,
        lost_w: given.lost_w + (given_w - given.given_w),
        ..given
    };
    piece.supply(Source::BATTERY, &supplied);
    if bus.holder == Holder::Utility && state.is_below(battery.grid_charges_to_j(), battery) {
        let into = battery.sheet().charge_efficiency;
        piece[Flow::Imported] = left_w;
        piece[Flow::GridToBattery] = left_w * into;
        piece[Flow::GridChargingLost] = left_w * (1.0 - into);
    }
}

/// The source that holds the bus gives the rest.
fn holder_side(piece: &mut Piece, bus: &LiveBus<'_>, rest: &Supplied) {
    match bus.holder {
        Holder::Utility => piece.supply(Source::GRID, rest),
        Holder::Generator(set) => {
            piece.supply(Source::GENERATOR, rest);
            if rest.given_w > 0.0 {
                piece[Flow::GeneratorRunning] = 1.0;
                piece[Flow::Fuel] = set.fuel_m3_s(rest.given_w);
                piece[Flow::GeneratorBelowLeast] = f64::from(u8::from(rest.given_w < set.least_w()));
            }
        }
        // On an island, sun and battery cover everything: the rest is rounding.
        Holder::Island => piece.supply(Source::BATTERY, rest),
        Holder::Nobody => {}
    }
}

/// Power at which the battery may be charged \[W\], at the bus.
fn charge_room_w(battery: &Battery, state: &BatteryState) -> f64 {
    if state.is_below(battery.capacity_j(), battery) {
        battery.sheet().charge_w
    } else {
        0.0
    }
}

/// Power that the battery gives to cover `wanted_w` \[W\], at the bus.
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

/// How pump power on the bus splits between motor and losses.
struct Shares {
    motor: f64,
    lost: f64,
}

impl Shares {
    fn of(mains: &Mains) -> Self {
        let pump_w = mains.bus_w();
        // Energy to the pump counts at the motor's terminals. Every source covers the same share of the losses.
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
            lost_w: uses.pump_w * self.lost,
        }
    }
}

/// What may happen to power on the bus that pumps, loads and battery do not take.
fn surplus_of(bus: &LiveBus<'_>, route: &Route, around: &Surroundings<'_>) -> Surplus {
    if bus.holder == Holder::Utility {
        return Surplus {
            line_w: around.line_w,
            export_w: around.export_w,
            cause: LossCause::ExportLimit,
        };
    }
    debug_assert!(matches!(route.bus, Bus::Island { .. }) || !route.groups.contains(&ArrayFeed::Bus));
    Surplus {
        line_w: f64::INFINITY,
        export_w: 0.0,
        cause: LossCause::BatteryLimit,
    }
}
