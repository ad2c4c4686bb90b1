//! Whether the strings can be built, and which other layouts of the same modules are suitable: `daylift.strings.1`.

mod answer;
mod layouts;
mod measure;
mod rank;
mod year;

use std::collections::{BTreeMap, BTreeSet};

use daylift_electrics::{
    Confirmed, Device, Judge, Judged, PlannedGroup, Search, SubArray, device_name, findings, groups_of_file,
    operating_points, rests_on_unconfirmed, search,
};
use daylift_plant::{Array, ByGroup, InverterId, Plant, SetId};
use daylift_plant_file::{ValueOrigin, provenance::without_numbers};
use daylift_units::Step;
use rayon::prelude::*;

use crate::memory::Memory;
pub use answer::{
    CanBeBuilt, Changed, ConditionsRow, DeviceStrings, ExtremeRow, FieldRow, LengthRow, OperatingRow, RefusedRow,
    STRINGS_SCHEMA, StringsAnswer, SubArrayRow, Verdict,
};
pub use daylift_electrics::{Finding, Rule, SpeedLimit, Subject, Weight};
pub use layouts::{DriveStrings, InverterStrings, LayoutRow, SharesRow, ToDrive};
pub use measure::MeasureRow;
use rank::{Ranked, rank};
pub use year::LayoutYear;

/// The strings of the plant file, checked against every rule.
struct OwnStrings<'p> {
    judge: Judge<'p>,
    groups: ByGroup<PlannedGroup>,
    judged: Judged,
    findings: Vec<Finding>,
    unconfirmed: Vec<String>,
}

impl<'p> OwnStrings<'p> {
    fn new(plant: &'p Plant, array: &'p Array, origins: &[ValueOrigin]) -> Self {
        let confirmed = Origins::new(origins);
        let judge = Judge::new(plant, array);
        let groups = groups_of_file(plant, array);
        let judged = judge.judge(&groups.raw);
        Self {
            findings: findings(&judge, &groups.raw, &judged, &confirmed),
            unconfirmed: rests_on_unconfirmed(&judge, &judged, &confirmed),
            judge,
            groups,
            judged,
        }
    }

    fn verdict(&self) -> CanBeBuilt {
        CanBeBuilt::of(&self.findings, self.unconfirmed.clone())
    }
}

/// Which values are given and confirmed, from their origins. Collected once, because an answer looks up hundreds of keys.
struct Origins {
    /// By key with its section: whether it is given and confirmed everywhere it occurs.
    given: BTreeMap<String, bool>,
    /// Sections with a value marked as `assumed` or `generic`.
    assumed: BTreeSet<String>,
}

impl Origins {
    fn new(origins: &[ValueOrigin]) -> Self {
        let (mut given, mut assumed) = (BTreeMap::new(), BTreeSet::new());
        for origin in origins {
            let path = without_numbers(&origin.path);
            let parts: Vec<&str> = path.split('.').collect();
            let [sections @ .., key] = &parts[..] else { continue };
            if origin.origin.is_assumed_or_generic() {
                assumed.extend(sections.iter().map(|section| (*section).to_owned()));
            }
            if let Some(section) = sections.last() {
                *given.entry(format!("{section}.{key}")).or_insert(true) &= !origin.origin.is_not_confirmed();
            }
        }
        Self { given, assumed }
    }
}

impl Confirmed for Origins {
    fn is_given(&self, key: &str) -> bool {
        self.given.get(key).is_some_and(|given| *given)
    }

    fn is_assumed(&self, section: &str) -> bool {
        self.assumed.contains(section)
    }
}

/// Whether the strings of the plant file can be built, and the findings on them; `None` without an array.
#[must_use]
pub fn can_be_built(plant: &Plant, origins: &[ValueOrigin]) -> Option<(CanBeBuilt, Vec<Finding>)> {
    let own = OwnStrings::new(plant, plant.array.as_ref()?, origins);
    Some((own.verdict(), own.findings))
}

/// Checks the strings of the plant file, and simulates a year with every suitable layout. `None` without an array.
///
/// `progress` is called with the number of finished years and their total.
#[must_use]
pub fn judge_strings(
    plant: &Plant,
    origins: &[ValueOrigin],
    step: Step,
    progress: &mut dyn FnMut(usize, usize),
) -> Option<StringsAnswer> {
    let array = plant.array.as_ref()?;
    let own = OwnStrings::new(plant, array, origins);
    let subs = SubArray::all(array);
    let searches: Vec<Search> = subs.par_iter().map(|sub| search(&Judge::new(plant, array), sub)).collect();
    let memory = Memory::new();
    let ranked = rank(plant, &subs, &searches, step, &memory, progress);
    let sub_arrays = subs
        .iter()
        .zip(&searches)
        .zip(ranked.layouts)
        .map(|((sub, search), ranked)| sub_array(&own, sub, search, ranked));
    Some(StringsAnswer {
        schema: STRINGS_SCHEMA.to_owned(),
        plant: plant.name.clone(),
        step_s: step.seconds(),
        arrangement: ranked.arrangement,
        conditions: ConditionsRow::from(own.judge.conditions()),
        can_be_built: own.verdict(),
        findings: own.findings.clone(),
        measures: own.judged.measures.iter().map(|m| MeasureRow::new(plant, m)).collect(),
        sub_arrays: sub_arrays.collect(),
    })
}

fn sub_array(own: &OwnStrings<'_>, sub: &SubArray, search: &Search, ranked: Vec<Ranked>) -> SubArrayRow {
    let (plant, judge) = (own.judge.plant(), &own.judge);
    let array = judge.array();
    let groups: Vec<PlannedGroup> = sub.groups.iter().map(|g| own.groups[*g].clone()).collect();
    let layouts = ranked
        .into_iter()
        .zip(1..)
        .map(|(ranked, rank)| {
            let layout = &search.layouts[ranked.layout];
            LayoutRow::new(
                plant,
                layout,
                rank,
                is_same_layout(layout, &groups),
                ranked.year,
                &ranked.devices,
            )
        })
        .collect();
    SubArrayRow {
        name: sub.name(plant),
        inverters: sub.inverters.iter().map(|i| plant.feeders[*i].name.clone()).collect(),
        drives: sub.sets.iter().map(|s| plant.sets[*s].name.clone()).collect(),
        groups: groups.iter().map(|group| group.name.clone()).collect(),
        fields: sub.fields.iter().map(|field| FieldRow::new(plant, array, field)).collect(),
        lengths: search.lengths.iter().map(|length| LengthRow::new(plant, length)).collect(),
        layouts,
        refused: search.refused.iter().map(|refused| RefusedRow::new(plant, refused)).collect(),
        every_nth: search.stride,
        changes: search.changes.iter().map(|change| Changed::new(plant, change)).collect(),
        nearest: search.nearest.iter().map(|m| MeasureRow::new(plant, m)).collect(),
        not_checked: not_checked(plant, search),
        devices: devices(judge, &own.judged, &groups),
    }
}

/// Limits that no datasheet gives, for the suitable layouts: rule and device, each once.
fn not_checked(plant: &Plant, search: &Search) -> Vec<String> {
    let measures = search.layouts.iter().flat_map(|layout| &layout.judged.measures);
    let mut out: Vec<(Rule, Device)> = measures.filter(|m| !m.is_given).map(|m| (m.rule, m.device)).collect();
    out.sort_unstable();
    out.dedup();
    out.into_iter()
        .map(|(rule, device)| format!("{} ({})", rule.id(), device_name(plant, device)))
        .collect()
}

/// Operating voltages of the strings of the plant file, for each pair of inverter and drive.
fn devices(judge: &Judge<'_>, judged: &Judged, groups: &[PlannedGroup]) -> Vec<DeviceStrings> {
    let plant = judge.plant();
    let mut pairs: Vec<(Option<InverterId>, Option<SetId>, u32)> =
        groups.iter().map(|g| (g.inverter, g.set, g.strings.series())).collect();
    pairs.sort_unstable();
    pairs.dedup();
    pairs
        .into_iter()
        .map(|(inverter, set, series)| {
            let on_drive = set
                .and_then(|set| judged.drives.iter().find(|d| d.set == set))
                .map(|d| (d.set, d.strings));
            let window = inverter.map(|i| plant.feeders[i].inverter.sheet());
            DeviceStrings {
                inverter: inverter.map(|i| plant.feeders[i].name.clone()),
                drive: set.map(|s| device_name(plant, Device::Drive(s))),
                modules_per_string: series,
                strings_on_drive: on_drive.map_or(0, |(_, strings)| strings),
                mppt_min_v: window.map(|sheet| sheet.mppt_min_v),
                mppt_max_v: window.map(|sheet| sheet.mppt_max_v),
                inverter_greatest_dc_v: inverter.and_then(|i| plant.feeders[i].inverter.limits().greatest_dc_v),
                drive_greatest_dc_v: set
                    .and_then(|s| plant.sets[s].pump_set.drive())
                    .and_then(|drive| drive.limits().greatest_dc_v),
                bus_v_per_hz: set.and_then(|s| plant.sets[s].pump_set.bus_v_per_hz()),
                points: operating_points(judge, series, inverter, on_drive)
                    .iter()
                    .map(OperatingRow::from)
                    .collect(),
            }
        })
        .collect()
}

/// Whether a layout is the same as that of the plant file.
fn is_same_layout(layout: &daylift_electrics::Layout, groups: &[PlannedGroup]) -> bool {
    let tally = |groups: &[PlannedGroup]| {
        let mut sums = BTreeMap::new();
        for g in groups {
            *sums.entry((g.plane, g.inverter, g.set)).or_insert(0) += g.strings.parallel();
        }
        sums
    };
    let on_an_input = |groups: &[PlannedGroup]| {
        groups.iter().filter(|g| g.inverter.is_some()).map(PlannedGroup::most_on_an_input).max()
    };
    groups.iter().all(|g| g.strings.series() == layout.series)
        && tally(groups) == tally(&layout.groups)
        && on_an_input(groups) == on_an_input(&layout.groups)
}
