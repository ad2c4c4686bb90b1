//! The plant file as a whole.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use daylift_plant::{Arrangement, Design, Feeder, Plant, Set, StringRules, SwitchTimes, Wiring};
use daylift_tables::{Known, Located, Source};
use daylift_units::fields::{changeover, strings};
use daylift_units::{Fault, Warning};

use super::array::Names;
use super::head::check_format;
use super::use_of_water::HoursUsed;
use super::{array, beside, costs, grid, inverters, plausible, site, use_of_water, water};
use crate::files::Files;
use crate::provenance::{self, Origin};
use crate::read::{Book, Section, read_assumed, read_document};

/// A plant and what was noticed while it was read.
#[derive(Debug)]
pub struct Read {
    /// The plant.
    pub plant: Plant,
    /// What the reader of its results must know.
    pub warnings: Vec<Warning>,
    /// Where each value came from.
    pub origins: Vec<Origin>,
    /// The TOML files as they were read: the plant file and the equipment.
    pub documents: Vec<Arc<Source>>,
}

/// Reads a plant: `path` is its folder or its plant file.
///
/// # Errors
/// Every fault of the plant file and of all files that it names.
pub fn read_plant(path: &Path) -> Result<Read, Vec<Located>> {
    read_plant_from(path, Files::default())
}

/// The same from files that are not all as they lie on the disk.
///
/// # Errors
/// As [`read_plant`].
pub fn read_plant_from(path: &Path, files: Files) -> Result<Read, Vec<Located>> {
    read(path, Book::of(files, None))
}

/// The same with what earlier readings found; what this one finds is added to it.
///
/// # Errors
/// As [`read_plant`].
pub fn read_plant_knowing(path: &Path, files: Files, known: Arc<Known>) -> Result<Read, Vec<Located>> {
    read(path, Book::of(files, Some(known)))
}

fn read(path: &Path, book: Book) -> Result<Read, Vec<Located>> {
    let plant_file = if path.is_dir() {
        path.join("plant.toml")
    } else {
        path.to_owned()
    };
    let plant = match book.files().read(&plant_file, "", "plant file") {
        Ok(source) => {
            let folder = plant_file.parent().map_or_else(PathBuf::new, Path::to_owned);
            read_file(&book, &source, &folder)
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

/// Reads a plant file that lies in a folder, and all files that it names.
pub(crate) fn read_file(book: &Book, source: &Arc<Source>, folder: &Path) -> Option<Plant> {
    read_document(book, source, |root| read_root(root, folder))
}

fn read_root(root: Section<'_>, folder: &Path) -> Option<Plant> {
    let plant = read_sections(&root, folder);
    root.finish();
    plant
}

fn read_sections(root: &Section<'_>, folder: &Path) -> Option<Plant> {
    check_format(root);
    let name = root.text("name", "name of the plant", "a text");
    let reference = root.choice(
        "reference",
        "today's way, against which money is reckoned",
        &Arrangement::choices(),
    );
    let place = site::read(root, folder);
    let feeders = inverters::read(root, folder);
    let sets = water::read_sets(root, folder);
    let names = Names {
        inverters: feeders.iter().map(|(name, _)| name.as_str()).collect(),
        sets: sets.iter().map(|s| (s.name.as_str(), s.has_drive)).collect(),
    };
    // They are referred to by name.
    root.distinct("inverter", &names.inverters);
    root.distinct(
        "pump_set",
        &names.sets.iter().map(|(name, _)| *name).collect::<Vec<_>>(),
    );
    let had_array = root.has("array");
    let array = array::read_array(root, folder, &names, place.horizon.as_ref());
    let (has_inverter, has_drive) = (!feeders.is_empty(), sets.iter().any(|s| s.has_drive));
    let tank = use_of_water::read_tank(root);
    let demand = use_of_water::read_demand(root);
    let connected = root.has("grid") || root.has("tariff");
    let (island, set) = (root.has("battery"), root.has("generator"));
    let uses = HoursUsed {
        mains: connected || island || set,
        grid_only: connected || set,
    };
    let pumping = use_of_water::read_pumping(root, uses);
    let beside = beside::read(root, folder, pumping.as_ref(), tank.as_ref());
    let (costs, currency) = costs::read(root, connected);
    let grid = if connected {
        grid::read(root, folder, place.axis.as_ref())
    } else {
        grid::none(root, folder, place.axis.as_ref(), currency.as_deref())
    };
    let switch_times = read_switch_times(root, connected);
    let string_rules = read_string_rules(root, had_array);
    if !connected {
        warn_of_grid_parts(root);
    }
    let has = Parts {
        array: had_array,
        inverter: has_inverter,
        drive: has_drive,
        connected,
    };
    let may_be_today = check_reference(root, reference, &has);
    if !had_array && (has_inverter || has_drive) {
        root.fault(Fault::new(
            if has_inverter { "inverter" } else { "drive" },
            "array",
            "an inverter or a drive without [array]",
            "an array to feed it",
            "add [array], or remove [inverter] and [drive]",
        ));
    }
    read_assumed(root);
    let feeders: Vec<Feeder> = feeders.into_iter().map(|(_, feeder)| feeder).collect::<Option<_>>()?;
    let sets: Vec<Set> = sets.into_iter().map(|s| s.set).collect::<Option<_>>()?;
    if had_array && array.is_none() {
        return None;
    }
    let place = place.whole?;
    let plant = Plant {
        name: name?,
        reference: reference?,
        site: place.site,
        weather: place.weather,
        weather_source: place.source,
        array,
        feeders,
        sets,
        tank: tank?,
        demand: demand?,
        pumping: pumping?,
        grid: grid?,
        beside: beside?,
        design: Design {
            switch_times: switch_times?,
            strings: string_rules?,
        },
        costs: costs?,
    };
    if may_be_today && !plant.arrangements().contains(&plant.reference) {
        root.fault(reference_without_row(&plant));
    }
    for (section, fault) in plausible::faults(&plant) {
        if let Some(section) = root.table(section, section) {
            section.fault(fault);
        }
    }
    Some(plant)
}

/// What needs a grid and stands in the file of a farm without one.
fn warn_of_grid_parts(root: &Section<'_>) {
    let island = root.has("battery");
    let parts = [
        ("inverter", island),
        ("changeover", false),
        ("pumping", island || root.has("generator")),
        ("grid_input", root.has("generator")),
    ];
    let unused: Vec<String> = parts
        .iter()
        .filter(|(key, used)| root.has(key) && !used)
        .map(|(key, _)| format!("[{key}]"))
        .collect();
    if !unused.is_empty() {
        let text = format!("without [grid] nothing uses {}", unused.join(", "));
        root.book().warn("grid", text);
    }
}

/// Without a grid nothing switches, and times that were not given are not told of.
fn read_switch_times(root: &Section<'_>, connected: bool) -> Option<SwitchTimes> {
    let fields = [&changeover::TO_DRIVE, &changeover::GRID_STABLE, &changeover::TO_MAINS];
    let values = match root.table("changeover", "changeover") {
        Some(section) => {
            let values = fields.map(|field| section.number(field));
            section.finish();
            values
        }
        None if root.has("changeover") => return None,
        None => fields.map(|field| {
            if connected {
                root.book().preset(root.at(&format!("changeover.{}", field.key)), field);
            }
            field.preset_si()
        }),
    };
    Some(SwitchTimes {
        to_drive_s: values[0]?,
        grid_stable_s: values[1]?,
        to_mains_s: values[2]?,
    })
}

/// Without an array no strings are judged, and conditions that were not given are not told of.
fn read_string_rules(root: &Section<'_>, has_array: bool) -> Option<StringRules> {
    let fields = [&strings::NOON, &strings::NOON_WIND, &strings::USEFUL_SPEED];
    let values = match root.table("strings", "strings") {
        Some(section) => {
            let values = fields.map(|field| section.number(field));
            section.finish();
            if !has_array {
                root.book().warn("strings", "without [array] nothing uses [strings]".to_owned());
            }
            values
        }
        None if root.has("strings") => return None,
        None => fields.map(|field| {
            if has_array {
                root.book().preset(root.at(&format!("strings.{}", field.key)), field);
            }
            field.preset_si()
        }),
    };
    Some(StringRules {
        noon_w_m2: values[0]?,
        noon_wind_m_s: values[1]?,
        useful_speed: values[2]?,
    })
}

/// Today's way is none of the plant's rows, although the file has the sections for it.
fn reference_without_row(plant: &Plant) -> Fault {
    let rows: Vec<String> = plant.arrangements().iter().map(|row| format!("\"{row}\"")).collect();
    Fault::new(
        "reference",
        "today's way, against which money is reckoned",
        format!("\"{}\", which has no row in this plant", plant.reference),
        format!("one of {}", rows.join(", ")),
        "choose one of them, name its wiring under `beside`, or give it the strings that it needs",
    )
}

/// What a plant file has.
struct Parts {
    array: bool,
    inverter: bool,
    drive: bool,
    connected: bool,
}

/// Today's way must be one that the plant has the parts for, and without a utility one that can do without; gives whether
/// it is.
fn check_reference(root: &Section<'_>, reference: Option<Arrangement>, has: &Parts) -> bool {
    let Some(r) = reference else { return false };
    let fault = |given: String, allowed: &str, remedy: &str| {
        let quantity = "today's way, against which money is reckoned";
        root.fault(Fault::new("reference", quantity, given, allowed, remedy));
    };
    let lacking = [
        (r.has_array() && !has.array, "[array]"),
        (r.wiring.needs_inverter() && !has.inverter, "[inverter]"),
        (r.wiring.needs_drive() && !has.drive, "[drive]"),
        (
            r.wiring == Wiring::SolarDriveWithGrid && !root.has("grid_input"),
            "[grid_input]",
        ),
        (r.wiring == Wiring::BatteryHybrid && !root.has("battery"), "[battery]"),
        (r.generator && !root.has("generator"), "[generator]"),
        (r.night_tank && !root.has("night_tank"), "[night_tank]"),
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
            "an arrangement that can do without a grid, such as \"solar-drive\", or \"grid-only+generator\" with a [generator]",
            "choose one, or add [grid] and [tariff]",
        );
    }
    lacking.is_empty() && (has.connected || !r.needs_grid())
}
