//! Equipment described by datasheet values in small files of their own.

use std::path::Path;
use std::sync::Arc;

use daylift_array::{Inverter, InverterLimits, InverterSheet, Module, ModuleLimits, ModuleSheet};
use daylift_grid::{BatterySheet, GeneratingSet, GeneratorSheet};
use daylift_lift::{Drive, DriveLimits, DriveSheet, Motor, MotorSheet, Pump, PumpSheet, Water};
use daylift_tables::Source;
use daylift_units::fields::{battery, drive, generator, inverter, module, motor, pump};
use daylift_units::{Fault, Field};

use super::head::check_format;
use crate::files::resolve;
use crate::read::{Book, Section, read_document};

/// Opens the equipment file that `key` names and reads it with `read`.
///
/// Faults of the values stand in the equipment file; a fault of the path stands where it is named.
pub(crate) fn open<T>(
    section: &Section<'_>,
    folder: &Path,
    key: &'static str,
    kind: &str,
    read: impl FnOnce(&Section<'_>, String) -> Option<T>,
) -> Option<T> {
    let quantity = format!("{kind} file");
    let written = section.text(key, &quantity, "a path relative to this file")?;
    let source = load(section, folder, &written, key, &quantity)?;
    read_equipment(section.book(), &source, kind, read)
}

/// Reads an equipment file, which must say that it is of the kind.
pub(crate) fn read_equipment<T>(
    book: &Book,
    source: &Arc<Source>,
    kind: &str,
    read: impl FnOnce(&Section<'_>, String) -> Option<T>,
) -> Option<T> {
    read_document(book, source, |root| {
        let root = root.called(kind);
        check_format(&root);
        let is_kind = check_kind(&root, kind);
        let name = root.text("name", "name of the equipment", "a text");
        if !is_kind {
            // Its keys are those of something else; telling each would bury the cause.
            return None;
        }
        let out = read(&root, name.unwrap_or_default());
        root.finish();
        out
    })
}

fn check_kind(root: &Section<'_>, kind: &str) -> bool {
    let allowed = format!("\"{kind}\"");
    match root.text("kind", "kind of equipment", &allowed) {
        Some(given) if given != kind => {
            let given = format!("this file describes: {given}");
            root.fault(Fault::new(
                "kind",
                "kind of equipment",
                given,
                format!("kind = {allowed} here"),
                "name the right file; perhaps two files are exchanged",
            ));
            false
        }
        _ => true,
    }
}

/// Reads a file that a section names; its faults stand at the key.
pub(crate) fn load(
    section: &Section<'_>,
    folder: &Path,
    written: &str,
    key: &str,
    quantity: &str,
) -> Option<Arc<Source>> {
    resolve(folder, written, key, quantity)
        .and_then(|path| section.book().files().read(&path, key, quantity))
        .map_err(|fault| section.fault(fault))
        .ok()
}

/// A constructor's result, its faults booked in the section.
pub(crate) fn booked<T>(section: &Section<'_>, made: Result<T, Vec<Fault>>) -> Option<T> {
    made.map_err(|faults| section.faults(faults)).ok()
}

/// Pairs of part load and efficiency.
fn efficiency_points(section: &Section<'_>, load: &Field, efficiency: &Field) -> Option<Vec<(f64, f64)>> {
    let (loads, efficiencies) = (section.list(load, None), section.percentages(efficiency));
    let (loads, efficiencies) = (loads?, efficiencies?);
    same_length(section, efficiency, loads.len(), load.key, efficiencies.len())?;
    Some(loads.into_iter().zip(efficiencies).collect())
}

fn same_length(section: &Section<'_>, field: &Field, wanted: usize, other: &str, given: usize) -> Option<()> {
    if wanted == given {
        return Some(());
    }
    section.fault(Fault::new(
        field.key,
        field.quantity,
        format!("{given} numbers"),
        format!("{wanted} numbers, one for each of `{other}`"),
        "give the two lists the same length",
    ));
    None
}

pub(crate) fn read_module(section: &Section<'_>, name: String) -> Option<Module> {
    let values = (
        section.number(&module::ISC),
        section.number(&module::VOC),
        section.number(&module::IMP),
        section.number(&module::VMP),
        section.number(&module::ALPHA),
        section.number(&module::BETA),
        section.count(&module::CELLS),
    );
    let limits = (
        section.number(&module::SYSTEM_V),
        section.number(&module::GREATEST_FUSE),
    );
    let sheet = ModuleSheet {
        name,
        short_circuit_a: values.0?,
        open_circuit_v: values.1?,
        max_power_a: values.2?,
        max_power_v: values.3?,
        short_circuit_a_per_k: values.4?,
        open_circuit_v_per_k: values.5?,
        cells: values.6?,
    };
    let limits = ModuleLimits {
        system_v: limits.0?,
        greatest_fuse_a: limits.1?,
    };
    booked(
        section,
        Module::new(sheet).and_then(|module| module.with_limits(limits)),
    )
}

/// An inverter; the loss of its AC cable stands in the plant file.
pub(crate) fn read_inverter(section: &Section<'_>, name: String, ac_cable_loss: f64) -> Option<Inverter> {
    let sheet = read_inverter_sheet(section, name, ac_cable_loss);
    let limits = InverterLimits {
        greatest_dc_v: section.optional(&inverter::GREATEST_DC_V),
        inputs: section.optional_count(&inverter::MPPT_INPUTS),
        strings_per_input: section.optional_count(&inverter::INPUT_STRINGS),
        input_current_a: section.optional(&inverter::INPUT_CURRENT),
        input_short_circuit_a: section.optional(&inverter::INPUT_SHORT_CIRCUIT),
        greatest_dc_w: section.optional(&inverter::GREATEST_DC_POWER),
    };
    booked(
        section,
        Inverter::new(sheet?).and_then(|inverter| inverter.with_limits(limits)),
    )
}

fn read_inverter_sheet(section: &Section<'_>, name: String, ac_cable_loss: f64) -> Option<InverterSheet> {
    let values = (
        section.number(&inverter::RATED),
        efficiency_points(section, &inverter::LOAD, &inverter::EFFICIENCY),
        section.number(&inverter::START),
        section.number(&inverter::MPPT_MIN),
        section.number(&inverter::MPPT_MAX),
    );
    Some(InverterSheet {
        name,
        rated_w: values.0?,
        efficiency_points: values.1?,
        start_w: values.2?,
        mppt_min_v: values.3?,
        mppt_max_v: values.4?,
        ac_cable_loss,
    })
}

pub(crate) fn read_drive(section: &Section<'_>, name: String) -> Option<Drive> {
    let values = (
        section.number(&drive::RATED),
        efficiency_points(section, &drive::LOAD, &drive::EFFICIENCY),
        section.optional(&drive::GREATEST),
        section.number(&drive::DROP),
    );
    let limits = DriveLimits {
        greatest_dc_v: section.optional(&drive::GREATEST_DC_V),
        start_dc_v: section.optional(&drive::START_DC_V),
        dc_current_a: section.optional(&drive::DC_CURRENT),
        dc_short_circuit_a: section.optional(&drive::DC_SHORT_CIRCUIT),
        greatest_dc_w: section.optional(&drive::GREATEST_DC_POWER),
    };
    let sheet = DriveSheet {
        name,
        rated_power_w: values.0?,
        efficiency_points: values.1?,
        greatest_frequency_hz: values.2,
        voltage_drop: values.3?,
    };
    booked(section, Drive::new(sheet).and_then(|drive| drive.with_limits(limits)))
}

pub(crate) fn read_motor(section: &Section<'_>, name: String) -> Option<Motor> {
    let values = (
        section.number(&motor::RATED),
        section.number(&motor::FREQUENCY),
        section.number(&motor::VOLTAGE),
        efficiency_points(section, &motor::LOAD, &motor::EFFICIENCY),
        section.number(&motor::LEAST),
    );
    let sheet = MotorSheet {
        name,
        rated_power_w: values.0?,
        rated_frequency_hz: values.1?,
        rated_voltage_v: values.2?,
        efficiency_points: values.3?,
        least_frequency_hz: values.4?,
    };
    booked(section, Motor::new(sheet))
}

pub(crate) fn read_pump(section: &Section<'_>, name: String, water: &Water) -> Option<Pump> {
    let flow = section.list(&pump::FLOW, None);
    let head = section.list(&pump::HEAD, None);
    let by_power = section.has(pump::SHAFT_POWER.key);
    let by_efficiency = section.has(pump::EFFICIENCY.key) || !by_power;
    let efficiency = by_efficiency.then(|| section.list(&pump::EFFICIENCY, None));
    let shaft_power_w = by_power.then(|| section.list(&pump::SHAFT_POWER, None));
    let (flow_m3_s, head_m) = (flow?, head?);
    same_length(section, &pump::HEAD, flow_m3_s.len(), pump::FLOW.key, head_m.len())?;
    // A list that was given and is wrong is already told.
    let efficiency = match efficiency {
        Some(list) => Some(list?),
        None => None,
    };
    let shaft_power_w = match shaft_power_w {
        Some(list) => Some(list?),
        None => None,
    };
    for (list, field) in [(&efficiency, &pump::EFFICIENCY), (&shaft_power_w, &pump::SHAFT_POWER)] {
        if let Some(list) = list {
            same_length(section, field, flow_m3_s.len(), pump::FLOW.key, list.len())?;
        }
    }
    let sheet = PumpSheet {
        name,
        flow_m3_s,
        head_m,
        efficiency,
        shaft_power_w,
    };
    booked(section, Pump::new(sheet, water))
}

pub(crate) fn read_battery(section: &Section<'_>, name: String) -> Option<BatterySheet> {
    let values = (
        section.number(&battery::CAPACITY),
        section.number(&battery::LEAST),
        section.number(&battery::CHARGE),
        section.number(&battery::DISCHARGE),
        section.number(&battery::CHARGE_EFFICIENCY),
        section.number(&battery::DISCHARGE_EFFICIENCY),
    );
    Some(BatterySheet {
        name,
        capacity_j: values.0?,
        least_content: values.1?,
        charge_w: values.2?,
        discharge_w: values.3?,
        charge_efficiency: values.4?,
        discharge_efficiency: values.5?,
    })
}

/// Loads of a set of which none is above this are fractions written for per cent: 1.2 of its rating at most.
const LARGEST_FRACTION: f64 = 0.012;

pub(crate) fn read_generator(section: &Section<'_>, name: String) -> Option<GeneratingSet> {
    let rated_w = section.number(&generator::RATED);
    let least_load = section.number(&generator::LEAST_LOAD);
    let (loads, fuel) = (
        section.list(&generator::LOAD, None),
        section.list(&generator::FUEL, None),
    );
    let (loads, fuel) = (loads?, fuel?);
    if let Some(fault) = generator::LOAD.given_as_fractions(&loads, LARGEST_FRACTION) {
        section.fault(fault);
        return None;
    }
    same_length(section, &generator::FUEL, loads.len(), generator::LOAD.key, fuel.len())?;
    let sheet = GeneratorSheet {
        name,
        rated_w: rated_w?,
        least_load: least_load?,
        fuel_points: loads.into_iter().zip(fuel).collect(),
    };
    booked(section, GeneratingSet::new(sheet))
}
