//! What is wrong with a pump set, and what the reader of its results must know.

use daylift_units::{Fault, Unit, Warning};

use crate::check::{Faults, print};
use crate::month;
use crate::pump_sheet::GREATEST_EFFICIENCY;
use crate::set::{MainsPoint, PumpSet};

/// Usual bounds of the velocity in a pipe \[m/s\] (usual practice): slower lets sand and air settle, faster costs
/// friction and water hammer.
const VELOCITY_M_S: std::ops::RangeInclusive<f64> = 0.5..=2.5;

/// A fault when the pump cannot reach the standing lift of some month at rated frequency; the worst month is named.
pub(crate) fn check_reach(set: &PumpSet, faults: &mut Faults) {
    let lift_m = |m: usize| set.system().static_head_m(m);
    let worst = (0..12).fold(0, |worst, m| if lift_m(m) > lift_m(worst) { m } else { worst });
    let shut_off_m = set.pump().shut_off_head_m();
    let short_m = lift_m(worst) - shut_off_m;
    if short_m < 0.0 {
        return;
    }
    faults.push(Fault::new(
        "pump",
        format!("pump \"{}\"", set.pump().name()),
        format!(
            "the pump's shut-off head is {shut_off_m:.1} m, the standing lift in {} is {:.1} m: {short_m:.1} m short",
            month::name(worst),
            lift_m(worst),
        ),
        "a shut-off head above the standing lift in every month",
        "choose a pump with more head, or correct the levels, the lift or the pressure at the outlet",
    ));
}

/// A fault when the set would work so far beyond the datasheet that the fitted efficiency means nothing.
pub(crate) fn check_extrapolation(set: &PumpSet, faults: &mut Faults) {
    let pump = set.pump();
    let last_m3_s = pump.greatest_flow_m3_s();
    for m in 0..12 {
        let scaled_m3_s = greatest_scaled_flow_m3_s(set, m);
        let fitted = pump.fitted_efficiency(scaled_m3_s);
        let bounds = pump.least_efficiency..=GREATEST_EFFICIENCY;
        if scaled_m3_s <= last_m3_s || bounds.contains(&fitted) {
            continue;
        }
        faults.push(Fault::new(
            "pump",
            format!("pump \"{}\"", pump.name()),
            format!(
                "works at {} in {}, where its fitted efficiency is {:.1}%",
                print(scaled_m3_s, Unit::M3_PER_H),
                month::name(m),
                100.0 * fitted
            ),
            format!(
                "a flow not far beyond the datasheet's last, {}",
                print(last_m3_s, Unit::M3_PER_H)
            ),
            "give datasheet points up to that flow, or choose a pump for a lower head",
        ));
        return;
    }
}

/// Greatest flow over frequency ratio at which the set can work in a month \[m³/s\].
fn greatest_scaled_flow_m3_s(set: &PumpSet, m: usize) -> f64 {
    let limit_m3_s = set.system().well().flow_limit_m3_s(m).unwrap_or(f64::INFINITY);
    let top = set.greatest_hz() / set.motor().rated_frequency_hz();
    [1.0, top]
        .map(|ratio| set.flow_m3_s(m, ratio).min(limit_m3_s) / ratio)
        .into_iter()
        .fold(0.0, f64::max)
}

/// What the reader must know, each thing once for all months.
pub(crate) fn warnings(set: &PumpSet) -> Vec<Warning> {
    let points: Vec<(usize, MainsPoint)> = (0..12).filter_map(|m| Some((m, set.mains(m)?))).collect();
    let mut out = Vec::new();
    out.extend(beyond_data(set, &points));
    out.extend(overload(set, &points));
    out.extend(velocities(set, &points));
    out.extend(well(set, &points));
    out.extend(slow_drive(set));
    out
}

fn months(points: &[(usize, MainsPoint)], hit: impl Fn(&MainsPoint) -> bool) -> Vec<usize> {
    points.iter().filter(|(_, p)| hit(p)).map(|(m, _)| *m).collect()
}

fn greatest(points: &[(usize, MainsPoint)], value: impl Fn(&MainsPoint) -> f64) -> f64 {
    points.iter().map(|(_, p)| value(p)).fold(0.0, f64::max)
}

fn beyond_data(set: &PumpSet, points: &[(usize, MainsPoint)]) -> Option<Warning> {
    let last_m3_s = set.pump().greatest_flow_m3_s();
    let hit = months(points, |p| p.duty.flow_m3_s > last_m3_s);
    (!hit.is_empty()).then(|| {
        let text = format!(
            "{} the duty flow at rated frequency, up to {}, lies beyond the datasheet's last, {}: \
             the curves are carried on",
            month::in_words(&hit),
            print(greatest(points, |p| p.duty.flow_m3_s), Unit::M3_PER_H),
            print(last_m3_s, Unit::M3_PER_H)
        );
        Warning::new("pump", text)
    })
}

fn overload(set: &PumpSet, points: &[(usize, MainsPoint)]) -> Option<Warning> {
    let rated_w = set.motor().rated_power_w();
    let hit = months(points, |p| p.duty.shaft_w > rated_w);
    (!hit.is_empty()).then(|| {
        let text = format!(
            "{} the pump takes up to {} at its shaft at rated frequency, the motor is rated {}",
            month::in_words(&hit),
            print(greatest(points, |p| p.duty.shaft_w), Unit::KW),
            print(rated_w, Unit::KW)
        );
        Warning::new("motor", text)
    })
}

fn velocities(set: &PumpSet, points: &[(usize, MainsPoint)]) -> Vec<Warning> {
    let of_pipe = |pipe: &crate::Pipe| {
        let speed_m_s = |p: &MainsPoint| pipe.velocity_m_s(p.duty.flow_m3_s);
        let hit = months(points, |p| !VELOCITY_M_S.contains(&speed_m_s(p)));
        let first = points.iter().find(|(m, _)| hit.first() == Some(m))?;
        let text = format!(
            "in pipe \"{}\" the water runs at {:.2} m/s {} at rated frequency; usual practice is {} to {} m/s",
            pipe.name(),
            speed_m_s(&first.1),
            month::in_words(&hit),
            VELOCITY_M_S.start(),
            VELOCITY_M_S.end()
        );
        Some(Warning::new("pipe", text))
    };
    set.system().pipes().iter().filter_map(of_pipe).collect()
}

fn well(set: &PumpSet, points: &[(usize, MainsPoint)]) -> Vec<Warning> {
    let mut out = Vec::new();
    let throttled: Vec<_> = points.iter().filter(|(_, p)| p.throttled).copied().collect();
    if let Some((_, first)) = throttled.first() {
        let text = format!(
            "{} the well allows less than the pump gives: on mains a valve holds the flow, at {} in the first of them",
            month::in_words(&months(&throttled, |_| true)),
            print(first.duty.flow_m3_s, Unit::M3_PER_H)
        );
        out.push(Warning::new("well", text));
    }
    let dry: Vec<usize> = (0..12).filter(|&m| set.mains(m).is_none()).collect();
    if !dry.is_empty() {
        let text = format!(
            "{} the standing water is too deep for the intake and its margin: nothing is pumped then",
            month::in_words(&dry)
        );
        out.push(Warning::new("well", text));
    }
    out
}

fn slow_drive(set: &PumpSet) -> Option<Warning> {
    set.drive()?;
    let hit: Vec<usize> = (0..12).filter(|&m| set.flow_begins_hz(m) >= set.greatest_hz()).collect();
    (!hit.is_empty()).then(|| {
        let text = format!(
            "{} nothing flows up to the drive's greatest frequency, {}",
            month::in_words(&hit),
            print(set.greatest_hz(), Unit::HZ)
        );
        Warning::new("drive", text)
    })
}
