//! Every layout of the same modules that suits both devices, and why the others do not.

use std::collections::BTreeMap;

use daylift_plant::{InverterId, PlaneId, SetId};

use crate::judge::{Device, Judge, Judged, Measure};
use crate::plan::{ModuleField, PlannedGroup, SubArray};
use crate::rule::Rule;
use crate::speed::SpeedLimit;
use crate::tally::Tally;

/// Ways to share the strings of one length among drives that are looked at one by one; beyond it only every second,
/// third … number of strings is.
const MOST_WAYS: u64 = 20_000;
/// The same for each length when it is asked what would have to change.
const MOST_WAYS_TO_CHANGE: u64 = 1_000;
/// Greatest open-circuit voltage of a string at standard test conditions \[V\]: where low voltage ends on DC (IEC 60364-1).
const LOW_VOLTAGE_V: f64 = 1500.0;

/// A length of string and what it alone decides.
#[derive(Debug, Clone, PartialEq)]
pub struct Length {
    /// Modules in series.
    pub series: u32,
    /// The rules of length, and the speed that all strings of this length together would give each pump.
    pub measures: Vec<Measure>,
    /// Layouts of this length that suit.
    pub layouts: usize,
}

impl Length {
    /// The rules that it breaks by itself.
    pub fn broken(&self) -> impl Iterator<Item = &Measure> {
        self.measures.iter().filter(|m| m.forbids())
    }
}

/// How the strings of one field of modules are shared.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Shares {
    /// The plane.
    pub plane: PlaneId,
    /// The inverter.
    pub inverter: Option<InverterId>,
    /// Strings that go to each drive in an outage: the pump set, strings.
    pub to_drives: Vec<(SetId, u32)>,
    /// Strings that stand idle in an outage.
    pub idle: u32,
    /// Modules that make no whole string.
    pub left_over: u32,
}

/// A layout that breaks no rule.
#[derive(Debug, Clone, PartialEq)]
pub struct Layout {
    /// Modules in series.
    pub series: u32,
    /// Strings on an MPPT input.
    pub per_input: u32,
    /// The fields of modules, in the order of the sub-array's.
    pub shares: Vec<Shares>,
    /// As string groups.
    pub groups: Vec<PlannedGroup>,
    /// What the rules say of it.
    pub judged: Judged,
}

impl Layout {
    /// Poles that move strings from inverters to drives.
    #[must_use]
    pub fn poles(&self) -> u32 {
        self.judged.drives.iter().map(|drive| drive.poles).sum()
    }

    /// Modules that make no whole string.
    #[must_use]
    pub fn left_over(&self) -> u32 {
        self.shares.iter().map(|s| s.left_over).sum()
    }
}

/// A rule that layouts of lengths that suit by themselves broke.
#[derive(Debug, Clone, PartialEq)]
pub struct Refused {
    /// How many broke it, perhaps beside other rules.
    pub layouts: usize,
    /// The one that came nearest to keeping it.
    pub nearest: Measure,
}

/// What would have to change for some layout to suit: this limit alone.
#[derive(Debug, Clone, PartialEq)]
pub struct Change {
    /// The rule that alone forbids it, with the value that would have to be borne.
    pub measure: Measure,
    /// Modules in series of the layout that would suit then.
    pub series: u32,
    /// Strings on an input.
    pub per_input: u32,
    /// What keeps the pump from more speed there, where the rule is of speed.
    pub speed_limit: Option<SpeedLimit>,
}

/// The layouts of a sub-array.
#[derive(Debug, Clone, PartialEq)]
pub struct Search {
    /// Every length of string that the modules allow.
    pub lengths: Vec<Length>,
    /// The layouts that suit.
    pub layouts: Vec<Layout>,
    /// Why other layouts of suitable lengths do not.
    pub refused: Vec<Refused>,
    /// Only every so many-th number of strings on a drive was looked at; 1: every one.
    pub stride: u32,
    /// When none suits: each limit that alone stands in the way.
    pub changes: Vec<Change>,
    /// When several stand in every way: all that the layout breaks which breaks the fewest.
    pub nearest: Vec<Measure>,
}

/// Searches the layouts of a sub-array.
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
        if length.broken().any(|m| m.rule.is_of_length()) {
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

/// Every length that the largest field of modules and low voltage allow; a field too small for a string stays aside.
fn lengths(judge: &Judge<'_>, sub: &SubArray) -> Vec<Length> {
    let Some(strings) = judge.array().groups.first().map(|g| &g.strings) else {
        return Vec::new();
    };
    let modules = sub.fields.iter().map(|field| field.modules).max().unwrap_or(0);
    let fits = |n: &u32| f64::from(*n) * strings.module().sheet().open_circuit_v <= LOW_VOLTAGE_V;
    let known = |n: &u32| strings.in_strings(*n, 1).is_ok();
    (1..=modules)
        .take_while(fits)
        .filter(known)
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
        measures.extend(judged.measures.into_iter().filter(|m| m.rule == Rule::PumpSpeed));
    }
    Length {
        series,
        measures,
        layouts: 0,
    }
}

/// Most strings that may share an input: what fits on the inverters', and no more than there are.
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

/// How coarse the numbers of strings on drives must be for the ways to stay few enough.
fn stride(sub: &SubArray, series: u32, most_ways: u64) -> u32 {
    (1..).find(|stride| count(sub, series, *stride) <= most_ways).unwrap_or(1)
}

/// Ways to share the strings of every field: of S strings among D drives and none, C(S + D, D).
fn count(sub: &SubArray, series: u32, stride: u32) -> u64 {
    sub.fields.iter().fold(1_u64, |product, field| {
        let (strings, drives) = (u64::from(field.modules / series / stride), field.sets.len() as u64);
        let free = if field.inverter.is_some() { drives } else { 0 };
        let ways = (1..=free).fold(1_u64, |c, i| c.saturating_mul(strings + i) / i);
        product.saturating_mul(ways)
    })
}

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

/// Every way to share a field's strings among its drives and none; strings without an inverter all go to their drive.
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

/// A way to share the strings, judged.
fn judge_way(judge: &Judge<'_>, sub: &SubArray, series: u32, per_input: u32, shares: &[Shares]) -> Judged {
    let mut tally = Tally::default();
    for of in shares {
        for (set, strings) in &of.to_drives {
            tally.add(of.inverter, Some(*set), series, *strings, per_input);
        }
        tally.add(of.inverter, None, series, of.idle, per_input);
    }
    let mut judged = judge.judge_tally(&tally);
    // A drive that gets no strings gives its pump no speed.
    for set in &sub.sets {
        if tally.drives.iter().all(|drive| drive.set != *set) {
            judged.measures.push(nothing_for(judge, *set, series));
        }
    }
    judged
}

/// The same as string groups.
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

fn nothing_for(judge: &Judge<'_>, set: SetId, series: u32) -> Measure {
    Measure {
        rule: Rule::PumpSpeed,
        device: Device::Drive(set),
        series,
        strings: 0,
        value: 0.0,
        limit: judge.useful_hz(set),
        is_given: true,
        breaks: true,
    }
}

/// Strings of a field as a group; `None` for none.
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

fn refuse(refused: &mut BTreeMap<(Rule, Device), Refused>, judged: &Judged) {
    // A drive without strings is no near miss.
    let told = |m: &&Measure| m.forbids() && (m.strings > 0 || m.rule != Rule::PumpSpeed);
    for broken in judged.measures.iter().filter(told) {
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

/// For each limit that alone stands in the way of some layout, the layout that asks least of it; and what the layout
/// breaks that breaks the fewest rules.
fn changes(judge: &Judge<'_>, sub: &SubArray, lengths: &[Length]) -> (Vec<Change>, Vec<Measure>) {
    let mut alone: BTreeMap<(Rule, Device), Change> = BTreeMap::new();
    let mut nearest: Vec<Measure> = Vec::new();
    for series in lengths.iter().map(|length| length.series) {
        for shares in ways(sub, series, stride(sub, series, MOST_WAYS_TO_CHANGE)) {
            for per_input in 1..=most_on_an_input(judge, sub, series) {
                let judged = judge_way(judge, sub, series, per_input, &shares);
                let broken: Vec<Measure> = judged.measures.iter().filter(|m| m.forbids()).copied().collect();
                // A drive without strings is no near miss.
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
