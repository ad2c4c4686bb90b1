//! Ranks layouts by the plant's year with each of them.

use std::cmp::Ordering;
use std::collections::BTreeMap;

use daylift_electrics::{Layout, PlannedGroup, Rule, Search, Shares, SubArray};
use daylift_plant::{Arrangement, ByGroup, Group, Plant, Wiring};
use daylift_supply::{Flow, NoRecorder};
use daylift_units::Step;
use daylift_units::constants::KWH_J;

use super::year::{Devices, LayoutYear};
use crate::best_rule::{Effort, FindRules, find_or_held};
use crate::columns::groups::ArrayEnergy;
use crate::columns::{Account, Sums};
use crate::cores::on_all_cores;
use crate::memory::Memory;
use crate::row::array_use;
use crate::rules::Rules;
use crate::stages::Stages;

/// Step in which water and energy are compared, as a share of the demand and of the available energy. Smaller differences
/// do not count.
const MERIT_STEP: f64 = 1e-3;

/// Maximum number of years that are run for one sub-array.
const MOST_YEARS: usize = 400;

/// Number of layouts with a slow pump for which a year without the limit of the voltage is run.
const MOST_SLOW: usize = 10;

/// The layouts of each sub-array, the best first.
pub(super) struct Rankings {
    /// The arrangement whose year was run.
    pub(super) arrangement: Option<Arrangement>,
    /// By sub-array.
    pub(super) layouts: Vec<Vec<Ranked>>,
}

/// A layout and its year.
pub(super) struct Ranked {
    /// Its index in the search.
    pub(super) layout: usize,
    /// The plant's year with it.
    pub(super) year: Option<LayoutYear>,
    /// What its drives and inverters could do.
    pub(super) devices: Devices,
}

/// Sub-array, modules in series and shares. Layouts with the same key have the same year: they differ only in the strings
/// per input.
type YearKey<'a> = (usize, u32, &'a [Shares]);
/// The years that were run.
type Years<'a> = BTreeMap<YearKey<'a>, (Option<LayoutYear>, Devices)>;

/// Runs a year for every layout with a year of its own. Each layout replaces the strings of its sub-array in the plant.
pub(super) fn rank(
    plant: &Plant,
    subs: &[SubArray],
    searches: &[Search],
    step: Step,
    memory: &Memory,
    progress: &mut dyn FnMut(usize, usize),
) -> Rankings {
    let arrangement = [Wiring::DualMode, Wiring::SolarDrive, Wiring::GridTied]
        .into_iter()
        .map(Arrangement::plain)
        .find(|row| plant.arrangements().contains(row));
    let mut classes: BTreeMap<YearKey<'_>, &Layout> = BTreeMap::new();
    for (s, search) in searches.iter().enumerate() {
        for layout in &search.layouts {
            classes.entry((s, layout.series, &layout.shares[..])).or_insert(layout);
        }
    }
    let classes = worth_a_year(classes);
    progress(0, classes.len());
    let outage = outage_shares(plant, step);
    // All layouts run by the rule that is best for the plant as written, so that only the strings differ.
    let by = arrangement.map(|row| RankedBy {
        row,
        step,
        rules: find_or_held(plant, step, &[row], memory, FindRules::Search(Effort::Descent)),
    });
    let to_run: Vec<(usize, &Layout)> = classes.iter().map(|(key, layout)| (key.0, *layout)).collect();
    let run = |(s, layout): &(usize, &Layout)| year_of(plant, &subs[*s], &layout.groups, by.as_ref(), &outage, memory);
    let ran = on_all_cores(&to_run, run, &mut |done| progress(done, to_run.len()));
    let years: Years<'_> = classes.into_keys().zip(ran).collect();
    let mut layouts: Vec<Vec<Ranked>> =
        searches.iter().enumerate().map(|(s, search)| in_order(s, search, &years)).collect();
    let free = without_voltage_limit(plant);
    for ((sub, search), ranked) in subs.iter().zip(searches).zip(&mut layouts) {
        let mut slow: Vec<(&Layout, &mut LayoutYear)> = ranked
            .iter_mut()
            .filter_map(|ranked| Some((&search.layouts[ranked.layout], ranked.year.as_mut()?)))
            .filter(|(layout, _)| is_slow(layout))
            .take(MOST_SLOW)
            .collect();
        let run = |groups: &&[PlannedGroup]| year_of(&free, sub, groups, by.as_ref(), &outage, memory).0;
        let groups: Vec<&[PlannedGroup]> = slow.iter().map(|(layout, _)| &layout.groups[..]).collect();
        let ran = on_all_cores(&groups, run, &mut |_| {});
        for ((_, year), free) in slow.iter_mut().zip(ran) {
            year.delivered_without_voltage_limit_m3 = free.map(|free| free.delivered_m3);
        }
    }
    Rankings { arrangement, layouts }
}

/// Whether a pump is slow at a hot noon with a layout.
fn is_slow(layout: &Layout) -> bool {
    layout.judged.measures.iter().any(|m| m.rule == Rule::UsefulSpeed && m.breaks)
}

/// The plant as it would be if full flux needed no bus voltage.
fn without_voltage_limit(plant: &Plant) -> Plant {
    let mut free = plant.clone();
    for set in &mut free.sets {
        set.pump_set = set.pump_set.without_voltage_need();
    }
    free
}

/// Limits the number of years for each sub-array: keeps the layouts with the fewest modules left over and idle. The others
/// are ranked last, without a year.
fn worth_a_year<'a>(classes: BTreeMap<YearKey<'a>, &'a Layout>) -> BTreeMap<YearKey<'a>, &'a Layout> {
    let mut by_sub: BTreeMap<usize, Vec<(YearKey<'a>, &'a Layout)>> = BTreeMap::new();
    for (key, layout) in classes {
        by_sub.entry(key.0).or_default().push((key, layout));
    }
    for of_sub in by_sub.values_mut() {
        of_sub.sort_by(|a, b| {
            let idle_w = |l: &Layout| l.judged.idle_w;
            (a.1.left_over(), idle_w(a.1))
                .partial_cmp(&(b.1.left_over(), idle_w(b.1)))
                .unwrap_or(Ordering::Equal)
        });
        of_sub.truncate(MOST_YEARS);
    }
    by_sub.into_values().flatten().collect()
}

fn in_order(s: usize, search: &Search, years: &Years<'_>) -> Vec<Ranked> {
    let mut out: Vec<Ranked> = search
        .layouts
        .iter()
        .enumerate()
        .map(|(layout, found)| {
            let (year, devices) = years.get(&(s, found.series, &found.shares[..])).cloned().unwrap_or_default();
            Ranked { layout, year, devices }
        })
        .collect();
    let available = out.iter().filter_map(|ranked| Some(ranked.year.as_ref()?.array_available_kwh));
    let most_available_kwh = available.fold(0.0, f64::max);
    out.sort_by_cached_key(|ranked| {
        let layout = &search.layouts[ranked.layout];
        let (water, energy) = ranked.year.as_ref().map_or((0, 0), |year| merit(year, most_available_kwh));
        (
            std::cmp::Reverse((water, energy)),
            layout.judged.measures.iter().filter(|m| m.breaks).count(),
            layout.left_over(),
            layout.poles(),
            layout.per_input,
            layout.series,
            layout.shares.clone(),
        )
    });
    out
}

/// Water and energy in steps that count: shares of the demand, and of the largest available energy of all layouts.
#[expect(clippy::cast_possible_truncation, reason = "a thousand steps at most")]
fn merit(year: &LayoutYear, most_available_kwh: f64) -> (i64, i64) {
    let steps = |part: f64, whole: f64| (part / (whole * MERIT_STEP).max(f64::MIN_POSITIVE)).round() as i64;
    (
        steps(year.delivered_m3, year.demand_m3),
        steps(year.array_used_kwh, most_available_kwh),
    )
}

/// The plant with other groups instead of those of a sub-array.
pub(super) fn with_strings(plant: &Plant, sub: &SubArray, groups: &[PlannedGroup]) -> Plant {
    let mut plant = plant.clone();
    if let Some(array) = &mut plant.array {
        let mut kept: ByGroup<Group> = std::mem::take(&mut array.groups)
            .into_iter_enumerated()
            .filter(|(g, _)| !sub.groups.contains(g))
            .map(|(_, group)| group)
            .collect();
        kept.extend(groups.iter().map(|planned| Group {
            name: planned.name.clone(),
            plane: planned.plane,
            strings: planned.strings.clone(),
            strings_per_input: Some(planned.per_input),
            inverter: planned.inverter,
            set: planned.set,
        }));
        array.groups = kept;
    }
    plant
}

/// The arrangement by whose year layouts are ranked.
struct RankedBy {
    row: Arrangement,
    step: Step,
    rules: Rules,
}

fn year_of(
    plant: &Plant,
    sub: &SubArray,
    groups: &[PlannedGroup],
    by: Option<&RankedBy>,
    outage: &[f64],
    memory: &Memory,
) -> (Option<LayoutYear>, Devices) {
    let plant = with_strings(plant, sub, groups);
    let Some(RankedBy { row, step, rules }) = by.filter(|by| plant.arrangements().contains(&by.row)) else {
        return (None, Devices::default());
    };
    let arrangement = *row;
    let stages = Stages::for_rows(&plant, *step, &[arrangement], memory).with_rules(rules.clone());
    let ledger = stages.year(arrangement, &mut NoRecorder).ledger;
    let sum = ledger.year();
    let energy = Sums::<ArrayEnergy>::new(Account::of_flows(&sum));
    let year = LayoutYear {
        demand_m3: sum[Flow::Demand],
        delivered_m3: sum[Flow::Delivered],
        delivered_without_voltage_limit_m3: None,
        delivered_in_outages_m3: sum[Flow::DeliveredInOutage],
        array_available_kwh: energy.of(Flow::Available),
        array_used_kwh: energy.used(),
        array_use: array_use(&energy),
    };
    (Some(year), devices(&plant, sub, &stages, outage))
}

fn devices(plant: &Plant, sub: &SubArray, stages: &Stages<'_>, outage: &[f64]) -> Devices {
    let step_s = stages.axis.step_s();
    let sum = |steps: &[f64], share: &dyn Fn(f64) -> f64| -> f64 {
        steps.iter().zip(outage).map(|(value, outage)| value * share(*outage)).sum::<f64>() * step_s
    };
    let drives = sub.sets.iter().filter_map(|set| {
        let drive = stages.offers.sets[*set].drive.as_ref()?;
        Some((*set, sum(drive.flow_m3_s.steps(), &|outage| outage)))
    });
    let inverters = stages.offers.inverters.iter().filter_map(|offers| {
        let inverter = plant.groups().get(offers.group)?.inverter?;
        let feeds_j = sum(offers.bus.bus_w.steps(), &|outage| 1.0 - outage);
        sub.inverters.contains(&inverter).then_some((inverter, feeds_j / KWH_J))
    });
    Devices {
        outage_water_m3: drives.collect(),
        feed_kwh: inverters.collect(),
    }
}

/// Share of each step in which the grid is down.
fn outage_shares(plant: &Plant, step: Step) -> Vec<f64> {
    let axis = plant.site.axis.with_step(step);
    let step_s = axis.step_s();
    let mut out = vec![if plant.grid.connected { 0.0 } else { 1.0 }; axis.steps()];
    if !plant.grid.connected {
        return out;
    }
    let mut begin_s = 0.0;
    let mut outages = plant.grid.outages.intervals().iter().peekable();
    for share in &mut out {
        let end_s = begin_s + step_s;
        while let Some(outage) = outages.peek() {
            *share += (outage.end_s.min(end_s) - outage.start_s.max(begin_s)).max(0.0) / step_s;
            if outage.end_s > end_s {
                break;
            }
            outages.next();
        }
        begin_s = end_s;
    }
    out
}
