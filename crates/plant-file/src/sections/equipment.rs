//! Builds equipment from the datasheet values in its files.

use daylift_array::{Inverter, InverterLimits, InverterLosses, InverterSheet, Module, ModuleLimits, ModuleSheet};
use daylift_grid::{BatterySheet, Generator, GeneratorSheet};
use daylift_lift::{
    Drive, DriveControl, DriveLimits, DriveRating, DriveSheet, Motor, MotorSheet, Pump, PumpSheet, StartRule,
    USUAL_WAITS_S, Water,
};
use daylift_units::fields::{drive, generator, inverter, motor, pump};
use daylift_units::{Fault, Field};

use crate::outline::{BatteryFile, DriveFile, GeneratorFile, InverterFile, ModuleFile, MotorFile, PumpFile};
use crate::read::{Placed, Section};

/// Pairs the values of two lists; a fault at the second list when the lengths differ.
fn pairs(at: &Section, of: (&Field, &[f64]), to: (&Field, &[f64])) -> Option<Vec<(f64, f64)>> {
    same_length(at, of, to)?;
    Some(of.1.iter().copied().zip(to.1.iter().copied()).collect())
}

fn same_length(at: &Section, of: (&Field, &[f64]), to: (&Field, &[f64])) -> Option<()> {
    if of.1.len() == to.1.len() {
        return Some(());
    }
    at.fault(Fault::new(
        to.0.key,
        to.0.quantity,
        format!("{} numbers", to.1.len()),
        format!("{} numbers, one for each of `{}`", of.1.len(), of.0.key),
        "give the two lists the same length",
    ));
    None
}

pub(crate) fn build_module(file: &Placed<ModuleFile>) -> Option<Module> {
    let keys = file.keys.as_ref()?;
    let sheet = ModuleSheet {
        name: keys.name.clone(),
        short_circuit_a: keys.short_circuit_a,
        open_circuit_v: keys.open_circuit_v,
        max_power_a: keys.max_power_a,
        max_power_v: keys.max_power_v,
        short_circuit_a_per_k: keys.short_circuit_a_per_k,
        open_circuit_v_per_k: keys.open_circuit_v_per_k,
        cells: keys.cells,
    };
    let limits = ModuleLimits {
        system_v: keys.system_v,
        greatest_fuse_a: keys.greatest_fuse_a,
    };
    file.at.booked(Module::new(sheet).and_then(|module| module.with_limits(limits)))
}

/// Builds an inverter; the loss of its AC cable is in the plant file.
pub(crate) fn build_inverter(file: &Placed<InverterFile>, ac_cable_loss: f64) -> Option<Inverter> {
    let keys = file.keys.sheet.as_ref()?;
    let given = &file.keys.limits;
    let sheet = InverterSheet {
        name: keys.name.clone(),
        rated_w: keys.rated_w,
        efficiency_points: pairs(
            &file.at,
            (&inverter::LOAD, &keys.loads),
            (&inverter::EFFICIENCY, &keys.efficiencies),
        )?,
        curve: keys.curve,
        start_w: keys.start_w,
        mppt_min_v: keys.mppt_min_v,
        mppt_max_v: keys.mppt_max_v,
        ac_cable_loss,
    };
    let limits = InverterLimits {
        greatest_dc_v: given.greatest_dc_v.flatten(),
        inputs: given.inputs.flatten(),
        strings_per_input: given.strings_per_input.flatten(),
        input_current_a: given.input_current_a.flatten(),
        input_short_circuit_a: given.input_short_circuit_a.flatten(),
        greatest_dc_w: given.greatest_dc_w.flatten(),
    };
    let inverter = file.at.booked(Inverter::new(sheet).and_then(|inverter| inverter.with_limits(limits)));
    let losses = file.keys.losses.as_ref()?;
    let losses = InverterLosses {
        tracking: losses.tracking,
        tracking_broken: losses.tracking_broken,
        derating_per_k: losses.derating_per_k,
        derating_c: losses.derating_c,
    };
    let inverter = file.at.booked(inverter?.with_losses(losses))?;
    file.at.book().warn_once(inverter.misfit_warning());
    Some(inverter)
}

pub(crate) fn build_drive(file: &Placed<DriveFile>) -> Option<Drive> {
    let (keys, rating) = (file.keys.sheet.as_ref()?, file.keys.rating.as_ref()?);
    let given = &file.keys.limits;
    let sheet = DriveSheet {
        name: keys.name.clone(),
        rated_power_w: keys.rated_power_w,
        efficiency_points: pairs(
            &file.at,
            (&drive::LOAD, &keys.loads),
            (&drive::EFFICIENCY, &keys.efficiencies),
        )?,
        curve: keys.curve,
        greatest_frequency_hz: keys.greatest_frequency_hz,
        voltage_drop: keys.voltage_drop,
        rating: DriveRating {
            current_a: rating.current_a,
            power_factor: rating.power_factor,
            least_flux: rating.least_flux,
            altitude_derating_per_m: rating.altitude_derating_per_m,
            rated_altitude_m: rating.rated_altitude_m,
            heat_derating_per_k: rating.heat_derating_per_k,
            rated_temperature_c: rating.rated_temperature_c,
            cabinet_rise_k: rating.cabinet_rise_k,
        },
    };
    let limits = DriveLimits {
        greatest_dc_v: given.greatest_dc_v.flatten(),
        start_dc_v: given.start_dc_v.flatten(),
        dc_current_a: given.dc_current_a.flatten(),
        dc_short_circuit_a: given.dc_short_circuit_a.flatten(),
        greatest_dc_w: given.greatest_dc_w.flatten(),
    };
    let drive = file.at.booked(Drive::new(sheet).and_then(|drive| drive.with_limits(limits)));
    let control = file.keys.control.as_ref()?;
    let control = DriveControl {
        static_loss: control.static_loss,
        clear_loss: control.clear_loss,
        broken_loss: control.broken_loss,
        start: StartRule {
            restart_power: control.restart_power,
            confirm_s: control.confirm_s,
            waits_s: control.waits_s.clone().unwrap_or_else(|| USUAL_WAITS_S.to_vec()),
        },
    };
    let drive = file.at.booked(drive?.with_control(control))?;
    file.at.book().warn_once(drive.misfit_warning());
    Some(drive)
}

pub(crate) fn build_motor(file: &Placed<MotorFile>) -> Option<Motor> {
    let keys = file.keys.as_ref()?;
    let sheet = MotorSheet {
        name: keys.name.clone(),
        rated_power_w: keys.rated_power_w,
        rated_frequency_hz: keys.rated_frequency_hz,
        rated_voltage_v: keys.rated_voltage_v,
        efficiency_points: pairs(
            &file.at,
            (&motor::LOAD, &keys.loads),
            (&motor::EFFICIENCY, &keys.efficiencies),
        )?,
        curve: keys.curve,
        least_frequency_hz: keys.least_frequency_hz,
        rated_current_a: keys.rated_current_a,
        power_factor: keys.power_factor,
        cooling_flow_m3_s: keys.cooling_flow_m3_s,
        water_derating_per_k: if keys.submersible.unwrap_or(true) {
            keys.water_derating_per_k
        } else {
            0.0
        },
    };
    let motor = file.at.booked(Motor::new(sheet))?;
    file.at.book().warn_once(motor.misfit_warning());
    Some(motor)
}

pub(crate) fn build_pump(file: &Placed<PumpFile>, water: &Water) -> Option<Pump> {
    let keys = file.keys.as_ref()?;
    let flow = (&pump::FLOW, keys.flow_m3_s.as_slice());
    if keys.shaft_power_w.is_none() {
        file.at.needed_list(&pump::EFFICIENCY, None, keys.efficiency.as_ref())?;
    }
    same_length(&file.at, flow, (&pump::HEAD, &keys.head_m))?;
    let lists = [
        (&pump::EFFICIENCY, &keys.efficiency),
        (&pump::SHAFT_POWER, &keys.shaft_power_w),
    ];
    for (field, list) in lists {
        if let Some(list) = list {
            same_length(&file.at, flow, (field, list))?;
        }
    }
    let sheet = PumpSheet {
        name: keys.name.clone(),
        flow_m3_s: keys.flow_m3_s.clone(),
        head_m: keys.head_m.clone(),
        efficiency: keys.efficiency.clone(),
        shaft_power_w: keys.shaft_power_w.clone(),
        curve: keys.curve,
    };
    let pump = file.at.booked(Pump::new(sheet, water))?;
    file.at.book().warn_once(pump.misfit_warnings());
    Some(pump)
}

pub(crate) fn build_battery(file: &Placed<BatteryFile>) -> Option<BatterySheet> {
    let keys = file.keys.as_ref()?;
    Some(BatterySheet {
        name: keys.name.clone(),
        capacity_j: keys.capacity_j,
        least_content: keys.least_content,
        charge_w: keys.charge_w,
        discharge_w: keys.discharge_w,
        charge_efficiency: keys.charge_efficiency,
        discharge_efficiency: keys.discharge_efficiency,
    })
}

/// If no load in a generator's list is above this, the list was written as fractions instead of per cent. (A load is at
/// most 1.2 times the rating.)
const LARGEST_FRACTION: f64 = 0.012;

pub(crate) fn build_generator(file: &Placed<GeneratorFile>) -> Option<Generator> {
    let keys = file.keys.as_ref()?;
    if let Some(fault) = generator::LOAD.given_as_fractions(&keys.loads, LARGEST_FRACTION) {
        file.at.fault(fault);
        return None;
    }
    let sheet = GeneratorSheet {
        name: keys.name.clone(),
        rated_w: keys.rated_w,
        least_load: keys.least_load,
        fuel_points: pairs(
            &file.at,
            (&generator::LOAD, &keys.loads),
            (&generator::FUEL, &keys.fuel_m3_s),
        )?,
    };
    file.at.booked(Generator::new(sheet))
}
