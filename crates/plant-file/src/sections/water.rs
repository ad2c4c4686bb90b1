//! The pump sets: pump, motor, drive, well, pipes and outlet.

use daylift_lift::{Drive, Pipe, PipeSheet, PumpSet, SetSheet, System, Water, Well, WellSheet};
use daylift_plant::{Set, StartLimits};
use daylift_units::Fault;

use super::equipment::{build_drive, build_motor, build_pump};
use super::restart;
use crate::outline::{MotorFile, NamedSetKeys, OutletKeys, PipeKeys, PlantKeys, PumpFile, PumpKeys, SetKeys, WellKeys};
use crate::read::{Equipment, List, Part, Placed, Section};

/// A pump set that was read: its name, whether the file gives it a drive, and the set if it has no faults.
pub(crate) struct SetRead {
    pub(crate) name: String,
    pub(crate) has_drive: bool,
    pub(crate) set: Option<Set>,
}

/// The pump sets.
///
/// A single set is written in `[pump]`, `[drive]`, `[well]`, `[[pipe]]` and `[outlet]`. Several are written in
/// `[[pump_set]]`, each with its own well, pipes and outlet.
pub(crate) fn read_sets(root: &Placed<PlantKeys>) -> Vec<SetRead> {
    let keys = &root.keys;
    // With a fault in [site] the sets are still read for faults of their own.
    let altitude_m = altitude_m(root).unwrap_or(0.0);
    if keys.pump_set.is_there {
        refuse_single(root);
        return keys.pump_set.items.iter().map(|set| read_named_set(set, altitude_m)).collect();
    }
    for (name, is_there) in [
        ("well", keys.well.is_there()),
        ("outlet", keys.outlet.is_there()),
        ("pump", keys.pump.is_there()),
    ] {
        if !is_there {
            root.at.no_section(name);
        }
    }
    let has_drive = keys.drive.there().is_some();
    let drive_file = keys.drive.there().and_then(|section| section.keys.file.file.as_ref());
    let drive = drive_file.and_then(build_drive);
    let parts = Parts::read(&root.at, &keys.well, &keys.pipe, &keys.outlet);
    let pump_set = keys.pump.there().and_then(|section| {
        let PumpKeys { keys, file, motor } = &section.keys;
        read_set(
            &section.at,
            &Fitted {
                keys: keys.as_ref(),
                file,
                motor,
                altitude_m,
            },
            &parts,
            drive.clone(),
        )
    });
    let motor = keys.pump.there().and_then(|section| section.keys.motor.file.as_ref());
    let set = pump_set.map(|set| (set, restart::limits(motor, drive_file)));
    vec![SetRead::new(Some("pump".to_owned()), has_drive, drive.is_some(), set)]
}

fn altitude_m(root: &Placed<PlantKeys>) -> Option<f64> {
    let site = root.keys.site.there()?;
    Some(site.keys.at.as_ref()?.altitude_m)
}

/// Books a fault when the file has both `[[pump_set]]` and sections of a single pump.
fn refuse_single(root: &Placed<PlantKeys>) {
    let single: Vec<String> = ["pump", "drive", "well", "pipe", "outlet"]
        .iter()
        .filter(|key| root.at.has(key))
        .map(|key| format!("[{key}]"))
        .collect();
    if !single.is_empty() {
        root.at.fault(Fault::new(
            "pump_set",
            "pump sets",
            format!("[[pump_set]] together with {}", single.join(", ")),
            "one pump in [pump], [well], [[pipe]], [outlet] and [drive], or every pump in [[pump_set]]",
            "move them into a [[pump_set]], or remove the list",
        ));
    }
}

fn read_named_set(placed: &Placed<NamedSetKeys>, altitude_m: f64) -> SetRead {
    let set = &placed.keys;
    let drive = set.drive.file.as_ref().and_then(build_drive);
    let parts = Parts::read(&placed.at, &set.well, &set.pipe, &set.outlet);
    let fitted = Fitted {
        keys: set.keys.as_ref(),
        file: &set.file,
        motor: &set.motor,
        altitude_m,
    };
    let pump_set = read_set(&placed.at, &fitted, &parts, drive.clone());
    let pump_set = pump_set.map(|made| (made, restart::limits(set.motor.file.as_ref(), set.drive.file.as_ref())));
    SetRead::new(set.name.clone(), set.drive.is_there, drive.is_some(), pump_set)
}

impl SetRead {
    fn new(name: Option<String>, has_drive: bool, drive_is_fine: bool, set: Option<(PumpSet, StartLimits)>) -> Self {
        let named = name.clone().zip(set).map(|(name, (pump_set, start_limits))| Set {
            name,
            pump_set,
            start_limits,
        });
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
    outlet: Option<&'a Placed<OutletKeys>>,
}

impl<'a> Parts<'a> {
    fn read(at: &Section, well: &Part<WellKeys>, pipes: &List<PipeKeys>, outlet: &'a Part<OutletKeys>) -> Self {
        let (well, water) = well.there().map_or((None, None), read_well);
        Self {
            well,
            water,
            pipes: read_pipes(at, pipes),
            outlet: outlet.there(),
        }
    }

    fn system(&self) -> Option<System> {
        let outlet = self.outlet?;
        let keys = outlet.keys.as_ref()?;
        let (well, pipes, water) = (self.well.clone()?, self.pipes.clone()?, self.water?);
        outlet.at.booked(System::new(well, pipes, keys.lift_m, keys.pressure_pa, water))
    }
}

/// Pump and motor, and how they are fitted.
struct Fitted<'a> {
    keys: Option<&'a SetKeys>,
    file: &'a Equipment<PumpFile>,
    motor: &'a Equipment<MotorFile>,
    altitude_m: f64,
}

fn read_set(at: &Section, fitted: &Fitted<'_>, parts: &Parts<'_>, drive: Option<Drive>) -> Option<PumpSet> {
    // A pump's power depends on the water. With a fault in [well] its datasheet is still read for faults of its own.
    let water_or_usual = parts.water.or_else(|| Water::at(20.0).ok())?;
    let pump = fitted.file.file.as_ref().and_then(|file| build_pump(file, &water_or_usual));
    let motor = fitted.motor.file.as_ref().and_then(build_motor);
    let system = parts.system();
    let keys = fitted.keys?;
    at.booked(PumpSet::new(
        pump?,
        motor?,
        drive,
        system?,
        SetSheet {
            motor_cable_loss: keys.motor_cable_loss,
            wanted_frequency_hz: keys.wanted_frequency_hz,
            filter: keys.filter,
            filter_loss: keys.filter_loss,
            filter_drop: keys.filter_drop,
            harmonic_loss: keys.harmonic_loss,
            least_flow: keys.least_flow,
            altitude_m: fitted.altitude_m,
        },
    ))
}

fn read_well(placed: &Placed<WellKeys>) -> (Option<Well>, Option<Water>) {
    let Some(keys) = &placed.keys else {
        return (None, None);
    };
    let water = placed.at.booked(Water::at(keys.water_temperature_c));
    let sheet = WellSheet {
        static_level_m: keys.static_level_m.0,
        aquifer_loss_s_m2: keys.aquifer_loss_s_m2,
        well_loss_s2_m5: keys.well_loss_s2_m5,
        intake_depth_m: keys.intake_depth_m,
        intake_margin_m: keys.intake_margin_m,
    };
    (placed.at.booked(Well::new(sheet)), water)
}

fn read_pipes(at: &Section, pipes: &List<PipeKeys>) -> Option<Vec<Pipe>> {
    if !pipes.is_there {
        at.fault(Fault::new(
            "pipe",
            "pipe",
            "no [[pipe]]",
            "at least one pipe",
            "add [[pipe]] for the rising main",
        ));
        return None;
    }
    let pipes: Vec<Option<Pipe>> = pipes.items.iter().map(read_pipe).collect();
    pipes.into_iter().collect()
}

fn read_pipe(placed: &Placed<PipeKeys>) -> Option<Pipe> {
    let keys = placed.keys.as_ref()?;
    let sheet = PipeSheet {
        name: keys.name.clone(),
        bore_m: keys.bore_m,
        length_m: keys.length_m,
        roughness_m: keys.roughness_m,
        fittings_k: keys.fittings_k,
    };
    placed.at.booked(Pipe::new(sheet))
}
