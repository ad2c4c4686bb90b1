//! The equipment files.

use daylift_lift::USUAL_WAITS_S;
use daylift_units::CurveForm;
use daylift_units::fields::{battery, drive, file, generator, inverter, module, motor, pump};

use super::keys::{Typed, choice, count, flag, frame, group, kind, named, number, numbers, percentages, record};
use super::listed::Listed;
use crate::read::{EquipmentFile, Group, OneWord};

/// How the curve of a device follows the points of its datasheet.
const CURVE: Typed<CurveForm> = choice::<CurveForm>(
    "curve",
    "curve through the datasheet's points: fitted by least squares, or through every point",
)
.or(
    (CurveForm::Fitted, "fitted"),
    "usual practice: a fit evens out readings from a printed curve",
);

frame! {
    /// An inverter file.
    InverterFile {
        _format: u32 = count(&file::FORMAT).unlisted();
        _kind: OneWord = kind("inverter");
        sheet: Group<InverterKeys> = group();
        losses: Group<InverterLossKeys> = group();
        limits: Group<InverterLimitKeys> = group();
    }

    /// Limits of an inverter's inputs; each is checked separately.
    // Not a record: a wrong limit must not hide faults of the others.
    InverterLimitKeys {
        greatest_dc_v: Option<f64> = number(&inverter::GREATEST_DC_V).optional();
        inputs: Option<u32> = count(&inverter::MPPT_INPUTS).optional();
        strings_per_input: Option<u32> = count(&inverter::INPUT_STRINGS).optional();
        input_current_a: Option<f64> = number(&inverter::INPUT_CURRENT).optional();
        input_short_circuit_a: Option<f64> = number(&inverter::INPUT_SHORT_CIRCUIT).optional();
        greatest_dc_w: Option<f64> = number(&inverter::GREATEST_DC_POWER).optional();
    }

    /// A drive file.
    DriveFile {
        _format: u32 = count(&file::FORMAT).unlisted();
        _kind: OneWord = kind("drive");
        sheet: Group<DriveSheetKeys> = group();
        rating: Group<DriveRatingKeys> = group();
        control: Group<DriveControlKeys> = group();
        limits: Group<DriveLimitKeys> = group();
    }

    /// Limits of a drive; each is checked separately.
    // Not a record: a wrong limit must not hide faults of the others.
    DriveLimitKeys {
        greatest_dc_v: Option<f64> = number(&drive::GREATEST_DC_V).optional();
        start_dc_v: Option<f64> = number(&drive::START_DC_V).optional();
        dc_current_a: Option<f64> = number(&drive::DC_CURRENT).optional();
        dc_short_circuit_a: Option<f64> = number(&drive::DC_SHORT_CIRCUIT).optional();
        greatest_dc_w: Option<f64> = number(&drive::GREATEST_DC_POWER).optional();
        power_ups_per_day: Option<f64> = number(&drive::MAX_POWER_UPS).optional();
    }
}

record! {
    /// An inverter's datasheet.
    InverterKeys {
        name: String = named("name of the equipment");
        rated_w: f64 = number(&inverter::RATED);
        loads: Vec<f64> = numbers(&inverter::LOAD);
        efficiencies: Vec<f64> = percentages(&inverter::EFFICIENCY);
        curve: CurveForm = CURVE;
        start_w: f64 = number(&inverter::START);
        mppt_min_v: f64 = number(&inverter::MPPT_MIN);
        mppt_max_v: f64 = number(&inverter::MPPT_MAX);
    }

    /// What an inverter loses to its tracking and to heat.
    InverterLossKeys {
        tracking: f64 = number(&inverter::TRACKING);
        tracking_broken: f64 = number(&inverter::TRACKING_BROKEN);
        derating_per_k: f64 = number(&inverter::HEAT_DERATING);
        derating_c: f64 = number(&inverter::DERATING_TEMPERATURE);
    }

    /// What a drive's output can carry, and how low it may set the motor's flux.
    DriveRatingKeys {
        current_a: Option<f64> = number(&drive::CURRENT).optional();
        power_factor: Option<f64> = number(&drive::POWER_FACTOR).optional();
        least_flux: f64 = number(&drive::LEAST_FLUX);
        altitude_derating_per_m: f64 = number(&drive::ALTITUDE_DERATING);
        rated_altitude_m: f64 = number(&drive::RATED_ALTITUDE);
        heat_derating_per_k: f64 = number(&drive::HEAT_DERATING);
        rated_temperature_c: f64 = number(&drive::RATED_TEMPERATURE);
        cabinet_rise_k: f64 = number(&drive::CABINET_RISE);
    }

    /// How a drive follows the sun: its tracking, starting and stopping.
    DriveControlKeys {
        static_loss: f64 = number(&drive::TRACKING_STATIC);
        clear_loss: f64 = number(&drive::TRACKING_CLEAR);
        broken_loss: f64 = number(&drive::TRACKING_BROKEN);
        restart_power: f64 = number(&drive::RESTART_POWER);
        confirm_s: f64 = number(&drive::RESTART_CONFIRM);
        waits_s: Option<Vec<f64>> = numbers(&drive::RETRY_WAIT).optional().listed_as(
            Listed::Numbers(&USUAL_WAITS_S, "s"),
            "usual practice, no source",
        );
    }

    /// A drive's datasheet.
    DriveSheetKeys {
        name: String = named("name of the equipment");
        rated_power_w: f64 = number(&drive::RATED);
        loads: Vec<f64> = numbers(&drive::LOAD);
        efficiencies: Vec<f64> = percentages(&drive::EFFICIENCY);
        curve: CurveForm = CURVE;
        greatest_frequency_hz: Option<f64> = number(&drive::GREATEST).optional().listed_as(
            Listed::Rule("the motor's rated frequency"),
            "usual practice: not above rated speed",
        );
        voltage_drop: f64 = number(&drive::DROP);
    }

    /// A module file.
    ModuleFile {
        _format: u32 = count(&file::FORMAT).unlisted();
        _kind: OneWord = kind("module");
        name: String = named("name of the equipment");
        short_circuit_a: f64 = number(&module::ISC);
        open_circuit_v: f64 = number(&module::VOC);
        max_power_a: f64 = number(&module::IMP);
        max_power_v: f64 = number(&module::VMP);
        short_circuit_a_per_k: f64 = number(&module::ALPHA);
        open_circuit_v_per_k: f64 = number(&module::BETA);
        cells: u32 = count(&module::CELLS);
        system_v: f64 = number(&module::SYSTEM_V);
        greatest_fuse_a: f64 = number(&module::GREATEST_FUSE);
    }

    /// A motor file.
    MotorFile {
        _format: u32 = count(&file::FORMAT).unlisted();
        _kind: OneWord = kind("motor");
        name: String = named("name of the equipment");
        rated_power_w: f64 = number(&motor::RATED);
        rated_frequency_hz: f64 = number(&motor::FREQUENCY);
        rated_voltage_v: f64 = number(&motor::VOLTAGE);
        loads: Vec<f64> = numbers(&motor::LOAD);
        efficiencies: Vec<f64> = percentages(&motor::EFFICIENCY);
        curve: CurveForm = CURVE;
        least_frequency_hz: f64 = number(&motor::LEAST);
        rated_current_a: Option<f64> = number(&motor::CURRENT).optional();
        power_factor: Option<f64> = number(&motor::POWER_FACTOR).optional().listed_as(
            Listed::Rule("0.85, where the rated current is not given either"),
            "usual practice, no source",
        );
        cooling_flow_m3_s: Option<f64> = number(&motor::COOLING_FLOW).optional();
        submersible: Option<bool> = flag("submersible", "whether the motor stands in the water and is cooled by it")
            .optional()
            .listed_as(Listed::Text("true"), "usual practice in boreholes");
        water_derating_per_k: f64 = number(&motor::WATER_DERATING);
        starts_per_day: Option<f64> = number(&motor::MAX_STARTS).optional();
        gap_s: Option<f64> = number(&motor::LEAST_GAP).optional();
    }

    /// A pump file. It has efficiencies, shaft powers or both.
    PumpFile {
        _format: u32 = count(&file::FORMAT).unlisted();
        _kind: OneWord = kind("pump");
        name: String = named("name of the equipment");
        flow_m3_s: Vec<f64> = numbers(&pump::FLOW);
        head_m: Vec<f64> = numbers(&pump::HEAD);
        efficiency: Option<Vec<f64>> = numbers(&pump::EFFICIENCY).optional();
        shaft_power_w: Option<Vec<f64>> = numbers(&pump::SHAFT_POWER).optional();
        curve: CurveForm = CURVE;
    }

    /// A battery file.
    BatteryFile {
        _format: u32 = count(&file::FORMAT).unlisted();
        _kind: OneWord = kind("battery");
        name: String = named("name of the equipment");
        capacity_j: f64 = number(&battery::CAPACITY);
        least_content: f64 = number(&battery::LEAST);
        charge_w: f64 = number(&battery::CHARGE);
        discharge_w: f64 = number(&battery::DISCHARGE);
        charge_efficiency: f64 = number(&battery::CHARGE_EFFICIENCY);
        discharge_efficiency: f64 = number(&battery::DISCHARGE_EFFICIENCY);
    }

    /// A generator file.
    GeneratorFile {
        _format: u32 = count(&file::FORMAT).unlisted();
        _kind: OneWord = kind("generator");
        name: String = named("name of the equipment");
        rated_w: f64 = number(&generator::RATED);
        least_load: f64 = number(&generator::LEAST_LOAD);
        loads: Vec<f64> = numbers(&generator::LOAD);
        fuel_m3_s: Vec<f64> = numbers(&generator::FUEL);
    }
}

macro_rules! kinds {
    ($($file:ident = $kind:literal;)*) => {$(
        impl EquipmentFile for $file {
            const KIND: &'static str = $kind;
        }
    )*};
}

kinds! {
    ModuleFile = "module";
    InverterFile = "inverter";
    DriveFile = "drive";
    MotorFile = "motor";
    PumpFile = "pump";
    BatteryFile = "battery";
    GeneratorFile = "generator";
}
