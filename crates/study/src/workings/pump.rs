//! Powers and frequencies of the pump set in the month when the standing water level is lowest.

use std::f64::consts::SQRT_2;

use daylift_lift::PumpSet;
use daylift_units::CurveForm;
use daylift_units::constants::GRAVITY_M_S2;

use super::hydraulics::{DeepestDuty, deepest_month};
use super::{Case, Symbol, Working};

pub(super) fn workings(case: &Case<'_>) -> Vec<Working> {
    let groups = case.stages.plant.groups();
    case.of_each_set(|index, set| {
        let mut out = Vec::new();
        if let Some(duty) = DeepestDuty::new(set) {
            out.extend([shaft_power(&duty), motor_input(&duty), wire_to_water(&duty)]);
        }
        if set.drive().is_some() {
            out.push(start_frequency(set));
            out.extend(start_power(set));
        }
        out.extend(bus_voltage_need(set));
        let stc_w: f64 = groups.iter().filter(|g| g.set == Some(index)).map(|g| g.strings.stc_w()).sum();
        if stc_w > 0.0 {
            out.extend(array_to_pump_ratio(set, stc_w));
        }
        out
    })
}

fn shaft_power(duty: &DeepestDuty<'_>) -> Working {
    let (set, point) = (duty.set, duty.point.duty);
    Working {
        name: "shaft-power".into(),
        comparable: true,
        title: format!("Shaft power {}", duty.place()),
        value: point.shaft_w / 1e3,
        unit: "kW".into(),
        formula: "rho * g * (Q / 3600) * H / eta / 1000".into(),
        symbols: vec![
            Symbol::new(
                "rho",
                "density of the water",
                set.system().water().density_kg_m3(),
                "kg/m³",
            ),
            Symbol::new("g", "gravity", GRAVITY_M_S2, "m/s²"),
            Symbol::new("Q", "duty flow", duty.flow_m3_h(), "m³/h"),
            Symbol::new("H", "head of the pump", point.head_m, "m"),
            Symbol::new(
                "eta",
                if set.pump().head_terms().is_some() {
                    "efficiency of the pump, from the fitted curve"
                } else {
                    "efficiency of the pump, from the curve through the datasheet's points"
                },
                point.pump_efficiency,
                "",
            ),
        ],
        source: "hydraulic power divided by efficiency (ISO 9906); density by Kell (1975)".into(),
        caution: format!(
            "the motor is rated {:.1} kW at the shaft; if power rises with flow, a higher water level takes more power",
            set.motor().rated_power_w() / 1e3
        ),
    }
}

const MOTOR_CAUTION: &str = "the motor cable's loss is added to this; low or unbalanced voltage increases the losses";

fn motor_input(duty: &DeepestDuty<'_>) -> Working {
    let motor = duty.set.motor();
    let kw = |symbol: &str, meaning: &str, value_w: f64| Symbol::new(symbol, meaning, value_w / 1e3, "kW");
    let (name, title) = (
        "motor-input",
        format!("Power at the motor's terminals {}", duty.place()),
    );
    if motor.curve() == CurveForm::ThroughPoints {
        let (shaft_w, motor_w) = (duty.point.duty.shaft_w, duty.point.duty.motor_w);
        return Working {
            name: name.into(),
            comparable: true,
            title,
            value: motor_w / 1e3,
            unit: "kW".into(),
            formula: "P + L".into(),
            symbols: vec![
                kw("P", "shaft power", shaft_w),
                kw(
                    "L",
                    "loss at this load, on the curve through the datasheet's losses",
                    motor_w - shaft_w,
                ),
            ],
            source: "monotone curve through the losses at the datasheet's efficiencies (Fritsch & Butland 1984)".into(),
            caution: MOTOR_CAUTION.into(),
        };
    }
    // The loss at no load is the fixed part. The rest of the loss at rated load is proportional to torque squared.
    let fixed_w = motor.input_w(0.0, 1.0);
    let torque_w = motor.rated_input_w() - motor.rated_power_w() - fixed_w;
    Working {
        name: name.into(),
        comparable: true,
        title,
        value: duty.point.duty.motor_w / 1e3,
        unit: "kW".into(),
        formula: "P + F + V * (P / Pr)^2".into(),
        symbols: vec![
            kw("P", "shaft power", duty.point.duty.shaft_w),
            kw("F", "fixed loss: iron, friction, windage", fixed_w),
            kw("V", "loss proportional to torque squared, at rated load", torque_w),
            kw("Pr", "rated shaft power", motor.rated_power_w()),
        ],
        source: "two loss components fitted by least squares to the datasheet's efficiencies; usual practice".into(),
        caution: MOTOR_CAUTION.into(),
    }
}

fn wire_to_water(duty: &DeepestDuty<'_>) -> Working {
    let density_kg_m3 = duty.set.system().water().density_kg_m3();
    let (head_m, supply_w) = (duty.system_head_m(), duty.point.supply_w);
    let value = density_kg_m3 * GRAVITY_M_S2 * duty.point.duty.flow_m3_s * head_m / supply_w;
    Working {
        name: "wire-to-water-efficiency".into(),
        comparable: true,
        title: format!("Wire-to-water efficiency {}", duty.place()),
        value: value * 100.0,
        unit: "%".into(),
        formula: "100 * rho * g * (Q / 3600) * H / (1000 * P)".into(),
        symbols: vec![
            Symbol::new("rho", "density of the water", density_kg_m3, "kg/m³"),
            Symbol::new("g", "gravity", GRAVITY_M_S2, "m/s²"),
            Symbol::new("Q", "duty flow", duty.flow_m3_h(), "m³/h"),
            Symbol::new("H", "total dynamic head", head_m, "m"),
            Symbol::new("P", "power into the motor cable", supply_w / 1000.0, "kW"),
        ],
        source: "hydraulic power divided by electrical power; density by Kell (1975)".into(),
        caution: "35% to 65% is usual for boreholes (usual practice, no published source)".into(),
    }
}

fn start_frequency(set: &PumpSet) -> Working {
    let month = deepest_month(set);
    Working {
        name: "start-frequency".into(),
        comparable: true,
        title: format!(
            "Start frequency on the drive in {}, when the standing water level is lowest",
            month.name()
        ),
        value: set.start_hz(month),
        unit: "Hz".into(),
        formula: "max(fl, f0 * (Hs / H0)^0.5, fm)".into(),
        symbols: vec![
            Symbol::new(
                "fl",
                "minimum frequency of the motor",
                set.motor().least_frequency_hz(),
                "Hz",
            ),
            Symbol::new("f0", "rated frequency", set.motor().rated_frequency_hz(), "Hz"),
            Symbol::new(
                "Hs",
                "head at no flow: standing lift and outlet pressure",
                set.system().static_head_m(month),
                "m",
            ),
            Symbol::new(
                "H0",
                "shut-off head of the pump at rated frequency",
                set.pump().shut_off_head_m(),
                "m",
            ),
            Symbol::new(
                "fm",
                "lowest frequency that gives the least flow of pump and motor; 0 without a least flow",
                set.least_flow_hz(month).unwrap_or(0.0),
                "Hz",
            ),
        ],
        source: "affinity law H ∝ n² (Karassik et al., Pump Handbook)".into(),
        caution: "below it the pump turns but delivers no water, or less than it must; the array power used to reach it yields no water"
            .into(),
    }
}

/// `None` without a drive.
fn start_power(set: &PumpSet) -> Option<Working> {
    let month = deepest_month(set);
    let (drive, dc_w) = (set.drive()?, set.dc_w(month, set.start_hz(month))?);
    let (rule, output_w) = (drive.start_rule(), drive.losses().output_w(dc_w));
    Some(Working {
        name: "start-power".into(),
        comparable: true,
        title: format!(
            "Power of the array at the drive at the start frequency in {}",
            month.name()
        ),
        value: dc_w,
        unit: "W".into(),
        formula: "Po + Pd".into(),
        symbols: vec![
            Symbol::new("Po", "output of the drive: motor and motor cable", output_w, "W"),
            Symbol::new(
                "Pd",
                "loss of the drive at that output",
                drive.losses().loss_w(output_w),
                "W",
            ),
        ],
        source: "output and loss of the drive; its loss is fitted to the datasheet's efficiencies".into(),
        caution: format!(
            "below it the sun cannot run the set; a stopped set starts at {:.0}% of it, after {:.0} s",
            rule.restart_power * 100.0,
            rule.confirm_s
        ),
    })
}

fn bus_voltage_need(set: &PumpSet) -> Option<Working> {
    let (drive, motor) = (set.drive()?, set.motor());
    let (volts, rated_hz, hz) = (motor.rated_voltage_v(), motor.rated_frequency_hz(), set.wanted_hz());
    Some(Working {
        name: "bus-voltage-need".into(),
        comparable: true,
        title: format!("DC bus voltage that full flux needs at {hz:.0} Hz"),
        value: drive.bus_voltage_need_v(hz.min(rated_hz), volts, rated_hz, set.fitted().filter_drop()),
        unit: "V".into(),
        formula: "q * V * (min(f, f0) / f0) * (1 + d + df)".into(),
        symbols: vec![
            Symbol::new("q", "√2, the ratio of peak to RMS of a sine wave", SQRT_2, ""),
            Symbol::new("V", "rated voltage of the motor between phases", volts, "V"),
            Symbol::new("f", "wanted frequency", hz, "Hz"),
            Symbol::new("f0", "rated frequency", rated_hz, "Hz"),
            Symbol::new(
                "d",
                "allowance for voltage drops of drive and cable",
                drive.voltage_drop(),
                "",
            ),
            Symbol::new("df", "voltage drop of the output filter", set.fitted().filter_drop(), ""),
        ],
        source: "limit of space-vector modulation (Holmes & Lipo 2003)".into(),
        caution:
            "the array need not reach it at its maximum-power voltage: with less load the voltage rises toward open circuit"
                .into(),
    })
}

fn array_to_pump_ratio(set: &PumpSet, stc_w: f64) -> Option<Working> {
    let month = deepest_month(set);
    let point = set.drive_point(month, set.wanted_hz())?;
    Some(Working {
        name: "array-to-pump-ratio".into(),
        comparable: true,
        title: format!(
            "Ratio of array to drive input at {:.0} Hz in {}, when the standing water level is lowest",
            point.hz,
            month.name()
        ),
        value: stc_w / point.dc_w,
        unit: "".into(),
        formula: "A / (P + M + D)".into(),
        symbols: vec![
            Symbol::new("A", "array at standard test conditions", stc_w / 1e3, "kWp"),
            Symbol::new("P", "power at the motor's terminals", point.duty.motor_w / 1e3, "kW"),
            Symbol::new("M", "loss of motor cable and output filter", point.duty.cable_w / 1e3, "kW"),
            Symbol::new("D", "loss of the drive", point.drive_loss_w / 1e3, "kW"),
        ],
        source: "a definition".into(),
        caution: "1.2 to 2 is usual for drives (usual practice, no published source); a higher ratio gives longer pumping days and more unused array energy at noon"
            .into(),
    })
}
