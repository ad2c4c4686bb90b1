//! A drive without a battery uses a share of the array and pumps some hours a day at full speed. Both depend on the ratio
//! of array power to the pump's DC input at its duty point, not to its nameplate power. Pump, sky
//! and losses are those of Mulenga Ridge, and the modules' current is scaled. Water is always wanted, so the tank has no effect.

use std::path::Path;

use daylift_array::{Module, ModuleSheet, StringGroup};
use daylift_plant::Plant;
use daylift_plant_file::read_plant;
use daylift_study::{Memory, Stages};
use daylift_supply::Stream;
use daylift_units::{Month, Step};

use crate::data::Outcome;

/// Common practice: share used with an array of twice the motor; hours of full pumping in winter and in summer.
const SHARE_USED: f64 = 0.60;
const WINTER_H: f64 = 5.5;
const SUMMER_H: f64 = 8.0;

/// One ratio of array to pump input.
struct Point {
    ratio: f64,
    share_used: f64,
    june_h: f64,
    december_h: f64,
}

/// The table and the ratios at which the program gives the rules.
pub(crate) fn report() -> Outcome<String> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../examples/mulenga-ridge");
    let plant = read_plant(&folder).map_err(|faults| format!("{} faults", faults.len()))?.plant;
    let points: Vec<Point> = (8..=32)
        .step_by(2)
        .map(|tenths| point(&plant, f64::from(tenths) / 10.0))
        .collect::<Outcome<_>>()?;
    let losses = plant.array.as_ref().map_or(0.0, |a| {
        let strings = a.groups.raw[0].strings.losses();
        1.0 - strings.current_factor() * (1.0 - strings.soiling[Month::January])
    });
    let mut out = format!(
        "Reported, not gated (common practice, no source): a battery-less drive on Mulenga Ridge, array losses {:.1}%, water\n\
         always wanted; ratio of array kWp to the drive's DC input in kW at the wanted frequency in the deepest month\n\n\
         \x20 kWp per kW   share used   full pumping, h/day: June   December\n",
        losses * 100.0
    );
    for p in &points {
        out += &format!(
            "  {:>10.1}   {:>9.1}%   {:>25.1}   {:>8.1}\n",
            p.ratio,
            p.share_used * 100.0,
            p.june_h,
            p.december_h
        );
    }
    let rules = [
        (
            "60% of the array used, array twice the motor",
            ratio_at(&points, |p| p.share_used, SHARE_USED),
        ),
        (
            "5.5 h of full pumping a day in winter (June)",
            ratio_at(&points, |p| p.june_h, WINTER_H),
        ),
        (
            "8 h of full pumping a day in summer (December)",
            ratio_at(&points, |p| p.december_h, SUMMER_H),
        ),
    ];
    for (rule, ratio) in rules {
        let at = ratio.map_or_else(
            || "nowhere between 0.8 and 3.2".to_owned(),
            |r| format!("at {r:.2} kWp per kW"),
        );
        out += &format!("  {rule}: {at}\n");
    }
    Ok(out)
}

/// The plant with its modules' current scaled to a ratio.
fn point(plant: &Plant, ratio: f64) -> Outcome<Point> {
    let mut plant = plant.clone();
    let set = &plant.sets.raw[0].pump_set;
    let deepest = Month::ALL
        .into_iter()
        .max_by(|&a, &b| set.system().static_head_m(a).total_cmp(&set.system().static_head_m(b)))
        .ok_or("no month")?;
    let input_w = set.drive_point(deepest, set.wanted_hz()).map_or(0.0, |p| p.dc_w);
    let array = plant.array.as_mut().ok_or("no array")?;
    let strings = &mut array.groups.raw[0].strings;
    let scale = ratio * input_w / strings.stc_w();
    let sheet = strings.module().sheet();
    let scaled = ModuleSheet {
        short_circuit_a: sheet.short_circuit_a * scale,
        max_power_a: sheet.max_power_a * scale,
        short_circuit_a_per_k: sheet.short_circuit_a_per_k * scale,
        ..sheet.clone()
    };
    let module = Module::new(scaled).map_err(|faults| faults[0].to_string())?;
    let cable = strings.cable().fraction(strings.stc_w());
    *strings = StringGroup::new(module, strings.series(), strings.parallel(), *strings.losses(), cable)
        .map_err(|faults| faults[0].to_string())?;
    let memory = Memory::none();
    let stages = Stages::new(&plant, Step::TenMinutes, &memory);
    let months = &stages.dc.as_ref().ok_or("no array")?.clock.month;
    let drive = stages.offers.sets.raw[0].drive.as_ref().ok_or("no drive")?;
    let full = |month: Month, days: f64| {
        let wanted_hz = plant.sets.raw[0].pump_set.wanted_hz();
        let at_full = |&step: &usize| {
            months[step] == month && drive.flow_m3_s.at(step) > 0.0 && drive.hz[step] >= wanted_hz - 1e-6
        };
        let steps = (0..months.len()).filter(at_full).count();
        steps as f64 * stages.axis.step_s() / 3600.0 / days
    };
    let sum = |stream: &Stream| stream.steps().iter().sum::<f64>();
    let used = sum(&drive.to_pump_w);
    let base = sum(&drive.available_w) - sum(&drive.conversion_w) - sum(&drive.cables_w);
    Ok(Point {
        ratio,
        share_used: used / base,
        june_h: full(Month::June, 30.0),
        december_h: full(Month::December, 31.0),
    })
}

/// The ratio at which a value reaches a rule's figure, interpolated linearly between the points.
fn ratio_at(points: &[Point], value: impl Fn(&Point) -> f64, figure: f64) -> Option<f64> {
    points.windows(2).find_map(|pair| {
        let (a, b) = (value(&pair[0]), value(&pair[1]));
        let within = (a - figure) * (b - figure) <= 0.0 && (a - b).abs() > 0.0;
        within.then(|| pair[0].ratio + (pair[1].ratio - pair[0].ratio) * (figure - a) / (b - a))
    })
}
