//! Finds every layout of the same modules that is suitable, and why the others are not.

use std::collections::BTreeMap;

use daylift_plant::{InverterId, PlaneId, SetId};

use crate::judge::{Device, Judge, Judged, Measure};
use crate::plan::{ModuleField, PlannedGroup, SubArray};
use crate::rule::Rule;
use crate::speed::SpeedLimit;
use crate::tally::Tally;

/// Maximum ways to share the strings of one length among drives that are all checked. If there are more, only every
/// second, third … number of strings is.
const MOST_WAYS: u64 = 20_000;
/// The same, for each length, when searching for what would have to change.
const MOST_WAYS_TO_CHANGE: u64 = 1_000;
/// Maximum open-circuit voltage of a string at standard test conditions \[V\]: the upper limit of low voltage on DC (IEC
/// 60364-1).
const LOW_VOLTAGE_V: f64 = 1500.0;

/// A string length, with the rules that depend on it alone.
#[derive(Debug, Clone, PartialEq)]
pub struct Length {
    /// Modules in series.
    pub series: u32,
    /// The rules that depend on the length alone, and the speed of each pump with all strings of this length on its drive.
    pub measures: Vec<Measure>,
    /// Suitable layouts with this length.
    pub layouts: usize,
}

impl Length {
    /// The rules that this length violates by itself.
    pub fn broken(&self) -> impl Iterator<Item = &Measure> {
        self.measures.iter().filter(|m| m.forbids())
    }
}

/// How the strings of one field of modules are shared among drives.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Shares {
    /// The plane.
    pub plane: PlaneId,
    /// The inverter.
    pub inverter: Option<InverterId>,
    /// Strings that go to each drive in an outage: the pump set and the number of strings.
    pub to_drives: Vec<(SetId, u32)>,
    /// Strings that are idle in an outage.
    pub idle: u32,
    /// Modules too few for one more string.
    pub left_over: u32,
}

/// A suitable layout: it violates no rule that forbids.
#[derive(Debug, Clone, PartialEq)]
pub struct Layout {
    /// Modules in series.
    pub series: u32,
    /// Strings on an MPPT input.
    pub per_input: u32,
    /// How each field's strings are shared, in the order of the sub-array's fields.
    pub shares: Vec<Shares>,
    /// The layout as string groups.
    pub groups: Vec<PlannedGroup>,
    /// The result of the rules.
    pub judged: Judged,
}

impl Layout {
    /// Poles that switch strings from inverters to drives.
    #[must_use]
    pub fn poles(&self) -> u32 {
        self.judged.drives.iter().map(|drive| drive.poles).sum()
    }

    /// Modules left over in all fields.
    #[must_use]
    pub fn left_over(&self) -> u32 {
        self.shares.iter().map(|s| s.left_over).sum()
    }
}

/// A rule that layouts violate although their length is suitable by itself.
#[derive(Debug, Clone, PartialEq)]
pub struct Refused {
    /// Number of layouts that violate it, alone or together with other rules.
    pub layouts: usize,
    /// The violation closest to the limit.
    pub nearest: Measure,
}

/// A change of one limit that would make some layout suitable.
#[derive(Debug, Clone, PartialEq)]
pub struct Change {
    /// The only rule that this layout violates, with the value that the limit would have to allow.
    pub measure: Measure,
    /// Modules in series of the layout that would then be suitable.
    pub series: u32,
    /// Strings on an input of this layout.
    pub per_input: u32,
    /// What limits the pump's speed in this layout, where the rule is about speed.
    pub speed_limit: Option<SpeedLimit>,
}

/// Result of the search for layouts of a sub-array.
#[derive(Debug, Clone, PartialEq)]
pub struct Search {
    /// Every string length that the modules allow.
    pub lengths: Vec<Length>,
    /// The suitable layouts.
    pub layouts: Vec<Layout>,
    /// Why other layouts of suitable lengths are not suitable.
    pub refused: Vec<Refused>,
    /// Step between the numbers of strings on a drive that were checked; 1: every number.
    pub stride: u32,
    /// If no layout is suitable: each limit that is the only obstacle of some layout.
    pub changes: Vec<Change>,
    /// If no layout is suitable: all violations of the layout with the fewest.
    pub nearest: Vec<Measure>,
}

/// Checks every layout of a sub-array's modules.
#[must_use]
pub fn search(judge: &Judge<'_>, sub: &SubArray) -> Search {
    let mut out = Search {
        lengths: lengths(judge, sub),
        layouts: Vec::new(),
        refused: Vec::new(),
        stride: 1,
        changes: Vec::new(),
        nearest: Vec::new(),
    };
    let mut refused: BTreeMap<(Rule, Device), Refused> = BTreeMap::new();
    for length in &mut out.lengths {
        if length.broken().any(|m| m.rule.depends_on_length_only()) {
            continue;
        }
        let before = out.layouts.len();
        let stride = stride(sub, length.series, MOST_WAYS);
        out.stride = out.stride.max(stride);
        for shares in ways(sub, length.series, stride) {
            for per_input in 1..=most_on_an_input(judge, sub, length.series) {
                let judged = judge_way(judge, sub, length.series, per_input, &shares);
                if judged.suits() {
                    out.layouts.push(Layout {
                        series: length.series,
                        per_input,
                        groups: groups(judge, sub, length.series, per_input, &shares),
                        shares: shares.clone(),
                        judged,
                    });
                } else {
                    refuse(&mut refused, &judged);
                }
            }
        }
        length.layouts = out.layouts.len() - before;
    }
    out.refused = refused.into_values().collect();
    if out.layouts.is_empty() {
        (out.changes, out.nearest) = changes(judge, sub, &out.lengths);
    }
    out
}

/// Every length that the largest field of modules and low voltage allow. A field too small for one string is left out.
fn lengths(judge: &Judge<'_>, sub: &SubArray) -> Vec<Length> {
    let Some(strings) = judge.array().groups.first().map(|g| &g.strings) else {
        return Vec::new();
    };
    let modules = sub.fields.iter().map(|field| field.modules).max().unwrap_or(0);
    let fits = |n: &u32| f64::from(*n) * strings.module().sheet().open_circuit_v <= LOW_VOLTAGE_V;
    let possible = |n: &u32| strings.in_strings(*n, 1).is_ok();
    (1..=modules)
        .take_while(fits)
        .filter(possible)
        .map(|series| length(judge, sub, series))
        .collect()
}

fn length(judge: &Judge<'_>, sub: &SubArray, series: u32) -> Length {
    let mut measures = judge.judge_length(series, &sub.inverters, &sub.sets);
    for set in &sub.sets {
        let of_set = sub.fields.iter().filter(|field| field.sets.contains(set));
        let groups: Vec<PlannedGroup> = of_set
            .filter_map(|field| group(judge, field, series, 1, Some(*set), field.modules / series))
            .collect();
        let judged = judge.judge(&groups);
        let of_speed = |m: &Measure| matches!(m.rule, Rule::PumpSpeed | Rule::UsefulSpeed);
        measures.extend(judged.measures.into_iter().filter(of_speed));
    }
    Length {
        series,
        measures,
        layouts: 0,
    }
}

/// Maximum strings on an input: as many as every inverter of the sub-array allows, and no more than there are.
fn most_on_an_input(judge: &Judge<'_>, sub: &SubArray, series: u32) -> u32 {
    let there = sub
        .fields
        .iter()
        .filter(|f| f.inverter.is_some())
        .map(|f| f.modules / series)
        .max()
        .unwrap_or(1);
    let fits = |i: &InverterId| judge.plant().feeders[*i].inverter.limits().strings_per_input;
    sub.inverters.iter().filter_map(fits).min().unwrap_or(there).min(there).max(1)
}

/// The smallest step between numbers of strings on a drive with at most `most_ways` ways to share them.
fn stride(sub: &SubArray, series: u32, most_ways: u64) -> u32 {
    (1..).find(|stride| count(sub, series, *stride) <= most_ways).unwrap_or(1)
}

/// Number of ways to share the strings of every field. S strings among D drives or idle: C(S + D, D).
fn count(sub: &SubArray, series: u32, stride: u32) -> u64 {
    sub.fields.iter().fold(1_u64, |product, field| {
        let (strings, drives) = (u64::from(field.modules / series / stride), field.sets.len() as u64);
        let free = if field.inverter.is_some() { drives } else { 0 };
        let ways = (1..=free).fold(1_u64, |c, i| c.saturating_mul(strings + i) / i);
        product.saturating_mul(ways)
    })
}

/// Every way to share the strings of all fields.
fn ways(sub: &SubArray, series: u32, stride: u32) -> Vec<Vec<Shares>> {
    let mut out: Vec<Vec<Shares>> = vec![Vec::new()];
    for field in &sub.fields {
        let of_field = shares(field, series, stride);
        out = out
            .iter()
            .flat_map(|before| of_field.iter().map(|more| before.iter().cloned().chain([more.clone()]).collect()))
            .collect();
    }
    out
}

/// Every way to share a field's strings among its drives, with the rest idle. Strings without an inverter all go to their
/// drive.
fn shares(field: &ModuleField, series: u32, stride: u32) -> Vec<Shares> {
    let strings = field.modules / series;
    let made = |to_drives: Vec<(SetId, u32)>, idle| Shares {
        plane: field.plane,
        inverter: field.inverter,
        to_drives,
        idle,
        left_over: field.modules - strings * series,
    };
    if field.inverter.is_none() {
        return vec![made(field.sets.iter().map(|set| (*set, strings)).collect(), 0)];
    }
    let mut out = vec![(Vec::new(), strings)];
    for set in &field.sets {
        out = out
            .into_iter()
            .flat_map(|(before, left)| {
                let set = *set;
                (0..=left)
                    .filter(move |k| k % stride == 0 || *k == left)
                    .map(move |k| ([before.clone(), vec![(set, k)]].concat(), left - k))
            })
            .collect();
    }
    out.into_iter().map(|(to_drives, idle)| made(to_drives, idle)).collect()
}

/// Checks one way to share the strings.
fn judge_way(judge: &Judge<'_>, sub: &SubArray, series: u32, per_input: u32, shares: &[Shares]) -> Judged {
    let mut tally = Tally::default();
    for of in shares {
        for (set, strings) in &of.to_drives {
            tally.add(of.inverter, Some(*set), series, *strings, per_input);
        }
        tally.add(of.inverter, None, series, of.idle, per_input);
    }
    let mut judged = judge.judge_tally(&tally);
    // The pump of a drive without strings does not run.
    for set in &sub.sets {
        if tally.drives.iter().all(|drive| drive.set != *set) {
            judged.measures.push(no_speed(judge, *set, series));
        }
    }
    judged
}

/// One way to share the strings, as string groups.
fn groups(judge: &Judge<'_>, sub: &SubArray, series: u32, per_input: u32, shares: &[Shares]) -> Vec<PlannedGroup> {
    let mut out = Vec::new();
    for (field, shares) in sub.fields.iter().zip(shares) {
        for (set, strings) in &shares.to_drives {
            out.extend(group(judge, field, series, per_input, Some(*set), *strings));
        }
        out.extend(group(judge, field, series, per_input, None, shares.idle));
    }
    out
}

/// The violation of a pump whose drive has no strings.
fn no_speed(judge: &Judge<'_>, set: SetId, series: u32) -> Measure {
    Measure {
        rule: Rule::PumpSpeed,
        device: Device::Drive(set),
        series,
        strings: 0,
        value: 0.0,
        limit: judge.start_hz(set),
        is_given: true,
        breaks: true,
    }
}

/// Strings of a field as a group; `None` for 0 strings or where such strings are not possible.
fn group(
    judge: &Judge<'_>,
    field: &ModuleField,
    series: u32,
    per_input: u32,
    set: Option<SetId>,
    strings: u32,
) -> Option<PlannedGroup> {
    let any = judge.array().groups.first()?;
    let (plant, plane) = (judge.plant(), &judge.array().planes[field.plane].name);
    let inverter = field.inverter.map(|i| plant.feeders[i].name.as_str());
    let to = set.map_or("(idle)", |set| plant.sets[set].name.as_str());
    let names = [inverter, Some(to), Some(plane.as_str())];
    Some(PlannedGroup {
        name: names.into_iter().flatten().collect::<Vec<_>>().join(", "),
        plane: field.plane,
        inverter: field.inverter,
        set,
        strings: any.strings.in_strings(series, strings).ok()?,
        per_input: per_input.min(strings).max(1),
    })
}

/// Counts the rules that an unsuitable layout violates.
fn refuse(refused: &mut BTreeMap<(Rule, Device), Refused>, judged: &Judged) {
    // A drive without strings is not close to a limit.
    let counts = |m: &&Measure| m.forbids() && (m.strings > 0 || m.rule != Rule::PumpSpeed);
    for broken in judged.measures.iter().filter(counts) {
        let entry = refused.entry((broken.rule, broken.device)).or_insert_with(|| Refused {
            layouts: 0,
            nearest: *broken,
        });
        entry.layouts += 1;
        if broken.beyond() < entry.nearest.beyond() {
            entry.nearest = *broken;
        }
    }
}

/// For each limit that is the only obstacle of some layout, the layout that exceeds it least. And all violations of the
/// layout with the fewest.
fn changes(judge: &Judge<'_>, sub: &SubArray, lengths: &[Length]) -> (Vec<Change>, Vec<Measure>) {
    let mut alone: BTreeMap<(Rule, Device), Change> = BTreeMap::new();
    let mut nearest: Vec<Measure> = Vec::new();
    for series in lengths.iter().map(|length| length.series) {
        for shares in ways(sub, series, stride(sub, series, MOST_WAYS_TO_CHANGE)) {
            for per_input in 1..=most_on_an_input(judge, sub, series) {
                let judged = judge_way(judge, sub, series, per_input, &shares);
                let broken: Vec<Measure> = judged.measures.iter().filter(|m| m.forbids()).copied().collect();
                // A drive without strings is not close to a limit.
                if broken.iter().any(|m| m.rule == Rule::PumpSpeed && m.strings == 0) {
                    continue;
                }
                if nearest.is_empty() || broken.len() < nearest.len() {
                    nearest.clone_from(&broken);
                }
                if let [one] = broken[..] {
                    let nearer = |known: &Change| one.beyond() < known.measure.beyond();
                    if alone.get(&(one.rule, one.device)).is_none_or(nearer) {
                        alone.insert((one.rule, one.device), change(&judged, one, series, per_input));
                    }
                }
            }
        }
    }
    (alone.into_values().collect(), nearest)
}

fn change(judged: &Judged, measure: Measure, series: u32, per_input: u32) -> Change {
    let on = judged.drives.iter().find(|d| Device::Drive(d.set) == measure.device);
    Change {
        measure,
        series,
        per_input,
        speed_limit: on.map(|d| d.noon.limit).filter(|_| measure.rule == Rule::PumpSpeed),
    }
}
