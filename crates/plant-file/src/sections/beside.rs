//! `[grid_input]`, `[battery]`, `[generator]` and `[night_tank]`: what may stand beside grid, array and drive.

use std::path::Path;

use daylift_grid::{Battery, BatteryRule, BatteryUse};
use daylift_lift::Tank;
use daylift_plant::{Beside, DayHours, GeneratorUse, InputKind, LoadsFed, NightTank, Pumping, SecondInput, Wiring};
use daylift_units::Fault;
use daylift_units::fields::{battery_use, generator_use, grid_input, night_tank};

use super::day_hours::day_hours;
use super::equipment::{booked, open, read_battery, read_generator};
use crate::provenance::OriginValue;
use crate::read::Section;

/// All of them, each `None` inside when the file has it not; `None` when one has faults.
pub(crate) fn read(
    root: &Section<'_>,
    folder: &Path,
    pumping: Option<&Pumping>,
    tank: Option<&Tank>,
) -> Option<Beside> {
    let second_input = root.optional_table("grid_input", "grid_input", |section| read_input(section, pumping));
    let battery = root.optional_table("battery", "battery", |section| read_battery_use(section, folder));
    let generator = root.optional_table("generator", "generator", |section| read_generator_use(section, folder));
    let night_tank = root.optional_table("night_tank", "night_tank", |section| read_night_tank(section, tank));
    Some(Beside {
        second_input: second_input?,
        battery: battery?,
        generator: generator?,
        night_tank: night_tank?,
    })
}

#[derive(Clone, Copy)]
enum Kind {
    Switch,
    Blend,
}

fn read_input(section: &Section<'_>, pumping: Option<&Pumping>) -> Option<SecondInput> {
    let kind = section.choice(
        "kind",
        "how mains helps on the drives",
        &[("switch", Kind::Switch), ("blend", Kind::Blend)],
    );
    let hours = if section.has(grid_input::HOURS.key) {
        day_hours(section, &grid_input::HOURS)
    } else {
        section.by_default(
            grid_input::HOURS.key,
            OriginValue::Text("as pumping.mains_hours".into()),
            "",
            "the hours of pumping on mains",
        );
        pumping.map(|p| p.mains_hours)
    };
    let wanted_speed = if section.has(grid_input::WANTED_SPEED.key) {
        section.list(&grid_input::WANTED_SPEED, Some(24)).and_then(|list| list.try_into().ok())
    } else {
        section.by_default(
            grid_input::WANTED_SPEED.key,
            OriginValue::Number(100.0),
            "%",
            "the wanted frequency at every hour",
        );
        Some([1.0; 24])
    };
    section.know(grid_input::LINE_VOLTAGE.key);
    section.know(grid_input::TAKES_OVER.key);
    let kind = kind.and_then(|kind| match kind {
        Kind::Switch => {
            refuse_of_other_kind(section, grid_input::LINE_VOLTAGE.key, "blend")?;
            section
                .number(&grid_input::TAKES_OVER)
                .map(|takes_over_below| InputKind::Switch { takes_over_below })
        }
        Kind::Blend => {
            refuse_of_other_kind(section, grid_input::TAKES_OVER.key, "switch")?;
            section
                .number(&grid_input::LINE_VOLTAGE)
                .map(|line_voltage_v| InputKind::Blend { line_voltage_v })
        }
    });
    Some(SecondInput {
        kind: kind?,
        hours: hours?,
        wanted_speed: daylift_units::Hourly::from_array(wanted_speed?),
    })
}

/// A key that only the other kind has.
fn refuse_of_other_kind(section: &Section<'_>, key: &str, other: &str) -> Option<()> {
    if !section.has(key) {
        return Some(());
    }
    section.fault(Fault::new(
        key,
        "key of the other kind",
        format!("`{key}`"),
        format!("only with kind = \"{other}\""),
        format!("remove it, or set kind = \"{other}\""),
    ));
    None
}

fn read_battery_use(section: &Section<'_>, folder: &Path) -> Option<Battery> {
    let sheet = open(section, folder, "file", "battery", read_battery);
    let rules = [
        ("self-consumption", BatteryRule::SelfConsumption),
        ("reserve", BatteryRule::Reserve),
    ];
    let rule = section.choice("rule", "when the battery gives while the grid is there", &rules);
    let reserve = section.number(&battery_use::RESERVE);
    let grid_charges_to = if section.has(battery_use::GRID_CHARGES.key) {
        section.optional(&battery_use::GRID_CHARGES)
    } else {
        section.by_default(
            battery_use::GRID_CHARGES.key,
            OriginValue::Text("the reserve".into()),
            "",
            "the reserve is made up again after an outage",
        );
        reserve
    };
    let contents = (reserve, grid_charges_to, section.number(&battery_use::RESTART));
    let uses = BatteryUse {
        rule: rule?,
        reserve: contents.0?,
        grid_charges_to: contents.1?,
        restart: contents.2?,
    };
    booked(section, Battery::new(sheet?, uses))
}

fn read_generator_use(section: &Section<'_>, folder: &Path) -> Option<GeneratorUse> {
    let set = open(section, folder, "file", "generator", read_generator);
    let beside = read_beside(section, "generating set", false);
    let by_hand = section.choice(
        "start",
        "how the generating set is started",
        &[("automatic", false), ("by-hand", true)],
    );
    let start_delay_s = section.number(&generator_use::START_DELAY);
    let hours = by_hand.and_then(|by_hand| read_attended_hours(section, by_hand));
    let loads = section.choice(
        "loads",
        "loads that the generating set feeds",
        &[
            ("none", LoadsFed::None),
            ("backed-up", LoadsFed::BackedUp),
            ("all", LoadsFed::All),
        ],
    );
    let pumps_only_when_low = section.choice(
        "pumps_when",
        "when the generating set pumps",
        &[("tank-is-low", true), ("water-is-wanted", false)],
    );
    let money = (
        section.number(&generator_use::FUEL_PRICE),
        section.number(&generator_use::FUEL_ESCALATION),
        section.number(&generator_use::UPKEEP),
    );
    let mut beside = beside?;
    if !beside.contains(&Wiring::GridOnly) {
        beside.push(Wiring::GridOnly);
    }
    Some(GeneratorUse {
        set: set?,
        beside,
        start_delay_s: start_delay_s?,
        hours: hours?,
        loads: loads?,
        pumps_only_when_low: pumps_only_when_low?,
        fuel_price_per_m3: money.0?,
        fuel_escalation: money.1?,
        upkeep_per_s: money.2?,
    })
}

/// A set that starts by itself may run at any hour, one started by hand while somebody is there.
fn read_attended_hours(section: &Section<'_>, by_hand: bool) -> Option<DayHours> {
    let field = &generator_use::ATTENDED_HOURS;
    if by_hand {
        return day_hours(section, field);
    }
    if section.has(field.key) {
        section.fault(Fault::new(
            field.key,
            field.quantity,
            "hours beside start = \"automatic\"",
            "attended hours only with start = \"by-hand\"",
            "remove them, or set start = \"by-hand\"",
        ));
        return None;
    }
    Some(DayHours::ALL)
}

fn read_night_tank(section: &Section<'_>, tank: Option<&Tank>) -> Option<NightTank> {
    let capacity_m3 = section.number(&night_tank::CAPACITY);
    let hours = day_hours(section, &night_tank::HOURS);
    let beside = read_beside(section, "bigger tank", true);
    let (capacity_m3, tank) = (capacity_m3?, tank?);
    if capacity_m3 <= tank.capacity_m3() {
        section.fault(Fault::new(
            night_tank::CAPACITY.key,
            night_tank::CAPACITY.quantity,
            night_tank::CAPACITY.print_si(capacity_m3),
            format!(
                "more than the tank that is there, {}",
                night_tank::CAPACITY.print_si(tank.capacity_m3())
            ),
            "give the whole content of the tank that would stand in its place",
        ));
        return None;
    }
    Some(NightTank {
        tank: tank.with_capacity(capacity_m3),
        hours: hours?,
        beside: beside?,
    })
}

fn read_beside(section: &Section<'_>, what: &str, needed: bool) -> Option<Vec<Wiring>> {
    if !needed && !section.has("beside") {
        return Some(Vec::new());
    }
    let quantity = format!("arrangements beside which the {what} gets a row");
    section.choices("beside", &quantity, &Wiring::choices())
}
