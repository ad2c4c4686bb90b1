//! Random plants, made from the examples and the plants of the validation.

use std::path::Path;

use daylift_array::StringGroup;
use daylift_lift::{Drive, DriveSheet, PumpSet, SetSheet, System, Tank, TankSheet, Well};
use daylift_plant::{Arrangement, ByGroup, BySet, DayHours, GivenRule, Group, Plant, RowRule, Set};
use daylift_units::{Axis, CurveForm, Month, Step};

use crate::draws::Draws;
use crate::{devices, rules, supply};

/// Folders, relative to this crate.
const FOLDERS: [&str; 5] = [
    "../examples/mulenga-ridge",
    "../examples/three-weirs",
    "../examples/tamarind-post",
    "plants/rivals-pair",
    "plants/mixed",
];

/// The plants from which the others are made.
pub(crate) fn parents() -> Vec<Plant> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR"));
    FOLDERS
        .iter()
        .map(|name| daylift_plant_file::read_plant(&folder.join(name)).unwrap().plant)
        .collect()
}

/// The plant of a seed.
pub(crate) fn plant(seed: u32, parents: &[Plant]) -> Plant {
    let mut draws = Draws::new(seed);
    let parent = seed as usize % parents.len();
    let mut plant = parents[parent].clone();
    clock(&mut draws, &mut plant);
    sets(&mut draws, &mut plant);
    strings(&mut draws, &mut plant);
    water(&mut draws, &mut plant);
    supply::vary(&mut draws, &mut plant, parents);
    rules::vary(&mut Draws::aside(seed), &mut plant);
    devices::vary(&mut Draws::further_aside(seed), &mut plant);
    plant
}

/// Sometimes a clock that is half an hour off the steps, or one with daylight saving.
fn clock(draws: &mut Draws, plant: &mut Plant) {
    let zone = draws.one_of(&["Asia/Kolkata", "Europe/Berlin", "America/New_York"]);
    let offset_s = plant.weather.utc_offset_s();
    if draws.chance(0.15) {
        plant.site.axis = Axis::new(2025, plant.site.axis.days(), offset_s, zone, Step::Hour).unwrap();
    }
}

/// One to three sets, each with another well and another wanted frequency.
fn sets(draws: &mut Draws, plant: &mut Plant) {
    let wanted = draws.whole(1, 3) as usize;
    plant.sets.truncate(wanted);
    while plant.sets.len() < wanted && draws.chance(0.6) {
        let mut more = plant.sets.raw[0].clone();
        more.name = format!("{} {}", more.name, plant.sets.len() + 1);
        add_groups(draws, plant);
        plant.sets.push(more);
    }
    let count = plant.sets.next_key();
    for set in &mut plant.sets {
        if let Some(changed) = changed_set(draws, set) {
            set.pump_set = changed;
        }
    }
    if let Some(array) = &mut plant.array {
        for group in &mut array.groups {
            group.set = group.set.filter(|&k| k < count);
        }
        array.groups.retain(|g| g.set.is_some() || g.inverter.is_some());
    }
}

/// Strings for another set: those of the first, sometimes without an inverter.
fn add_groups(draws: &mut Draws, plant: &mut Plant) {
    let set = plant.sets.next_key();
    let Some(array) = &mut plant.array else { return };
    let of_first: Vec<Group> = array.groups.iter().filter(|g| g.set == Some(0.into())).cloned().collect();
    for mut group in of_first {
        group.name = format!("{} {}", group.name, plant.sets.len() + 1);
        group.set = Some(set).filter(|_| group.inverter.is_none() || draws.chance(0.8));
        group.inverter = group.inverter.filter(|_| group.set.is_none() || draws.chance(0.8));
        array.groups.push(group);
    }
}

/// A changed set; `None` where the change makes an impossible one.
fn changed_set(draws: &mut Draws, set: &Set) -> Option<PumpSet> {
    let old = &set.pump_set;
    let mains = old.mains(Month::January)?;
    let mut sheet = old.system().well().sheet().clone();
    if draws.chance(0.4) {
        let drawdown_m = old.system().well().drawdown_m(mains.duty.flow_m3_s) * draws.between(0.3, 1.3);
        let deepest_m = sheet.static_level_m.values().copied().fold(0.0, f64::max);
        sheet.intake_depth_m = Some(deepest_m + sheet.intake_margin_m + drawdown_m.max(0.1));
    }
    let start_hz = Month::ALL.into_iter().map(|month| old.start_hz(month)).fold(0.0, f64::max);
    let wanted_hz = draws.between(start_hz * 1.02, old.greatest_hz());
    let wanted_hz = Some(wanted_hz).filter(|_| draws.chance(0.6));
    let parts = old.system();
    let at_rest = parts.head_parts(Month::January, 0.0);
    let system = System::new(
        Well::new(sheet).ok()?,
        parts.pipes().to_vec(),
        at_rest.outlet_lift_m,
        at_rest.outlet_pressure_m * parts.water().density_kg_m3() * daylift_units::constants::GRAVITY_M_S2,
        *parts.water(),
    );
    let (pump, motor) = (old.pump().clone(), old.motor().clone());
    let wanted_hz = wanted_hz.filter(|_| old.drive().is_some());
    let drive = match old.drive() {
        Some(drive) => Some(changed_drive(draws, drive, old)?),
        None => None,
    };
    let fitted = SetSheet {
        wanted_frequency_hz: wanted_hz,
        ..*old.fitted()
    };
    PumpSet::new(pump, motor, drive, system.ok()?, fitted).ok()
}

/// In a third of the cases a drive whose rating limits the pump.
fn changed_drive(draws: &mut Draws, drive: &Drive, set: &PumpSet) -> Option<Drive> {
    if draws.chance(0.7) {
        return Some(drive.clone());
    }
    let most_w = set.drive_point(Month::January, set.greatest_hz())?.drive_output_w;
    let at_load = |load: f64| (load, drive.losses().efficiency(load * drive.rated_power_w()));
    let sheet = DriveSheet {
        name: drive.name().to_owned(),
        rated_power_w: most_w * draws.between(0.4, 1.1),
        efficiency_points: [0.25, 0.5, 0.75, 1.0].map(at_load).to_vec(),
        curve: CurveForm::Fitted,
        greatest_frequency_hz: drive.greatest_frequency_hz(),
        voltage_drop: drive.voltage_drop(),
        rating: *drive.rating(),
    };
    Drive::new(sheet).ok()?.with_control(devices::control(drive)).ok()
}

/// Other lengths (one for all groups of a drive) and other numbers of strings; groups that lose drive or inverter.
fn strings(draws: &mut Draws, plant: &mut Plant) {
    let several = plant.sets.len() > 1;
    let more: BySet<i64> = (0..=plant.sets.len()).map(|_| i64::from(draws.whole(0, 8)) - 5).collect();
    let Some(array) = &mut plant.array else { return };
    let many = array.groups.len() > 1;
    for group in &mut array.groups {
        let more = more[group.set.unwrap_or(plant.sets.next_key())];
        let series = u32::try_from((i64::from(group.strings.series()) + more).max(2)).unwrap_or(2);
        let parallel = draws.whole(1, 2 * group.strings.parallel());
        let old = &group.strings;
        let cable_loss = old.cable_fraction(old.stc_w());
        if let Ok(changed) = StringGroup::new(old.module().clone(), series, parallel, *old.losses(), cable_loss) {
            group.strings = changed;
        }
        // The reader refuses a group that has neither.
        if many && group.set.is_some() && draws.chance(0.15) {
            group.inverter = None;
        }
        if (many || several) && group.inverter.is_some() && draws.chance(0.15) {
            group.set = None;
        }
    }
    let mut kept = ByGroup::<Group>::new();
    for group in std::mem::take(&mut array.groups) {
        // A length that was refused leaves strings that do not match the others on their drive.
        let other = kept.iter().find(|g| g.set.is_some() && g.set == group.set);
        if other.is_none_or(|g| g.strings.series() == group.strings.series()) {
            kept.push(group);
        }
    }
    array.groups = kept;
}

/// Another tank, its marks, and the hours of pumping.
fn water(draws: &mut Draws, plant: &mut Plant) {
    let low_mark = if draws.chance(0.2) {
        0.0
    } else {
        draws.between(0.05, 0.6)
    };
    let sheet = TankSheet {
        capacity_m3: plant.tank.capacity_m3() * draws.scale(0.15, 2.0),
        restart_level: draws.between(low_mark + 0.1, 0.98),
        low_mark,
    };
    plant.tank = Tank::new(sheet).unwrap();
    plant.pumping.given.hours = Some(hours(draws));
    let of_grid_only = GivenRule {
        hours: Some(hours(draws)),
        ..GivenRule::default()
    };
    plant.pumping.rows = vec![RowRule {
        rows: vec![Arrangement::GRID_ONLY, Arrangement::GRID_ONLY.with_generator()],
        given: of_grid_only,
    }];
    plant.pumping.sun_to_pump_first = draws.chance(0.5);
}

/// Some hours of the day; in a third of the cases all of them.
pub(crate) fn hours(draws: &mut Draws) -> DayHours {
    if draws.chance(0.3) {
        DayHours::ALL
    } else {
        DayHours::between(draws.hour(), draws.hour())
    }
}
