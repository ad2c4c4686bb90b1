//! `[well]`, `[[pipe]]`, `[outlet]` and `[pump]`: the pump set.

use std::path::Path;

use daylift_lift::{Drive, Pipe, PipeSheet, PumpSet, System, Water, Well, WellSheet};
use daylift_units::Fault;
use daylift_units::fields::{outlet, pipe, pump_set, well};

use super::equipment::{booked, open, read_motor, read_pump};
use crate::read::Section;

/// Pump, motor, well and pipes as one set; `drive` is the drive that the file has.
pub(crate) fn read_pump_set(root: &Section<'_>, folder: &Path, drive: Option<Drive>) -> Option<PumpSet> {
    let (well, water) = read_well(root);
    let pipes = read_pipes(root);
    let outlet = read_outlet(root);
    let Some(section) = root.required_table("pump", "pump") else {
        if let Some((outlet, _)) = outlet {
            outlet.finish();
        }
        return None;
    };
    let cable = section.number(&pump_set::MOTOR_CABLE_LOSS);
    let wanted_frequency_hz = section.optional(&pump_set::WANTED);
    // A pump's power depends on the water; with a fault in [well] its datasheet is still read for faults of its own.
    let water_or_usual = water.or_else(|| Water::at(20.0).ok())?;
    let pump = open(&section, folder, "file", "pump", |file, name| {
        read_pump(file, name, &water_or_usual)
    });
    let motor = open(&section, folder, "motor", "motor", read_motor);
    let made = (|| {
        let (outlet, values) = outlet.as_ref()?;
        let (outlet_lift_m, outlet_pressure_pa) = (*values)?;
        let system = System::new(well?, pipes?, outlet_lift_m, outlet_pressure_pa, water?);
        let system = booked(outlet, system);
        booked(
            &section,
            PumpSet::new(pump?, motor?, drive, system?, cable?, wanted_frequency_hz),
        )
    })();
    section.finish();
    if let Some((outlet, _)) = outlet {
        outlet.finish();
    }
    made
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
            static_level_m: levels?,
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
