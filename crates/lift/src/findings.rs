//! Faults and warnings of a pump set.

use daylift_units::fields::{drive as drive_fields, pump_set};
use daylift_units::{Fault, Month, Unit, Warning};

use crate::check::{Faults, print};
use crate::pump::GREATEST_EFFICIENCY;
use crate::set::{MainsPoint, PumpSet};

/// Usual range of the velocity in a pipe \[m/s\] (usual practice). Slower water lets sand and air settle; faster water
/// costs friction and water hammer.
const VELOCITY_M_S: std::ops::RangeInclusive<f64> = 0.5..=2.5;
/// Frequency over rated frequency up to which a motor gets no warning (usual practice).
const OVERSPEED: f64 = 1.05;
/// Key of the pump's own file in the plant file.
const FILE: &str = "file";

/// A fault if the pump cannot reach the standing lift of some month at rated frequency; it names the worst month.
pub(crate) fn check_reach(set: &PumpSet, faults: &mut Faults) {
    let lift_m = |m: Month| set.system().static_head_m(m);
    let worst = Month::ALL.into_iter().fold(
        Month::January,
        |worst, m| if lift_m(m) > lift_m(worst) { m } else { worst },
    );
    let shut_off_m = set.pump().shut_off_head_m();
    let short_m = lift_m(worst) - shut_off_m;
    if short_m < 0.0 {
        return;
    }
    faults.push(Fault::new(
        FILE,
        format!("pump \"{}\"", set.pump().name()),
        format!(
            "shut-off head {shut_off_m:.1} m, standing lift {:.1} m in {}: {short_m:.1} m short",
            lift_m(worst),
            worst.name(),
        ),
        "a shut-off head above the standing lift in every month",
        "choose a pump with more head, or correct the water levels, the lift or the outlet pressure",
    ));
}

/// A fault if nothing flows at the wanted frequency in any month; `given` says whether the plant file states that
/// frequency.
pub(crate) fn check_wanted(set: &PumpSet, given: bool, faults: &mut Faults) {
    if set.drive().is_none() || months_without_flow(set).len() < 12 {
        return;
    }
    let easiest = Month::ALL.into_iter().fold(Month::January, |best, m| {
        if set.flow_begins_hz(m) < set.flow_begins_hz(best) {
            m
        } else {
            best
        }
    });
    let (begins, wanted) = (set.flow_begins_hz(easiest), set.wanted_hz());
    let allowed = format!(
        "above {}, at which flow starts in {}",
        print(begins, Unit::HZ),
        easiest.name()
    );
    faults.push(if given {
        let field = pump_set::WANTED;
        let remedy = format!("raise `{}`, or choose a pump with more head", field.key);
        Fault::new(field.key, field.quantity, field.print_si(wanted), allowed, remedy)
    } else {
        let field = drive_fields::GREATEST;
        let remedy = format!("raise `{}` of the drive, or choose a pump with more head", field.key);
        let said = format!(
            "no flow up to the drive's maximum frequency, {}",
            field.print_si(wanted)
        );
        Fault::new(FILE, format!("pump \"{}\"", set.pump().name()), said, allowed, remedy)
    });
}

/// A warning where the pump has water but not its least flow up to the wanted frequency.
fn low_flow(set: &PumpSet) -> Option<Warning> {
    let wanted_hz = set.wanted_hz();
    let hit: Vec<Month> = Month::ALL
        .into_iter()
        .filter(|&m| set.flow_begins_hz(m) < wanted_hz && set.least_flow_hz(m).is_some_and(|hz| hz > wanted_hz))
        .collect();
    (!hit.is_empty()).then(|| {
        let text = format!(
            "the flow stays below the least flow of pump and motor, {} at the wanted frequency, {}: the drive does not \
             run the pump then; choose a smaller pump, or correct `{}` or `cooling_flow_m3_h`",
            print(
                set.least_flow_m3_s(wanted_hz / set.motor().rated_frequency_hz()),
                Unit::M3_PER_H
            ),
            Month::in_words(&hit),
            pump_set::LEAST_FLOW.key
        );
        Warning::new("pump", text)
    })
}

/// Months in which nothing flows at the wanted frequency.
fn months_without_flow(set: &PumpSet) -> Vec<Month> {
    Month::ALL.into_iter().filter(|&m| set.flow_begins_hz(m) >= set.wanted_hz()).collect()
}

/// A fault if the set would run so far beyond the datasheet that the fitted efficiency is meaningless.
pub(crate) fn check_extrapolation(set: &PumpSet, faults: &mut Faults) {
    let pump = set.pump();
    let last_m3_s = pump.greatest_flow_m3_s();
    for m in Month::ALL {
        let scaled_m3_s = greatest_scaled_flow_m3_s(set, m);
        let fitted = pump.fitted_efficiency(scaled_m3_s);
        let bounds = pump.least_efficiency..=GREATEST_EFFICIENCY;
        if scaled_m3_s <= last_m3_s || bounds.contains(&fitted) {
            continue;
        }
        faults.push(Fault::new(
            FILE,
            format!("pump \"{}\"", pump.name()),
            format!(
                "operates at {} in {}, where its fitted efficiency is {:.1}%",
                print(scaled_m3_s, Unit::M3_PER_H),
                m.name(),
                100.0 * fitted
            ),
            format!(
                "a flow not far above the datasheet's last flow, {}",
                print(last_m3_s, Unit::M3_PER_H)
            ),
            "give datasheet points up to that flow, or choose a pump for a lower head",
        ));
        return;
    }
}

/// Maximum flow divided by frequency ratio at which the set can run in a month \[m³/s\].
fn greatest_scaled_flow_m3_s(set: &PumpSet, m: Month) -> f64 {
    let limit_m3_s = set.system().well().flow_limit_m3_s(m).unwrap_or(f64::INFINITY);
    let top = set.greatest_hz() / set.motor().rated_frequency_hz();
    [1.0, top]
        .map(|ratio| set.flow_m3_s(m, ratio).min(limit_m3_s) / ratio)
        .into_iter()
        .fold(0.0, f64::max)
}

/// The warnings, each once for all months.
pub(crate) fn warnings(set: &PumpSet) -> Vec<Warning> {
    let points: Vec<(Month, MainsPoint)> = Month::ALL.into_iter().filter_map(|m| Some((m, set.mains(m)?))).collect();
    let mut out = Vec::new();
    out.extend(beyond_data(set, &points));
    out.extend(overload(set, &points));
    out.extend(velocities(set, &points));
    out.extend(well(set, &points));
    if set.drive().is_some() {
        out.extend(slow_drive(set));
        out.extend(low_flow(set));
        out.extend(small_drive(set));
        out.extend(drive_overload(set));
        out.extend(overspeed(set));
    }
    out
}

fn months(points: &[(Month, MainsPoint)], hit: impl Fn(&MainsPoint) -> bool) -> Vec<Month> {
    points.iter().filter(|(_, p)| hit(p)).map(|(m, _)| *m).collect()
}

fn greatest(points: &[(Month, MainsPoint)], value: impl Fn(&MainsPoint) -> f64) -> f64 {
    points.iter().map(|(_, p)| value(p)).fold(0.0, f64::max)
}

fn beyond_data(set: &PumpSet, points: &[(Month, MainsPoint)]) -> Option<Warning> {
    let last_m3_s = set.pump().greatest_flow_m3_s();
    let hit = months(points, |p| p.duty.flow_m3_s > last_m3_s);
    (!hit.is_empty()).then(|| {
        let text = format!(
            "the duty flow at rated frequency, up to {}, is above the datasheet's last flow, {}, {}: \
             the curves are extrapolated",
            print(greatest(points, |p| p.duty.flow_m3_s), Unit::M3_PER_H),
            print(last_m3_s, Unit::M3_PER_H),
            Month::in_words(&hit)
        );
        Warning::new("pump", text)
    })
}

fn overload(set: &PumpSet, points: &[(Month, MainsPoint)]) -> Option<Warning> {
    let water_c = set.system().water().temperature_c();
    let rated_w = set.motor().rated_power_w() * set.motor().water_derating(water_c);
    let hit = months(points, |p| p.duty.shaft_w > rated_w);
    (!hit.is_empty()).then(|| {
        let text = format!(
            "the pump takes up to {} shaft power at rated frequency {}; the motor is rated {}",
            print(greatest(points, |p| p.duty.shaft_w), Unit::KW),
            Month::in_words(&hit),
            print(rated_w, Unit::KW)
        );
        Warning::new("motor", text)
    })
}

fn velocities(set: &PumpSet, points: &[(Month, MainsPoint)]) -> Vec<Warning> {
    let of_pipe = |pipe: &crate::Pipe| {
        // Rounded to hundredths, as printed, so that a value printed as 0.50 is not below 0.5.
        let speed_m_s = |p: &MainsPoint| (100.0 * pipe.velocity_m_s(p.duty.flow_m3_s)).round() / 100.0;
        let hit = months(points, |p| !VELOCITY_M_S.contains(&speed_m_s(p)));
        let first = points.iter().find(|(m, _)| hit.first() == Some(m))?;
        let text = format!(
            "in pipe \"{}\" at rated frequency the water velocity is {:.2} m/s {}; usual practice is {} to {} m/s",
            pipe.name(),
            speed_m_s(&first.1),
            Month::in_words(&hit),
            VELOCITY_M_S.start(),
            VELOCITY_M_S.end()
        );
        Some(Warning::new("pipe", text))
    };
    set.system().pipes().iter().filter_map(of_pipe).collect()
}

fn well(set: &PumpSet, points: &[(Month, MainsPoint)]) -> Vec<Warning> {
    let mut out = Vec::new();
    let throttled: Vec<_> = points.iter().filter(|(_, p)| p.throttled).copied().collect();
    if let Some((_, first)) = throttled.first() {
        let text = format!(
            "the well yields less than the pump could deliver {}: on mains a valve limits the flow, to {} in the first of these months",
            Month::in_words(&months(&throttled, |_| true)),
            print(first.duty.flow_m3_s, Unit::M3_PER_H)
        );
        out.push(Warning::new("well", text));
    }
    let sheet = set.system().well().sheet();
    let level_m = |m: Month| sheet.static_level_m[m];
    let dry: Vec<Month> = Month::ALL.into_iter().filter(|&m| set.mains(m).is_none()).collect();
    if let (Some(&deepest), Some(depth_m)) = (
        dry.iter().max_by(|a, b| level_m(**a).total_cmp(&level_m(**b))),
        sheet.intake_depth_m,
    ) {
        let text = format!(
            "intake at {}, but standing water at {} in {} plus margin {}: no water is pumped {}",
            print(depth_m, Unit::M),
            print(level_m(deepest), Unit::M),
            deepest.name(),
            print(sheet.intake_margin_m, Unit::M),
            Month::in_words(&dry)
        );
        out.push(Warning::new("well", text));
    }
    out
}

fn slow_drive(set: &PumpSet) -> Option<Warning> {
    let hit = months_without_flow(set);
    (!hit.is_empty()).then(|| {
        let text = format!(
            "no flow up to the wanted frequency, {}, {}",
            print(set.wanted_hz(), Unit::HZ),
            Month::in_words(&hit)
        );
        Warning::new("drive", text)
    })
}

fn small_drive(set: &PumpSet) -> Option<Warning> {
    let rated_w = set.drive()?.rated_power_w();
    let hit: Vec<Month> = Month::ALL
        .into_iter()
        .filter(|&m| set.drive_limit_hz(m).is_some_and(|hz| hz <= 0.0))
        .collect();
    (!hit.is_empty()).then(|| {
        let text = format!(
            "its rated output, {}, is less than the pump needs even to start {}: it cannot run the pump then",
            print(rated_w, Unit::KW),
            Month::in_words(&hit)
        );
        Warning::new("drive", text)
    })
}

/// Overload at the wanted frequency; overload at rated frequency is reported by [`overload`].
fn drive_overload(set: &PumpSet) -> Option<Warning> {
    let (rated_w, rated_hz, wanted_hz) = (
        set.motor().rated_power_w(),
        set.motor().rated_frequency_hz(),
        set.wanted_hz(),
    );
    if (wanted_hz - rated_hz).abs() <= 1e-9 * rated_hz {
        return None;
    }
    let limit = |limit_hz: Option<f64>| limit_hz.unwrap_or(f64::INFINITY);
    let shaft_w = |m: Month| {
        let hz = wanted_hz.min(limit(set.well_limit_hz(m))).min(limit(set.drive_limit_hz(m)));
        Some((m, set.drive_point(m, hz)?.duty.shaft_w))
    };
    let over: Vec<(Month, f64)> = Month::ALL
        .into_iter()
        .filter_map(shaft_w)
        .filter(|(_, shaft_w)| *shaft_w > rated_w)
        .collect();
    (!over.is_empty()).then(|| {
        let months: Vec<Month> = over.iter().map(|(m, _)| *m).collect();
        let text = format!(
            "on the drive, up to the wanted frequency of {}, the pump takes up to {} shaft power {}; the motor is rated {}",
            print(wanted_hz, Unit::HZ),
            print(over.iter().map(|(_, w)| *w).fold(0.0, f64::max), Unit::KW),
            Month::in_words(&months),
            print(rated_w, Unit::KW)
        );
        Warning::new("motor", text)
    })
}

fn overspeed(set: &PumpSet) -> Option<Warning> {
    let (wanted_hz, rated_hz) = (set.wanted_hz(), set.motor().rated_frequency_hz());
    (wanted_hz > OVERSPEED * rated_hz * (1.0 + 1e-12)).then(|| {
        let text = format!(
            "the wanted frequency, {}, is {} above the motor's rated {}; usual practice is up to {}",
            print(wanted_hz, Unit::HZ),
            print(wanted_hz / rated_hz - 1.0, Unit::PERCENT),
            print(rated_hz, Unit::HZ),
            print(OVERSPEED - 1.0, Unit::PERCENT)
        );
        Warning::new("motor", text)
    })
}
