//! The sources of outages: a list, a timetable, random draws, poor voltage. Several add up.

use daylift_grid::{Interval, OutageFrequency, Outages, RandomOutages, RandomSheet, StageInForce};
use daylift_grid::{VoltageWindow, timetable};
use daylift_units::constants::HOUR_S;
use daylift_units::{Axis, Fault, Hourly, Monthly, fields};

use crate::outline::{GridKeys, RandomKeys, StageKeys, TimetableKeys, VoltageKeys};
use crate::read::{Placed, Section};

/// Name and outages of a source.
type Part = (String, Outages);

pub(super) fn read(Placed { at, keys }: &Placed<GridKeys>, axis: Option<&Axis>) -> Option<Outages> {
    let list = match &keys.outages {
        Some(Some(written)) => read_list(at, written, axis).map(Some),
        Some(None) => Some(None),
        None => None,
    };
    let parts = [
        list,
        keys.timetable.may(|timetable| read_timetable(timetable, axis)),
        keys.random.may(|random| read_random(random, axis)),
        keys.voltage.may(|voltage| read_voltage(voltage, axis)),
    ];
    let parts: Vec<Option<Part>> = parts.into_iter().collect::<Option<_>>()?;
    let parts: Vec<Part> = parts.into_iter().flatten().collect();
    let union = Outages::union(&parts, axis?.length_s());
    warn_of_overlap(at, &union);
    warn_of_none(at, &union);
    Some(union)
}

/// Warns of a source, or a whole grid, without outages: a source may be missing or empty by mistake.
fn warn_of_none(section: &Section, union: &Outages) {
    if union.sources().is_empty() {
        let text = "[grid] defines no outages: the grid counts as on all year";
        section.book().warn("outages", text);
    }
    for source in union.sources().iter().filter(|s| s.count == 0) {
        let text = format!("{}: no outage in the year", source.name);
        section.book().warn("outages", text);
    }
}

fn warn_of_overlap(section: &Section, union: &Outages) {
    let sum_s: f64 = union.sources().iter().map(|s| s.total_s).sum();
    let twice_s = sum_s - union.total_s();
    if twice_s > 1.0 {
        let text = format!(
            "{:.1} h with outages from more than one source were counted once",
            twice_s / HOUR_S
        );
        section.book().warn("outages", text);
    }
}

fn read_list(at: &Section, written: &str, axis: Option<&Axis>) -> Option<Part> {
    let source = at.load("outages", "outage list", written)?;
    let outages = at.noted(daylift_tables::outages::read(&source, axis?))?;
    Some((format!("list {written}"), outages))
}

fn part(name: String, intervals: Vec<Interval>, axis: &Axis) -> Part {
    (name, Outages::new(intervals, axis.length_s()).0)
}

fn read_timetable(Placed { at, keys }: &Placed<TimetableKeys>, axis: Option<&Axis>) -> Option<Part> {
    let (in_force, stages_name) = keys.stages.as_ref().and_then(|stages| read_stages(at, stages, axis)).unzip();
    let written = keys.file.as_ref()?;
    let source = at.load("file", "outage timetable", written)?;
    let block = keys.area_block.as_ref()?;
    let slots = at.noted(daylift_tables::timetable::read_slots(&source, block))?;
    let (axis, in_force) = (axis?, in_force?);
    let highest = slots.iter().map(|slot| slot.stage).max().unwrap_or_default();
    if let Some(above) = in_force.iter().map(|s| s.stage).filter(|stage| *stage > highest).max() {
        let text = format!(
            "stage {above} is active, but the timetable's slots for block {block} only go up to stage {highest}: those \
             slots are used"
        );
        at.book().warn("outages", text);
    }
    let name = format!("timetable {written}, block {block}, {}", stages_name?);
    Some(part(name, timetable::outages_of(&slots, &in_force, axis), axis))
}

/// The active stages, and how reports name them.
fn read_stages(at: &Section, keys: &StageKeys, axis: Option<&Axis>) -> Option<(Vec<StageInForce>, String)> {
    match (keys.stage, &keys.stages) {
        (Some(_), Some(_)) => {
            at.fault(Fault::new(
                "stages",
                "active stage of the timetable",
                "a fixed `stage` and a list of `stages`",
                "one of them",
                "remove `stage` if the list has the active stages; at times outside the list no stage is active",
            ));
            None
        }
        (None, None) => {
            at.fault(Fault::new(
                fields::timetable::STAGE.key,
                "active stage of the timetable",
                "neither `stage` nor `stages`",
                "one stage for the whole year, or a list of active stages with their times",
                "add `stage`, or a list under `stages`",
            ));
            None
        }
        (Some(stage), None) => {
            let interval = Interval {
                start_s: f64::NEG_INFINITY,
                end_s: f64::INFINITY,
            };
            Some((vec![StageInForce { interval, stage }], format!("stage {stage}")))
        }
        (None, Some(written)) => {
            let source = at.load("stages", "list of active stages", written)?;
            let stages = at.noted(daylift_tables::timetable::read_stages(&source, axis?))?;
            Some((stages, format!("stages of {written}")))
        }
    }
}

fn read_random(Placed { at, keys }: &Placed<RandomKeys>, axis: Option<&Axis>) -> Option<Part> {
    let keys = keys.as_ref()?;
    let sheet = RandomSheet {
        seed: keys.seed,
        mean_outage_s: keys.mean_outage_s,
        frequency: read_how_often(at, keys)?,
        hour_weight: Hourly::from_array(keys.hour_weight.unwrap_or([1.0; 24])),
        month_weight: Monthly::from_array(keys.month_weight.unwrap_or([1.0; 12])),
    };
    let axis = axis?;
    let random = at.booked(RandomOutages::new(&sheet, axis))?;
    let name = format!(
        "random, seed {}, expected {:.1}% of the hours",
        sheet.seed,
        random.expected_share() * 100.0
    );
    Some(part(name, random.intervals(), axis))
}

fn read_how_often(at: &Section, keys: &RandomKeys) -> Option<OutageFrequency> {
    let fault = |given: &str, remedy: &str| {
        at.fault(Fault::new(
            fields::random::SHARE.key,
            "how often the grid fails",
            given,
            "either `share_pct` or `mean_up_h`",
            remedy,
        ));
        None
    };
    match (keys.share, keys.mean_up_s) {
        (Some(_), Some(_)) => fault("`share_pct` and `mean_up_h`", "remove one: the other follows from it"),
        (None, None) => fault("neither `share_pct` nor `mean_up_h`", "add one of them"),
        (None, Some(mean_up_s)) => Some(OutageFrequency::MeanUp(mean_up_s)),
        (Some(share), None) => {
            if share < 0.01 {
                let text = format!(
                    "share_pct = {} is less than one per cent of the hours; write 33 for 33%",
                    daylift_units::field::number(share * 100.0)
                );
                at.book().warn("outages", text);
            }
            Some(OutageFrequency::Share(share))
        }
    }
}

fn read_voltage(Placed { at, keys }: &Placed<VoltageKeys>, axis: Option<&Axis>) -> Option<Part> {
    let readings = keys.readings.as_ref()?;
    let written = &readings.file;
    let source = at.load("file", "voltage readings", written)?;
    let axis = axis?;
    let readings = at.noted(daylift_tables::voltage::read(&source, axis, readings.nominal_v))?;
    let window = keys.window.as_ref()?;
    let window = VoltageWindow {
        least_pu: window.least_pu,
        greatest_pu: window.greatest_pu,
    };
    let name = format!(
        "voltage {written}, outside {} to {} of nominal",
        window.least_pu, window.greatest_pu
    );
    Some(part(name, window.outside(&readings, axis.length_s()), axis))
}
