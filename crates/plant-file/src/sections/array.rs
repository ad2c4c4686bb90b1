//! `[array]`: module, losses, planes and string groups.

use daylift_array::{ArrayLosses, Module, StringGroup};
use daylift_plant::{Array, ByGroup, ByInverter, ByPlane, BySet, Group, PlaneId, PlaneOf, SetId};
use daylift_sky::Horizon;
use daylift_units::Fault;
use daylift_units::fields::array;

use super::cell::read_cell_model;
use super::equipment::build_module;
use super::mounting::read_plane;
use crate::outline::{ArrayKeys, ArrayLossKeys, GroupKeys, MountKeys, OwnStringKeys, PlantKeys};
use crate::read::{Outlined, Placed, Section};

/// Names that a string group may refer to.
pub(crate) struct Names<'a> {
    pub(crate) inverters: ByInverter<&'a str>,
    /// Pump sets, and whether each has a drive.
    pub(crate) sets: BySet<(&'a str, bool)>,
}

/// Module, losses and cable, which all groups share.
struct Shared {
    module: Module,
    losses: ArrayLosses,
    cable: f64,
}

/// The surroundings of every plane.
#[derive(Clone, Copy)]
struct Around<'a> {
    albedo: Option<f64>,
    horizon: Option<&'a Horizon>,
}

/// The array; `None` when the file has none or it has faults.
///
/// One plane and one group may be written in `[array]` itself; several in `[[array.plane]]` and `[[array.group]]`.
pub(crate) fn read_array(root: &Placed<PlantKeys>, names: &Names<'_>, horizon: Option<&Horizon>) -> Option<Array> {
    let placed = root.keys.array.there()?;
    let Placed { at, keys } = placed;
    let module = keys.module.file.as_ref().and_then(build_module);
    let losses = keys.losses.as_ref().map(losses_of);
    let cell_model = keys.cell.as_ref().and_then(|cell| read_cell_model(at, cell));
    let around = Around {
        albedo: keys.albedo,
        horizon,
    };
    let shared = (|| {
        Some(Shared {
            module: module?,
            losses: losses?,
            cable: keys.dc_cable_loss?,
        })
    })();
    let made = if keys.plane.is_there || keys.group.is_there {
        read_several(placed, around, shared.as_ref(), names)
    } else {
        read_single(placed, around, shared.as_ref(), names)
    };
    let (planes, groups) = made?;
    Some(Array {
        planes,
        cell_model: cell_model?,
        groups,
        yearly_degradation: losses?.yearly_degradation,
    })
}

fn losses_of(keys: &ArrayLossKeys) -> ArrayLosses {
    ArrayLosses {
        soiling: keys.soiling.0,
        mismatch: keys.mismatch,
        light_induced: keys.light_induced,
        unavailability: keys.unavailability,
        yearly_degradation: keys.yearly_degradation,
        age_years: keys.age_years,
    }
}

fn read_single(
    Placed { at, keys }: &Placed<ArrayKeys>,
    around: Around<'_>,
    shared: Option<&Shared>,
    names: &Names<'_>,
) -> Option<(ByPlane<PlaneOf>, ByGroup<Group>)> {
    let plane = keys
        .mount
        .as_ref()
        .and_then(|mount| read_plane(at, mount, "array".to_owned(), around.albedo, around.horizon));
    let own = keys.strings.as_ref();
    let strings = own.and_then(|own| own_strings(at, own, shared));
    let per_input = read_per_input(
        at,
        own.and_then(|own| own.strings_per_input),
        !names.inverters.is_empty(),
    );
    let group = Group {
        name: "array".to_owned(),
        plane: PlaneId::from(0),
        strings: strings?,
        strings_per_input: per_input,
        inverter: names.inverters.first_key(),
        set: names.sets.position(|(_, has_drive)| *has_drive),
    };
    if names.inverters.len() > 1 || names.sets.iter().filter(|(_, has_drive)| *has_drive).count() > 1 {
        at.fault(Fault::new(
            "",
            "array",
            "several inverters or drives, and one string group",
            "one string group for each input: two MPPTs cannot share strings",
            "write the strings as [[array.plane]] and [[array.group]]",
        ));
        return None;
    }
    Some((vec![plane?].into(), vec![group].into()))
}

fn read_several(
    Placed { at, keys }: &Placed<ArrayKeys>,
    around: Around<'_>,
    shared: Option<&Shared>,
    names: &Names<'_>,
) -> Option<(ByPlane<PlaneOf>, ByGroup<Group>)> {
    refuse_inline(at);
    let (planes, groups) = (&keys.plane.items, &keys.group.items);
    let planes: Vec<(String, Option<PlaneOf>)> = planes
        .iter()
        .map(|Placed { at, keys }| {
            let name = keys.name.clone().unwrap_or_default();
            let mount = keys.mount.as_ref();
            let read = mount.and_then(|mount| read_plane(at, mount, name.clone(), around.albedo, around.horizon));
            (name, read.filter(|_| keys.name.is_some()))
        })
        .collect();
    let plane_names: Vec<&str> = planes.iter().map(|(name, _)| name.as_str()).collect();
    for (key, none) in [("plane", planes.is_empty()), ("group", groups.is_empty())] {
        if none {
            let given = format!("no [[array.{key}]]");
            let remedy = format!("add [[array.{key}]]");
            at.fault(Fault::new(
                "",
                "array",
                given,
                "at least one plane and one string group",
                remedy,
            ));
        }
    }
    let groups: Vec<(String, Option<Group>)> =
        groups.iter().map(|group| read_group(group, shared, &plane_names, names)).collect();
    let group_names: Vec<&str> = groups.iter().map(|(name, _)| name.as_str()).collect();
    let distinct = [at.distinct("plane", &plane_names), at.distinct("group", &group_names)];
    let groups: ByGroup<Group> = groups.into_iter().map(|(_, group)| group).collect::<Option<_>>()?;
    let planes: ByPlane<PlaneOf> = planes.into_iter().map(|(_, plane)| plane).collect::<Option<_>>()?;
    let whole = !planes.is_empty() && !groups.is_empty() && distinct == [true, true];
    (whole && same_length_on_each_drive(at, &groups, names)).then_some((planes, groups))
}

/// Books a fault when strings or a plane are written both in `[array]` itself and in lists.
fn refuse_inline(at: &Section) {
    let keys = [MountKeys::TABLE, OwnStringKeys::TABLE].into_iter().flat_map(crate::outline::Table::keys);
    let inline: Vec<String> = keys.filter(|key| at.has(key.name)).map(|key| format!("`{}`", key.name)).collect();
    if !inline.is_empty() {
        at.fault(Fault::new(
            "",
            "array",
            format!(
                "{} in [array] together with [[array.plane]] or [[array.group]]",
                inline.join(", ")
            ),
            "one plane and one string group in [array] itself, or lists of them",
            "move the tilt and the azimuth into an [[array.plane]] and the strings into an [[array.group]]",
        ));
    }
}

/// The name of a string group, empty when it has none, and the group if it has no faults.
fn read_group(
    Placed { at, keys }: &Placed<GroupKeys>,
    shared: Option<&Shared>,
    planes: &[&str],
    names: &Names<'_>,
) -> (String, Option<Group>) {
    let name = keys.name.clone();
    let plane = keys
        .plane
        .as_ref()
        .and_then(|plane| at.named("plane", "plane that the group lies on", plane, planes, None))
        .map(PlaneId::from);
    let no_inverter = Some((
        "the plant has no [inverter]",
        "add [inverter], or remove `inverter` here",
    ));
    // The inner `None` means not given, the outer `None` means faults.
    let inverter = match &keys.inverter {
        Some(Some(inverter)) => at
            .named(
                "inverter",
                "inverter of the group",
                inverter,
                &names.inverters.raw,
                no_inverter,
            )
            .map(|place| Some(place.into())),
        Some(None) => Some(None),
        None => None,
    };
    let set = match &keys.drive {
        Some(Some(drive)) => read_drive_of(at, drive, names).map(Some),
        Some(None) => Some(None),
        None => None,
    };
    if (&keys.inverter, &keys.drive) == (&Some(None), &Some(None)) {
        at.fault(Fault::new(
            "",
            "string group",
            "neither `inverter` nor `drive`",
            "an inverter, a drive, or both (switched)",
            "add `inverter`, `drive` or both",
        ));
    }
    let given = keys.strings.as_ref();
    let strings = given.and_then(|given| strings_of(at, (given.modules_per_string, given.strings), shared));
    let per_input = given.and_then(|given| given.strings_per_input);
    let strings_per_input = read_per_input(at, per_input, keys.inverter != Some(None));
    let group = (|| {
        Some(Group {
            name: name.clone()?,
            plane: plane?,
            strings: strings?,
            strings_per_input,
            inverter: inverter?,
            set: set?,
        })
    })();
    (name.unwrap_or_default(), group)
}

/// The pump set whose drive a group feeds.
fn read_drive_of(at: &Section, drive: &str, names: &Names<'_>) -> Option<SetId> {
    let quantity = "pump set whose drive the group feeds";
    if !names.sets.iter().any(|(name, has_drive)| *has_drive && !name.is_empty()) {
        let remedy = "give a pump set a drive, or remove `drive` here";
        return at
            .named("drive", quantity, drive, &[], Some(("no pump set has a drive", remedy)))
            .map(SetId::from);
    }
    let all: Vec<&str> = names.sets.iter().map(|(name, _)| *name).collect();
    let given = SetId::from(at.named("drive", quantity, drive, &all, None)?);
    if !names.sets[given].1 {
        at.fault(Fault::new(
            "drive",
            quantity,
            format!("\"{drive}\", which has no drive"),
            "a pump set with a drive",
            "add `drive` to that pump set, or remove it here",
        ));
        return None;
    }
    Some(given)
}

/// Books a fault for strings of different lengths on one drive: in parallel they share its voltage. Returns whether all is
/// fine.
fn same_length_on_each_drive(at: &Section, groups: &ByGroup<Group>, names: &Names<'_>) -> bool {
    let mut fine = true;
    for (s, (name, _)) in names.sets.iter_enumerated() {
        let mut lengths: Vec<u32> = groups.iter().filter(|g| g.set == Some(s)).map(|g| g.strings.series()).collect();
        lengths.sort_unstable();
        lengths.dedup();
        if let [first, .., last] = lengths[..] {
            fine = false;
            at.fault(Fault::new(
                "group",
                format!("string groups on the drive of {name}"),
                format!("strings of {first} and of {last} modules in parallel"),
                "strings of the same length: they share one voltage",
                "give all groups of a drive the same `modules_per_string`",
            ));
        }
    }
    fine
}

fn strings_of(at: &Section, (series, parallel): (u32, u32), shared: Option<&Shared>) -> Option<StringGroup> {
    let shared = shared?;
    at.booked(StringGroup::new(
        shared.module.clone(),
        series,
        parallel,
        shared.losses,
        shared.cable,
    ))
}

/// The strings written in `[array]` itself.
fn own_strings(at: &Section, keys: &OwnStringKeys, shared: Option<&Shared>) -> Option<StringGroup> {
    let series = at.needed(&array::MODULES_PER_STRING, keys.modules_per_string);
    let parallel = at.needed(&array::STRINGS, keys.strings);
    strings_of(at, (series?, parallel?), shared)
}

/// The most strings of a group that share an MPPT input; a fault when the group is not on an inverter.
fn read_per_input(at: &Section, given: Option<u32>, on_inverter: bool) -> Option<u32> {
    let field = array::STRINGS_PER_INPUT;
    let per_input = given?;
    if !on_inverter {
        at.fault(Fault::new(
            field.key,
            field.quantity,
            per_input.to_string(),
            "nothing: these strings are on no inverter",
            "remove it, or add the group's `inverter`",
        ));
    }
    Some(per_input)
}
