//! What the drive of *Sable Hollow* uses of its array and how long it pumps on the sun alone, beside rules of thumb. The
//! devices are as the plant file and its defaults describe them. Water is always wanted, so the tank has no effect.

use std::path::Path;

use daylift_plant_file::read_plant;
use daylift_study::{Memory, Stages};
use daylift_supply::{LossCause, Stream};
use daylift_units::{Month, Step};

use crate::data::Outcome;

/// Common practice: share of the array used, and hours of pumping a day, in mid-winter and in mid-summer.
const SHARE_USED: f64 = 0.60;
const RULES_H: [(Month, f64, f64); 2] = [(Month::June, 30.0, 5.5), (Month::December, 31.0, 8.0)];

/// The report; one-minute steps, because clouds decide when the drive stops.
pub(crate) fn report() -> Outcome<String> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../examples/sable-hollow");
    let plant = read_plant(&folder).map_err(|faults| format!("{} faults", faults.len()))?.plant;
    let memory = Memory::none();
    let stages = Stages::new(&plant, Step::Minute, &memory);
    let months = &stages.dc.as_ref().ok_or("no array")?.clock.month;
    let drive = stages.offers.sets.raw[0].drive.as_ref().ok_or("no drive")?;
    let set = &plant.sets.raw[0].pump_set;
    let step_h = stages.axis.step_s() / 3600.0;
    let sum = |stream: &Stream| stream.steps().iter().sum::<f64>();
    let available = sum(&drive.available_w);
    let used = sum(&drive.to_pump_w) / (available - sum(&drive.conversion_w) - sum(&drive.cables_w));
    let full_m3_s = |month: Month| set.drive_point(month, set.wanted_hz()).map_or(0.0, |point| point.duty.flow_m3_s);
    let input_kw = set.drive_point(Month::November, set.wanted_hz()).map_or(0.0, |point| point.dc_w / 1e3);
    let array = plant.array.as_ref().ok_or("no array")?;
    let kwp: f64 = array.groups.iter().map(|group| group.strings.stc_w() / 1e3).sum();
    let mut out = format!(
        "Reported, not gated (common practice, no source): the drive of Sable Hollow alone, 1 min, water always wanted;\n\
         {kwp:.1} kWp on a drive that takes {input_kw:.1} kW at full speed in November, {:.2} kWp per kW\n\n\
         \x20 share of the array used: {:.1}% (rule: {:.0}%)\n",
        kwp / input_kw,
        100.0 * used,
        100.0 * SHARE_USED,
    );
    for (month, days, rule_h) in RULES_H {
        let steps: Vec<usize> = (0..months.len()).filter(|&step| months[step] == month).collect();
        let mean_h =
            |counts: &dyn Fn(usize) -> bool| steps.iter().filter(|&&step| counts(step)).count() as f64 * step_h / days;
        let pumping = mean_h(&|step| drive.flow_m3_s.at(step) > 0.0);
        let full = mean_h(&|step| drive.flow_m3_s.at(step) >= 0.98 * full_m3_s(month));
        let m3: f64 = steps.iter().map(|&step| drive.flow_m3_s.at(step)).sum::<f64>() * step_h * 3600.0;
        out += &format!(
            "  {month:?}: pumps {pumping:.1} h a day, {full:.1} h of them at full flow; as much water as {:.1} h at full flow (rule: {rule_h} h)\n",
            m3 / full_m3_s(month) / 3600.0 / days,
        );
    }
    let mut lost: Vec<(LossCause, f64)> = drive
        .cuts_w
        .iter()
        .map(|(cause, lost)| (cause, sum(lost) / available))
        .filter(|(_, share)| *share > 5e-4)
        .collect();
    lost.sort_by(|a, b| b.1.total_cmp(&a.1));
    let lost: Vec<String> = lost
        .iter()
        .map(|(cause, share)| format!("{} {:.1}%", cause.id(), 100.0 * share))
        .collect();
    out += &format!("  of the energy available: {}\n", lost.join(", "));
    Ok(out)
}
