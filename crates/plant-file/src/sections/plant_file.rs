//! The plant file as a whole.

use std::path::{Path, PathBuf};
use std::rc::Rc;
use std::sync::Arc;

use daylift_plant::{Arrangement, ByInverter, BySet, Design, Feeder, Plant, Set, StringRules, SwitchTimes, Wiring};
use daylift_tables::{Known, Located, Source};
use daylift_units::fields::{changeover, strings};
use daylift_units::{Fault, Warning};

use super::array::Names;
use super::{array, beside, costs, grid, inverters, origin, plausible, pumping, restart, site, use_of_water, water};
use crate::files::Files;
use crate::outline::PlantKeys;
use crate::provenance::{self, ValueOrigin};
use crate::read::{Book, Part, Placed, Section, read_document, usual};

/// A plant, with the warnings and origins that were collected while it was read.
#[derive(Debug)]
pub struct Read {
    /// The plant.
    pub plant: Plant,
    /// Warnings that belong to every result of the plant.
    pub warnings: Vec<Warning>,
    /// Where each value came from.
    pub origins: Vec<ValueOrigin>,
    /// The TOML files as they were read: plant file and equipment.
    pub documents: Vec<Arc<Source>>,
}

/// Reads a plant: `path` is its folder or its plant file.
///
/// # Errors
/// Every fault of the plant file and of all files that it names.
pub fn read_plant(path: &Path) -> Result<Read, Vec<Located>> {
    read_plant_from(path, Files::default())
}

/// As [`read_plant`], with `files` in place of the disk.
///
/// # Errors
/// As [`read_plant`].
pub fn read_plant_from(path: &Path, files: Files) -> Result<Read, Vec<Located>> {
    read(path, &Rc::new(Book::of(files, None)))
}

/// As [`read_plant_from`]; `known` remembers results of earlier readings, and this reading adds its own.
///
/// # Errors
/// As [`read_plant`].
pub fn read_plant_knowing(path: &Path, files: Files, known: Arc<Known>) -> Result<Read, Vec<Located>> {
    read(path, &Rc::new(Book::of(files, Some(known))))
}

fn read(path: &Path, book: &Rc<Book>) -> Result<Read, Vec<Located>> {
    let plant_file = if path.is_dir() {
        path.join("plant.toml")
    } else {
        path.to_owned()
    };
    let plant = match book.files().read(&plant_file, "", "plant file") {
        Ok(source) => {
            let folder = plant_file.parent().map_or_else(PathBuf::new, Path::to_owned);
            read_file(book, &source, &folder)
        }
        Err(fault) => {
            book.fault(fault, None);
            None
        }
    };
    let gathered = book.close();
    match plant {
        Some(plant) if gathered.faults.is_empty() => {
            let mut warnings = gathered.warnings;
            warnings.extend(provenance::warning(&gathered.origins));
            warnings.extend(plant.set_warnings());
            warnings.extend(pumping::warnings(&plant));
            warnings.extend(plausible::warnings(&plant));
            Ok(Read {
                plant,
                warnings,
                origins: gathered.origins,
                documents: gathered.documents,
            })
        }
        _ => {
            let mut faults = gathered.faults;
            faults.sort_by_key(|located| {
                let at = located.place.as_ref().map(|p| (p.source.name.clone(), p.span.start));
                let own_file = at.as_ref().is_none_or(|(name, _)| *name == plant_file.display().to_string());
                (!own_file, at)
            });
            Err(faults)
        }
    }
}

/// Reads a plant file, and all files that it names, relative to `folder`.
fn read_file(book: &Rc<Book>, source: &Arc<Source>, folder: &Path) -> Option<Plant> {
    read_sections(&read_document(book, source, folder)?)
}

fn read_sections(root: &Placed<PlantKeys>) -> Option<Plant> {
    let Placed { at, keys } = root;
    let place = site::read(root);
    let feeders = inverters::read(root);
    let sets = water::read_sets(root);
    let names = Names {
        inverters: feeders.iter().map(|(name, _)| name.as_str()).collect(),
        sets: sets.iter().map(|s| (s.name.as_str(), s.has_drive)).collect(),
    };
    // String groups refer to them by name.
    at.distinct("inverter", &names.inverters.raw);
    at.distinct(
        "pump_set",
        &names.sets.iter().map(|(name, _)| *name).collect::<Vec<_>>(),
    );
    let array = array::read_array(root, &names, place.horizon.as_ref());
    let has = Parts {
        array: keys.array.is_there(),
        inverter: !feeders.is_empty(),
        drive: sets.iter().any(|s| s.has_drive),
        battery: keys.battery.is_there(),
        connected: keys.grid.is_there() || keys.tariff.is_there(),
    };
    let tank = use_of_water::read_tank(root);
    let demand = use_of_water::read_demand(root);
    let (island, set) = (keys.battery.is_there(), keys.generator.is_there());
    let pumping = pumping::read(root, has.connected || island || set);
    let restart = restart::read(root, has.connected || set);
    let beside = beside::read(root, tank.as_ref());
    let costs = costs::read(root, &has);
    let grid = if has.connected {
        grid::read(root, place.axis.as_ref())
    } else {
        grid::none(root, place.axis.as_ref())
    };
    let switch_times = read_switch_times(root, has.connected);
    let string_rules = read_string_rules(root, has.array);
    if !has.connected {
        warn_of_grid_parts(root);
    }
    let may_be_today = keys.reference.is_some_and(|reference| check_reference(root, reference, &has));
    check_array(at, &has);
    origin::read(&keys.origin);
    let feeders: ByInverter<Feeder> = feeders.into_iter().map(|(_, feeder)| feeder).collect::<Option<_>>()?;
    let sets: BySet<Set> = sets.into_iter().map(|s| s.set).collect::<Option<_>>()?;
    if has.array && array.is_none() {
        return None;
    }
    let place = place.whole?;
    let plant = Plant {
        name: keys.name.clone()?,
        reference: keys.reference?,
        site: place.site,
        weather: place.weather,
        weather_source: place.source,
        array,
        feeders,
        sets,
        tank: tank?,
        demand: demand?,
        pumping: pumping?,
        restart: restart?,
        grid: grid?,
        beside: beside?,
        design: Design {
            switch_times: switch_times?,
            rated_cycles: keys.changeover.there().and_then(|section| section.keys.as_ref()?.rated_cycles),
            strings: string_rules?,
        },
        costs: costs?,
    };
    if may_be_today && !plant.arrangements().contains(&plant.reference) {
        at.fault(reference_without_row(&plant));
    }
    pumping::check(root, &plant);
    book_implausible(root, &plant);
    Some(plant)
}

/// Books faults of parts that cannot work together.
fn book_implausible(root: &Placed<PlantKeys>, plant: &Plant) {
    if let (Some(tank), Some(fault)) = (root.keys.tank.there(), plausible::tank_fault(plant)) {
        tank.at.fault(fault);
    }
    if let (Some(battery), Some(fault)) = (root.keys.battery.there(), plausible::battery_fault(plant)) {
        battery.at.fault(fault);
    }
}

fn check_array(at: &Section, has: &Parts) {
    if !has.array && (has.inverter || has.drive) {
        at.fault(Fault::new(
            if has.inverter { "inverter" } else { "drive" },
            "array",
            "an inverter or a drive without [array]",
            "an array to feed it",
            "add [array], or remove [inverter] and [drive]",
        ));
    }
}

/// Warns of sections that need a grid, in the file of a farm without one.
fn warn_of_grid_parts(Placed { at, keys }: &Placed<PlantKeys>) {
    let (island, set) = (keys.battery.is_there(), keys.generator.is_there());
    let parts = [
        ("inverter", keys.inverter.is_there && !island),
        ("changeover", keys.changeover.is_there()),
        ("pumping", keys.pumping.is_there() && !island && !set),
        ("grid_input", keys.grid_input.is_there() && !set),
    ];
    let unused: Vec<String> = parts
        .iter()
        .filter(|(_, is_unused)| *is_unused)
        .map(|(key, _)| format!("[{key}]"))
        .collect();
    if !unused.is_empty() {
        let text = format!("without [grid] nothing uses {}", unused.join(", "));
        at.book().warn("grid", text);
    }
}

/// Switching times. Without a grid nothing switches, so the defaults are not listed.
fn read_switch_times(Placed { at, keys }: &Placed<PlantKeys>, connected: bool) -> Option<SwitchTimes> {
    match &keys.changeover {
        Part::There(section) => section.keys.as_ref().map(|keys| SwitchTimes {
            to_drive_s: keys.to_drive_s,
            grid_stable_s: keys.grid_stable_s,
            to_mains_s: keys.to_mains_s,
        }),
        Part::Faulty => None,
        Part::Absent => {
            let at = connected.then_some(at);
            Some(SwitchTimes {
                to_drive_s: usual!(at, "changeover", changeover::TO_DRIVE),
                grid_stable_s: usual!(at, "changeover", changeover::GRID_STABLE),
                to_mains_s: usual!(at, "changeover", changeover::TO_MAINS),
            })
        }
    }
}

/// Conditions for judging strings. Without an array there are none to judge, so the defaults are not listed.
fn read_string_rules(Placed { at, keys }: &Placed<PlantKeys>, has_array: bool) -> Option<StringRules> {
    if keys.strings.is_there() && !has_array {
        at.book().warn("strings", "without [array] nothing uses [strings]".to_owned());
    }
    match &keys.strings {
        Part::There(section) => section.keys.as_ref().map(|keys| StringRules {
            noon_w_m2: keys.noon_w_m2,
            noon_wind_m_s: keys.noon_wind_m_s,
            useful_speed: keys.useful_speed,
        }),
        Part::Faulty => None,
        Part::Absent => {
            let at = has_array.then_some(at);
            Some(StringRules {
                noon_w_m2: usual!(at, "strings", strings::NOON),
                noon_wind_m_s: usual!(at, "strings", strings::NOON_WIND),
                useful_speed: usual!(at, "strings", strings::USEFUL_SPEED),
            })
        }
    }
}

/// The fault of a reference that is none of the plant's rows, although the file has the sections for it.
fn reference_without_row(plant: &Plant) -> Fault {
    let rows: Vec<String> = plant.arrangements().iter().map(|row| format!("\"{row}\"")).collect();
    Fault::new(
        "reference",
        "today's way: the arrangement that money is compared with",
        format!("\"{}\", which this plant cannot have", plant.reference),
        format!("one of {}", rows.join(", ")),
        "choose one of them, list its arrangement under `beside`, or add the strings that it needs",
    )
}

/// The parts that a plant file has.
pub(super) struct Parts {
    pub(super) array: bool,
    pub(super) inverter: bool,
    pub(super) drive: bool,
    pub(super) battery: bool,
    connected: bool,
}

/// Checks that the plant has the parts for the reference and, without a grid, that the reference needs none. Returns whether
/// this holds.
fn check_reference(Placed { at, keys }: &Placed<PlantKeys>, r: Arrangement, has: &Parts) -> bool {
    let fault = |given: String, allowed: &str, remedy: &str| {
        let quantity = "today's way: the arrangement that money is compared with";
        at.fault(Fault::new("reference", quantity, given, allowed, remedy));
    };
    let lacking = [
        (r.has_array() && !has.array, "[array]"),
        (r.wiring.needs_inverter() && !has.inverter, "[inverter]"),
        (r.wiring.needs_drive() && !has.drive, "[drive]"),
        (
            r.wiring == Wiring::SolarDriveWithGrid && !keys.grid_input.is_there(),
            "[grid_input]",
        ),
        (
            r.wiring == Wiring::BatteryHybrid && !keys.battery.is_there(),
            "[battery]",
        ),
        (r.generator && !keys.generator.is_there(), "[generator]"),
        (r.night_tank && !keys.night_tank.is_there(), "[night_tank]"),
    ];
    let lacking: Vec<&str> = lacking.iter().filter(|(missing, _)| *missing).map(|(_, name)| *name).collect();
    if !lacking.is_empty() {
        fault(
            format!("\"{r}\", and the file has no {}", lacking.join(", ")),
            "an arrangement that the plant has the parts for",
            if has.connected {
                "add what is missing, or choose another reference such as \"grid-only\""
            } else {
                "add what is missing"
            },
        );
    }
    if !has.connected && r.needs_grid() {
        fault(
            format!("\"{r}\", and the file has no [grid]"),
            "an arrangement that works without a grid, such as \"solar-drive\", or \"grid-only+generator\" with a [generator]",
            "choose one, or add [grid]",
        );
    }
    lacking.is_empty() && (has.connected || !r.needs_grid())
}
