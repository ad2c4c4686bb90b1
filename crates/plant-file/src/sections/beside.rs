//! `[grid_input]`, `[battery]`, `[generator]` and `[night_tank]`: optional parts in addition to grid, array and drive.

use daylift_grid::{Battery, BatteryUse};
use daylift_lift::Tank;
use daylift_plant::{Beside, DayHours, GeneratorUse, InputKind, NightTank, SecondInput, Wiring};
use daylift_units::fields::{generator_use, grid_input, night_tank};
use daylift_units::{Fault, Hourly};

use super::equipment::{build_battery, build_generator};
use crate::outline::{
    BatteryUseKeys, GeneratorKeys, GeneratorUseKeys, GridInputKeys, InputKindWord, NightTankKeys, PlantKeys, PumpsWhen,
    Start,
};
use crate::read::{ALLOWED_WINDOWS, Placed, Section};

/// All of them; a part that the file does not have is `None` inside. `None` as a whole when one has faults.
pub(crate) fn read(root: &Placed<PlantKeys>, tank: Option<&Tank>) -> Option<Beside> {
    let keys = &root.keys;
    let second_input = keys.grid_input.may(read_input);
    let battery = keys.battery.may(read_battery_use);
    let generator = keys.generator.may(read_generator_use);
    let night_tank = keys.night_tank.may(|bigger| read_night_tank(bigger, tank));
    Some(Beside {
        second_input: second_input?,
        battery: battery?,
        generator: generator?,
        night_tank: night_tank?,
    })
}

fn read_input(Placed { at, keys }: &Placed<GridInputKeys>) -> Option<SecondInput> {
    let keys = keys.as_ref()?;
    let (takes_over, line_voltage) = (&keys.takes_over_below, &keys.line_voltage_v);
    let kind = match keys.kind {
        InputKindWord::Switch if line_voltage.given().is_some() => {
            refuse_of_other_kind(at, grid_input::LINE_VOLTAGE.key, "blend")
        }
        InputKindWord::Switch => Some(InputKind::Switch {
            takes_over_below: takes_over.value(at),
        }),
        InputKindWord::Blend if takes_over.given().is_some() => {
            refuse_of_other_kind(at, grid_input::TAKES_OVER.key, "switch")
        }
        InputKindWord::Blend => Some(InputKind::Blend {
            line_voltage_v: line_voltage.value(at),
        }),
    };
    Some(SecondInput {
        kind: kind?,
        hours: keys.hours,
        wanted_speed: Hourly::from_array(keys.wanted_speed.unwrap_or([1.0; 24])),
    })
}

/// Books a fault for a key that belongs to the other kind of input.
fn refuse_of_other_kind<T>(at: &Section, key: &str, other: &str) -> Option<T> {
    at.fault(Fault::new(
        key,
        "key that belongs to the other kind",
        format!("`{key}`"),
        format!("only with kind = \"{other}\""),
        format!("remove it, or set kind = \"{other}\""),
    ));
    None
}

fn read_battery_use(Placed { at, keys }: &Placed<BatteryUseKeys>) -> Option<Battery> {
    let sheet = keys.file.file.as_ref().and_then(build_battery);
    let uses = keys.uses.as_ref()?;
    let uses = BatteryUse {
        rule: uses.rule,
        reserve: uses.reserve,
        grid_charges_to: uses.grid_charges_to.unwrap_or(uses.reserve),
        restart: uses.restart,
    };
    at.booked(Battery::new(sheet?, uses))
}

fn read_generator_use(Placed { at, keys }: &Placed<GeneratorUseKeys>) -> Option<GeneratorUse> {
    let set = keys.file.file.as_ref().and_then(build_generator);
    let uses = keys.uses.as_ref()?;
    let hours = read_attended_hours(at, uses);
    let mut beside = uses.beside.as_ref().map(|words| words.0.clone()).unwrap_or_default();
    if !beside.contains(&Wiring::GridOnly) {
        beside.push(Wiring::GridOnly);
    }
    Some(GeneratorUse {
        set: set?,
        beside,
        start_delay_s: uses.start_delay_s,
        hours: hours?,
        loads: uses.loads,
        pumps_only_when_low: uses.pumps_when == PumpsWhen::TankIsLow,
        sun_share: uses.sun_share,
        fuel_price_per_m3: uses.fuel_price_per_m3,
        fuel_escalation: uses.fuel_escalation,
        upkeep_per_s: uses.upkeep_per_s,
    })
}

/// A generator that starts by itself may run at any hour; one started by hand only in attended hours.
fn read_attended_hours(at: &Section, keys: &GeneratorKeys) -> Option<DayHours> {
    let field = &generator_use::ATTENDED_HOURS;
    match (keys.start, keys.attended_hours) {
        (Start::ByHand, Some(hours)) => Some(hours),
        (Start::ByHand, None) => {
            at.missing(field.key, field.quantity, ALLOWED_WINDOWS);
            None
        }
        (Start::Automatic, None) => Some(DayHours::ALL),
        (Start::Automatic, Some(_)) => {
            at.fault(Fault::new(
                field.key,
                field.quantity,
                "hours together with start = \"automatic\"",
                "attended hours only with start = \"by-hand\"",
                "remove them, or set start = \"by-hand\"",
            ));
            None
        }
    }
}

fn read_night_tank(Placed { at, keys }: &Placed<NightTankKeys>, tank: Option<&Tank>) -> Option<NightTank> {
    let keys = keys.as_ref()?;
    let tank = tank?;
    if keys.capacity_m3 <= tank.capacity_m3() {
        at.fault(Fault::new(
            night_tank::CAPACITY.key,
            night_tank::CAPACITY.quantity,
            night_tank::CAPACITY.print_si(keys.capacity_m3),
            format!(
                "more than the present tank, {}",
                night_tank::CAPACITY.print_si(tank.capacity_m3())
            ),
            "give the whole volume of the tank that would replace it",
        ));
        return None;
    }
    Some(NightTank {
        tank: tank.with_capacity(keys.capacity_m3),
        hours: keys.hours,
        beside: keys.beside.0.clone(),
    })
}
