//! Where outages come from: a list, a timetable, chance, poor voltage; several add up.

use std::path::Path;

use daylift_grid::{HowOften, Interval, Outages, RandomOutages, RandomSheet, StageInForce};
use daylift_grid::{VoltageWindow, timetable};
use daylift_tables as tables;
use daylift_units::constants::HOUR_S;
use daylift_units::{Axis, Fault, Field, fields};

use crate::read::Section;
use crate::sections::equipment::{booked, load};

/// A source's name and its outages.
type Part = (String, Outages);

pub(super) fn read(section: &Section<'_>, folder: &Path, axis: Option<&Axis>) -> Option<Outages> {
    let mut parts = Vec::new();
    let mut whole = true;
    let mut add = |read: Option<Part>| match read {
        Some(part) => parts.push(part),
        None => whole = false,
    };
    if section.has("outages") {
        add(read_list(section, folder, axis));
    }
    type Reader = fn(&Section<'_>, &Path, Option<&Axis>) -> Option<Part>;
    let readers: [(&str, &str, Reader); 3] = [
        ("timetable", "timetable of outages", read_timetable),
        ("random", "random outages", read_random),
        ("voltage", "voltage of the grid", read_voltage),
    ];
    for (key, quantity, read) in readers {
        if section.has(key) {
            let part = section.table(key, quantity).and_then(|section| {
                let part = read(&section, folder, axis);
                section.finish();
                part
            });
            add(part);
        }
    }
    if !whole {
        return None;
    }
    let year_s = axis?.length_s();
    let union = Outages::union(&parts, year_s);
    warn_of_overlap(section, &union);
    warn_of_none(section, &union);
    Some(union)
}

/// A grid that never fails is what a forgotten or an empty source looks like.
fn warn_of_none(section: &Section<'_>, union: &Outages) {
    if union.sources().is_empty() {
        let text = "[grid] names no outages: the grid counts as up all year";
        section.book().warn("outages", text);
    }
    for source in union.sources().iter().filter(|s| s.count == 0) {
        let text = format!("{}: no outage in the year", source.name);
        section.book().warn("outages", text);
    }
}

fn warn_of_overlap(section: &Section<'_>, union: &Outages) {
    let sum_s: f64 = union.sources().iter().map(|s| s.total_s).sum();
    let twice_s = sum_s - union.total_s();
    if twice_s > 1.0 {
        let text = format!(
            "{:.1} h in which more than one source has the grid away were counted once",
            twice_s / HOUR_S
        );
        section.book().warn("outages", text);
    }
}

fn read_list(section: &Section<'_>, folder: &Path, axis: Option<&Axis>) -> Option<Part> {
    let written = section.text("outages", "list of outages", "a path relative to this file")?;
    let source = load(section, folder, &written, "outages", "list of outages")?;
    let outages = section.noted(tables::outages::read(&source, axis?))?;
    Some((format!("list {written}"), outages))
}

fn part(name: String, intervals: Vec<Interval>, axis: &Axis) -> Part {
    (name, Outages::new(intervals, axis.length_s()).0)
}

fn read_timetable(section: &Section<'_>, folder: &Path, axis: Option<&Axis>) -> Option<Part> {
    let quantity = "timetable of outages";
    let written = section.text("file", quantity, "a path relative to this file");
    let block = section.text("area_block", "block of the timetable", "a text such as \"7\"");
    let (in_force, said) = read_stages(section, folder, axis).unzip();
    let written = written?;
    let source = load(section, folder, &written, "file", quantity)?;
    let block = block?;
    let slots = section.noted(tables::timetable::read_slots(&source, &block))?;
    let (axis, in_force) = (axis?, in_force?);
    let highest = slots.iter().map(|slot| slot.stage).max().unwrap_or_default();
    if let Some(above) = in_force.iter().map(|s| s.stage).filter(|stage| *stage > highest).max() {
        let text = format!(
            "stage {above} is in force, and the timetable's slots for block {block} go up to stage {highest}: the slots up \
             to there are used"
        );
        section.book().warn("outages", text);
    }
    let name = format!("timetable {written}, block {block}, {}", said?);
    Some(part(name, timetable::outages_of(&slots, &in_force, axis), axis))
}

/// The stages in force, and how they are called.
fn read_stages(section: &Section<'_>, folder: &Path, axis: Option<&Axis>) -> Option<(Vec<StageInForce>, String)> {
    let field = &fields::timetable::STAGE;
    match (section.has(field.key), section.has("stages")) {
        (true, true) => {
            section.fault(Fault::new(
                "stages",
                "stage of the timetable in force",
                "a fixed `stage` and a list of `stages`",
                "one of them",
                "remove `stage` where the list says which one was in force; outside the list none is",
            ));
            None
        }
        (false, false) => {
            section.fault(Fault::new(
                field.key,
                "stage of the timetable in force",
                "neither `stage` nor `stages`",
                "one stage for the whole year, or a list of when each was in force",
                "add `stage`, or a list under `stages`",
            ));
            None
        }
        (true, false) => {
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "checked whole and at most 20"
            )]
            let stage = section.number(field)? as u8;
            let interval = Interval {
                start_s: f64::NEG_INFINITY,
                end_s: f64::INFINITY,
            };
            Some((vec![StageInForce { interval, stage }], format!("stage {stage}")))
        }
        (false, true) => {
            let quantity = "stages in force";
            let written = section.text("stages", quantity, "a path relative to this file")?;
            let source = load(section, folder, &written, "stages", quantity)?;
            let stages = section.noted(tables::timetable::read_stages(&source, axis?))?;
            Some((stages, format!("stages of {written}")))
        }
    }
}

fn read_random(section: &Section<'_>, _folder: &Path, axis: Option<&Axis>) -> Option<Part> {
    use fields::random::{HOUR_WEIGHT, MEAN_OUTAGE, MONTH_WEIGHT, SEED};
    let seed = section.count(&SEED);
    let mean_outage_s = section.number(&MEAN_OUTAGE);
    let how_often = read_how_often(section);
    let hour_weight = weights::<24>(section, &HOUR_WEIGHT);
    let month_weight = weights::<12>(section, &MONTH_WEIGHT);
    let sheet = RandomSheet {
        seed: seed?,
        mean_outage_s: mean_outage_s?,
        how_often: how_often?,
        hour_weight: daylift_units::Hourly::from_array(hour_weight?),
        month_weight: daylift_units::Monthly::from_array(month_weight?),
    };
    let axis = axis?;
    let random = booked(section, RandomOutages::new(&sheet, axis))?;
    let name = format!(
        "random, seed {}, expected {:.1}% of the hours",
        sheet.seed,
        random.expected_share() * 100.0
    );
    Some(part(name, random.intervals(), axis))
}

fn read_how_often(section: &Section<'_>) -> Option<HowOften> {
    use fields::random::{MEAN_UP, SHARE};
    let fault = |given: &str, remedy: &str| {
        let allowed = "either `share_pct` or `mean_up_h`";
        section.fault(Fault::new(
            SHARE.key,
            "how often the grid fails",
            given,
            allowed,
            remedy,
        ));
        None
    };
    match (section.has(SHARE.key), section.has(MEAN_UP.key)) {
        (true, true) => fault("`share_pct` and `mean_up_h`", "remove one: each follows from the other"),
        (false, false) => fault("neither `share_pct` nor `mean_up_h`", "add one of them"),
        (false, true) => section.number(&MEAN_UP).map(HowOften::MeanUp),
        (true, false) => {
            let share = section.number(&SHARE)?;
            if share < 0.01 {
                let text = format!(
                    "share_pct = {} is less than one per cent of the hours; 33% is written 33",
                    daylift_units::field::number(share * 100.0)
                );
                section.book().warn("outages", text);
            }
            Some(HowOften::Share(share))
        }
    }
}

/// A weight for each; all the same when none are given.
fn weights<const N: usize>(section: &Section<'_>, field: &Field) -> Option<[f64; N]> {
    if section.has(field.key) {
        section.list(field, Some(N))?.try_into().ok()
    } else {
        Some([1.0; N])
    }
}

fn read_voltage(section: &Section<'_>, folder: &Path, axis: Option<&Axis>) -> Option<Part> {
    use fields::voltage::{GREATEST, LEAST, NOMINAL};
    let quantity = "voltage readings";
    let written = section.text("file", quantity, "a path relative to this file");
    let (least, greatest) = (section.number(&LEAST), section.number(&GREATEST));
    let nominal_v = section.optional(&NOMINAL);
    let written = written?;
    let source = load(section, folder, &written, "file", quantity)?;
    if section.has(NOMINAL.key) && nominal_v.is_none() {
        return None;
    }
    let axis = axis?;
    let readings = section.noted(tables::voltage::read(&source, axis, nominal_v))?;
    let window = VoltageWindow {
        least_pu: least?,
        greatest_pu: greatest?,
    };
    let name = format!(
        "voltage {written}, outside {} to {} of nominal",
        window.least_pu, window.greatest_pu
    );
    Some(part(name, window.outside(&readings, axis.length_s()), axis))
}
