//! The pump sets: pump, motor, drive, well, pipes and outlet.

use std::path::Path;

use daylift_lift::{Drive, Pipe, PipeSheet, PumpSet, System, Water, Well, WellSheet};
use daylift_plant::Set;
use daylift_units::Fault;
use daylift_units::fields::{outlet, pipe, pump_set, well};

use super::equipment::{booked, open, read_drive, read_motor, read_pump};
use crate::read::Section;

/// A pump set that was read: its name, whether it is to have a drive, and the set when it has no faults.
pub(crate) struct SetRead {
    pub(crate) name: String,
    pub(crate) has_drive: bool,
    pub(crate) set: Option<Set>,
}

/// The pump sets.
///
/// One set stands in `[pump]`, `[drive]`, `[well]`, `[[pipe]]` and `[outlet]`; several in `[[pump_set]]`, each with its own
/// well, pipes and outlet.
pub(crate) fn read_sets(root: &Section<'_>, folder: &Path) -> Vec<SetRead> {
    if root.has("pump_set") {
        refuse_single(root);
        let sections = root.tables("pump_set", "pump set");
        return sections.into_iter().map(|section| read_named_set(section, folder)).collect();
    }
    let drive_section = root.table("drive", "drive");
    let has_drive = drive_section.is_some();
    let drive = drive_section.and_then(|section| {
        let drive = open(&section, folder, "file", "drive", read_drive);
        section.finish();
        drive
    });
    let parts = Parts::read(root);
    let pump_set = root.required_table("pump", "pump").and_then(|section| {
        let pump_set = read_set(&section, folder, &parts, drive.clone());
        section.finish();
        pump_set
    });
    parts.finish();
    vec![SetRead::new(
        Some("pump".to_owned()),
        has_drive,
        drive.is_some(),
        pump_set,
    )]
}

/// One pump stands in sections of its own, or every pump in a list, not both.
fn refuse_single(root: &Section<'_>) {
    let single: Vec<String> = ["pump", "drive", "well", "pipe", "outlet"]
        .iter()
        .filter(|key| root.has(key))
        .map(|key| format!("[{key}]"))
        .collect();
    if !single.is_empty() {
        root.fault(Fault::new(
            "pump_set",
            "pump sets",
            format!("[[pump_set]] beside {}", single.join(", ")),
            "one pump in [pump], [well], [[pipe]], [outlet] and [drive], or every pump in [[pump_set]]",
            "move them into a [[pump_set]], or remove the list",
        ));
    }
}

fn read_named_set(section: Section<'_>, folder: &Path) -> SetRead {
    let name = section.text("name", "name of the pump set", "a text");
    let has_drive = section.has("drive");
    let drive = if has_drive {
        open(&section, folder, "drive", "drive", read_drive)
    } else {
        None
    };
    let parts = Parts::read(&section);
    let pump_set = read_set(&section, folder, &parts, drive.clone());
    parts.finish();
    section.finish();
    SetRead::new(name, has_drive, drive.is_some(), pump_set)
}

impl SetRead {
    fn new(name: Option<String>, has_drive: bool, drive_is_fine: bool, pump_set: Option<PumpSet>) -> Self {
        let named = name.clone().zip(pump_set).map(|(name, pump_set)| Set { name, pump_set });
        Self {
            name: name.unwrap_or_default(),
            has_drive,
            set: named.filter(|_| drive_is_fine || !has_drive),
        }
    }
}

/// Well, pipes and outlet of a set.
struct Parts<'a> {
    well: Option<Well>,
    water: Option<Water>,
    pipes: Option<Vec<Pipe>>,
    outlet: Option<(Section<'a>, Option<(f64, f64)>)>,
}

impl<'a> Parts<'a> {
    fn read(section: &Section<'a>) -> Self {
        let (well, water) = read_well(section);
        Self {
            well,
            water,
            pipes: read_pipes(section),
            outlet: read_outlet(section),
        }
    }

    fn system(&self) -> Option<System> {
        let (outlet, values) = self.outlet.as_ref()?;
        let (outlet_lift_m, outlet_pressure_pa) = (*values)?;
        let (well, pipes, water) = (self.well.clone()?, self.pipes.clone()?, self.water?);
        booked(
            outlet,
            System::new(well, pipes, outlet_lift_m, outlet_pressure_pa, water),
        )
    }

    fn finish(self) {
        if let Some((outlet, _)) = self.outlet {
            outlet.finish();
        }
    }
}

fn read_set(section: &Section<'_>, folder: &Path, parts: &Parts<'_>, drive: Option<Drive>) -> Option<PumpSet> {
    let cable = section.number(&pump_set::MOTOR_CABLE_LOSS);
    let wanted_frequency_hz = section.optional(&pump_set::WANTED);
    // A pump's power depends on the water; with a fault in [well] its datasheet is still read for faults of its own.
    let water_or_usual = parts.water.or_else(|| Water::at(20.0).ok())?;
    let pump = open(section, folder, "file", "pump", |file, name| {
        read_pump(file, name, &water_or_usual)
    });
    let motor = open(section, folder, "motor", "motor", read_motor);
    let system = parts.system();
    let made = PumpSet::new(pump?, motor?, drive, system?, cable?, wanted_frequency_hz);
    booked(section, made)
}

fn read_well(root: &Section<'_>) -> (Option<Well>, Option<Water>) {
    let Some(section) = root.required_table("well", "well") else {
        return (None, None);
    };
    let levels = section.monthly(&well::STATIC_LEVEL);
    let losses = (section.number(&well::AQUIFER_LOSS), section.number(&well::WELL_LOSS));
    let intake_depth_m = section.optional(&well::INTAKE_DEPTH);
    let margin = section.number(&well::INTAKE_MARGIN);
    let temperature = section.number(&well::WATER_TEMPERATURE);
    let water = temperature.and_then(|t| booked(&section, Water::at(t)));
    let made = (|| {
        let sheet = WellSheet {
            static_level_m: daylift_units::Monthly::from_array(levels?),
            aquifer_loss_s_m2: losses.0?,
            well_loss_s2_m5: losses.1?,
            intake_depth_m,
            intake_margin_m: margin?,
        };
        booked(&section, Well::new(sheet))
    })();
    section.finish();
    (made, water)
}

fn read_pipes(root: &Section<'_>) -> Option<Vec<Pipe>> {
    if !root.has("pipe") {
        root.fault(Fault::new(
            "pipe",
            "pipe",
            "no [[pipe]]",
            "at least one length of pipe",
            "add [[pipe]] for the rising main",
        ));
        return None;
    }
    let pipes: Vec<Option<Pipe>> = root.tables("pipe", "pipe").into_iter().map(read_pipe).collect();
    pipes.into_iter().collect()
}

fn read_pipe(section: Section<'_>) -> Option<Pipe> {
    let name = section.text("name", "name of the pipe", "a text");
    let values = (
        section.number(&pipe::BORE),
        section.number(&pipe::LENGTH),
        section.number(&pipe::ROUGHNESS),
        section.number(&pipe::FITTINGS),
    );
    let made = (|| {
        let sheet = PipeSheet {
            name: name?,
            bore_m: values.0?,
            length_m: values.1?,
            roughness_m: values.2?,
            fittings_k: values.3?,
        };
        booked(&section, Pipe::new(sheet))
    })();
    section.finish();
    made
}

/// Outlet's lift and pressure, and the section they stand in.
fn read_outlet<'a>(root: &Section<'a>) -> Option<(Section<'a>, Option<(f64, f64)>)> {
    let section = root.required_table("outlet", "outlet")?;
    let values = (section.number(&outlet::LIFT), section.number(&outlet::PRESSURE));
    Some((section, values.0.zip(values.1)))
}
