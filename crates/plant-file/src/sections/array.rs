//! `[array]`: module, losses, planes and string groups.

use std::path::Path;

use daylift_array::{ArrayLosses, Module, StringGroup};
use daylift_plant::{Array, Group, PlaneOf};
use daylift_sky::Horizon;
use daylift_units::Fault;
use daylift_units::fields::array;

use super::cell::read_cell_model;
use super::equipment::{booked, open, read_module};
use super::mounting::{self, read_plane};
use crate::read::Section;

/// Names that a string group may refer to.
pub(crate) struct Names<'a> {
    pub(crate) inverters: Vec<&'a str>,
    /// Pump sets, and whether each has a drive.
    pub(crate) sets: Vec<(&'a str, bool)>,
}

/// What all groups share.
struct Shared {
    module: Module,
    losses: ArrayLosses,
    cable: f64,
}

/// The array; `None` when the file has none or it has faults.
///
/// One plane and one group may stand in `[array]` itself; several stand in `[[array.plane]]` and `[[array.group]]`.
pub(crate) fn read_array(
    root: &Section<'_>,
    folder: &Path,
    names: &Names<'_>,
    horizon: Option<&Horizon>,
) -> Option<Array> {
    let section = root.table("array", "array")?;
    let module = open(&section, folder, "module", "module", read_module);
    let losses = read_losses(&section);
    let cell_model = read_cell_model(&section);
    let cable = section.number(&array::DC_CABLE_LOSS);
    let albedo = section.number(&array::ALBEDO);
    let yearly_degradation = losses.as_ref().map(|l| l.yearly_degradation);
    let shared = (|| {
        Some(Shared {
            module: module?,
            losses: losses?,
            cable: cable?,
        })
    })();
    let several = section.has("plane") || section.has("group");
    let made = if several {
        read_several(&section, (albedo, horizon), shared.as_ref(), names)
    } else {
        read_single(&section, (albedo, horizon), shared.as_ref(), names)
    };
    section.finish();
    let (planes, groups) = made?;
    Some(Array {
        planes,
        cell_model: cell_model?,
        groups,
        yearly_degradation: yearly_degradation?,
    })
}

fn read_single(
    section: &Section<'_>,
    around: (Option<f64>, Option<&Horizon>),
    shared: Option<&Shared>,
    names: &Names<'_>,
) -> Option<(Vec<PlaneOf>, Vec<Group>)> {
    let plane = read_plane(section, "array".to_owned(), around.0, around.1);
    let strings = read_strings(section, shared);
    let per_input = read_per_input(section, !names.inverters.is_empty());
    let group = Group {
        name: "array".to_owned(),
        plane: 0,
        strings: strings?,
        strings_per_input: per_input,
        inverter: (!names.inverters.is_empty()).then_some(0),
        set: names.sets.iter().position(|(_, has_drive)| *has_drive),
    };
    if names.inverters.len() > 1 || names.sets.iter().filter(|(_, has_drive)| *has_drive).count() > 1 {
        section.fault(Fault::new(
            "",
            "array",
            "several inverters or drives, and one string group",
            "a group for each input: two trackers cannot share strings",
            "write the strings as [[array.plane]] and [[array.group]]",
        ));
        return None;
    }
    Some((vec![plane?], vec![group]))
}

fn read_several(
    section: &Section<'_>,
    around: (Option<f64>, Option<&Horizon>),
    shared: Option<&Shared>,
    names: &Names<'_>,
) -> Option<(Vec<PlaneOf>, Vec<Group>)> {
    refuse_inline(section);
    let planes: Vec<(String, Option<PlaneOf>)> = section
        .tables("plane", "plane of the array")
        .into_iter()
        .map(|plane| {
            let name = plane.text("name", "name of the plane", "a text");
            let read = read_plane(&plane, name.clone().unwrap_or_default(), around.0, around.1);
            plane.finish();
            let read = name.is_some().then_some(read).flatten();
            (name.unwrap_or_default(), read)
        })
        .collect();
    let plane_names: Vec<&str> = planes.iter().map(|(name, _)| name.as_str()).collect();
    let groups = section.tables("group", "string group");
    for (key, none) in [("plane", planes.is_empty()), ("group", groups.is_empty())] {
        if none {
            let given = format!("no [[array.{key}]]");
            let remedy = format!("add [[array.{key}]]");
            section.fault(Fault::new(
                "",
                "array",
                given,
                "at least one plane and one string group",
                remedy,
            ));
        }
    }
    let groups: Vec<(String, Option<Group>)> =
        groups.into_iter().map(|group| read_group(group, shared, &plane_names, names)).collect();
    let group_names: Vec<&str> = groups.iter().map(|(name, _)| name.as_str()).collect();
    let distinct = [
        section.distinct("plane", &plane_names),
        section.distinct("group", &group_names),
    ];
    let groups: Vec<Group> = groups.into_iter().map(|(_, group)| group).collect::<Option<_>>()?;
    let planes: Vec<PlaneOf> = planes.into_iter().map(|(_, plane)| plane).collect::<Option<_>>()?;
    let whole = !planes.is_empty() && !groups.is_empty() && distinct == [true, true];
    (whole && same_length_on_each_drive(section, &groups, names)).then_some((planes, groups))
}

/// Strings and their plane stand in `[array]` itself, or in lists, not in both.
fn refuse_inline(section: &Section<'_>) {
    let strings = [
        array::MODULES_PER_STRING.key,
        array::STRINGS.key,
        array::STRINGS_PER_INPUT.key,
    ];
    let keys = mounting::keys().chain(strings);
    let inline: Vec<String> = keys.filter(|key| section.has(key)).map(|key| format!("`{key}`")).collect();
    if !inline.is_empty() {
        section.fault(Fault::new(
            "",
            "array",
            format!("{} beside [[array.plane]] or [[array.group]]", inline.join(", ")),
            "one plane and one string group in [array] itself, or lists of them",
            "move the tilt and the azimuth into an [[array.plane]] and the strings into an [[array.group]]",
        ));
    }
}

/// A string group's name, empty when it has none, and the group when it has no faults.
fn read_group(
    section: Section<'_>,
    shared: Option<&Shared>,
    planes: &[&str],
    names: &Names<'_>,
) -> (String, Option<Group>) {
    let name = section.text("name", "name of the string group", "a text");
    let plane = section.named("plane", "plane that the group lies on", planes, None);
    let no_inverter = Some((
        "the plant has no [inverter]",
        "add [inverter], or remove `inverter` here",
    ));
    let inverter = section
        .has("inverter")
        .then(|| section.named("inverter", "inverter of the group", &names.inverters, no_inverter));
    let set = section.has("drive").then(|| read_drive_of(&section, names));
    if inverter.is_none() && set.is_none() {
        section.fault(Fault::new(
            "",
            "string group",
            "neither `inverter` nor `drive`",
            "an inverter, a drive, or both by turns",
            "say what the group feeds",
        ));
    }
    let strings = read_strings(&section, shared);
    let strings_per_input = read_per_input(&section, inverter.is_some());
    section.finish();
    let group = (|| {
        Some(Group {
            name: name.clone()?,
            plane: plane?,
            strings: strings?,
            strings_per_input,
            inverter: inverter.map_or(Some(None), |i| i.map(Some))?,
            set: set.map_or(Some(None), |s| s.map(Some))?,
        })
    })();
    (name.unwrap_or_default(), group)
}

/// The pump set whose drive a group feeds.
fn read_drive_of(section: &Section<'_>, names: &Names<'_>) -> Option<usize> {
    let quantity = "pump set whose drive the group feeds";
    let with_drive: Vec<&str> =
        names.sets.iter().map(|(name, has_drive)| if *has_drive { *name } else { "" }).collect();
    if with_drive.iter().all(|name| name.is_empty()) {
        let remedy = "give a pump set a drive, or remove `drive` here";
        return section.named("drive", quantity, &[], Some(("no pump set has a drive", remedy)));
    }
    let all: Vec<&str> = names.sets.iter().map(|(name, _)| *name).collect();
    let given = section.named("drive", quantity, &all, None)?;
    if with_drive[given].is_empty() {
        section.fault(Fault::new(
            "drive",
            quantity,
            format!("\"{}\", which has no drive", all[given]),
            "a pump set with a drive",
            "add `drive` to that pump set, or remove it here",
        ));
        return None;
    }
    Some(given)
}

/// Strings in parallel on one drive share its voltage: they must be of one length.
fn same_length_on_each_drive(section: &Section<'_>, groups: &[Group], names: &Names<'_>) -> bool {
    let mut fine = true;
    for (s, (name, _)) in names.sets.iter().enumerate() {
        let mut lengths: Vec<u32> = groups.iter().filter(|g| g.set == Some(s)).map(|g| g.strings.series()).collect();
        lengths.sort_unstable();
        lengths.dedup();
        if let [first, .., last] = lengths[..] {
            fine = false;
            section.fault(Fault::new(
                "group",
                format!("string groups on the drive of {name}"),
                format!("strings of {first} and of {last} modules in parallel"),
                "one length: they share one voltage",
                "give all groups of a drive the same `modules_per_string`",
            ));
        }
    }
    fine
}

fn read_strings(section: &Section<'_>, shared: Option<&Shared>) -> Option<StringGroup> {
    let counts = (
        section.count(&array::MODULES_PER_STRING),
        section.count(&array::STRINGS),
    );
    let shared = shared?;
    let made = StringGroup::new(shared.module.clone(), counts.0?, counts.1?, shared.losses, shared.cable);
    booked(section, made)
}

/// How many of a group's strings share an MPPT input at most; it has inputs only on an inverter. Fewer strings than that
/// are on one input.
fn read_per_input(section: &Section<'_>, on_inverter: bool) -> Option<u32> {
    let field = array::STRINGS_PER_INPUT;
    let per_input = section.optional_count(&field)?;
    if !on_inverter {
        section.fault(Fault::new(
            field.key,
            field.quantity,
            per_input.to_string(),
            "nothing: these strings are on no inverter",
            "remove it, or name the group's `inverter`",
        ));
    }
    Some(per_input)
}

fn read_losses(section: &Section<'_>) -> Option<ArrayLosses> {
    let soiling = section.monthly(&array::SOILING);
    let shares = (
        section.number(&array::MISMATCH),
        section.number(&array::LIGHT_INDUCED),
        section.number(&array::UNAVAILABILITY),
        section.number(&array::DEGRADATION),
        section.number(&array::AGE),
    );
    Some(ArrayLosses {
        soiling: daylift_units::Monthly::from_array(soiling?),
        mismatch: shares.0?,
        light_induced: shares.1?,
        unavailability: shares.2?,
        yearly_degradation: shares.3?,
        age_years: shares.4?,
    })
}
