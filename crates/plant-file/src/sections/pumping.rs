//! `[pumping]` and `[[pumping.row]]`: when the pumps may run on the bus.

use daylift_plant::{Arrangement, GivenRule, Plant, Pumping, RowRule};
use daylift_units::fields::{pumping, row_rule, tank};
use daylift_units::{Fault, Warning};

use crate::outline::{Listed, PlantKeys, PumpingRuleKeys, RowRuleKeys, SunFirst};
use crate::read::{List, Part, Placed, Section, usual};

/// The rules of pumping; the whole section may be left out. A default is then listed only if the plant `uses` it.
pub(crate) fn read(root: &Placed<PlantKeys>, is_used: bool) -> Option<Pumping> {
    let low_mark_is_given = root.keys.tank.there().and_then(|tank| tank.keys.as_ref()?.low_mark.given()).is_some();
    let Placed { at, keys } = match &root.keys.pumping {
        Part::There(placed) => placed,
        Part::Faulty => return None,
        Part::Absent => return Some(absent(is_used.then_some(&root.at), low_mark_is_given)),
    };
    let rows = read_rows(&keys.row);
    let rule = keys.rule.as_ref()?;
    let fill = rule.mains_fill.given();
    if fill.is_none() && is_used {
        rule.mains_fill.value(at);
    }
    Some(Pumping {
        given: GivenRule {
            hours: rule.mains_hours,
            fill: fill.map(|levels| levels.0),
            low_mark: None,
            surplus: rule.surplus,
        },
        low_mark_is_given,
        rows: rows?,
        search: rule.search,
        sun_to_pump_first: rule.sun_first != Some(SunFirst::Loads),
    })
}

/// What holds without the section; the defaults are listed at `at`.
fn absent(at: Option<&Section>, low_mark_is_given: bool) -> Pumping {
    let list = |key: &str, listed: Listed, source| {
        if let Some(at) = at {
            at.by_default(&format!("pumping.{key}"), listed, source);
        }
    };
    let hours = PumpingRuleKeys::MAINS_HOURS_LISTED;
    list(pumping::MAINS_HOURS.key, hours, PumpingRuleKeys::SOURCE);
    let _full = usual!(at, "pumping", pumping::MAINS_FILL);
    let (search, word) = PumpingRuleKeys::SEARCH;
    list("rule", Listed::Text(word), PumpingRuleKeys::SEARCH_SOURCE);
    Pumping {
        given: GivenRule::default(),
        low_mark_is_given,
        rows: Vec::new(),
        search,
        sun_to_pump_first: true,
    }
}

fn read_rows(list: &List<RowRuleKeys>) -> Option<Vec<RowRule>> {
    let rules: Vec<Option<RowRule>> = list.items.iter().map(read_row).collect();
    rules.into_iter().collect()
}

fn read_row(Placed { at, keys }: &Placed<RowRuleKeys>) -> Option<RowRule> {
    let keys = keys.as_ref()?;
    let given = GivenRule {
        hours: keys.mains_hours,
        fill: keys.mains_fill.map(|levels| levels.0),
        low_mark: keys.low_mark,
        surplus: keys.surplus,
    };
    if given.is_empty() {
        at.fault(Fault::new(
            "arrangements",
            "rule of pumping of some rows",
            "arrangements without a rule",
            "one or more of `mains_hours`, `mains_fill_pct`, `low_mark_pct` and `surplus_pct` for them",
            "add what holds for these rows, or remove the entry",
        ));
        return None;
    }
    Some(RowRule {
        rows: keys.rows.0.clone(),
        given,
    })
}

/// Books the faults of rules that contradict each other or the levels of the tank.
pub(crate) fn check(root: &Placed<PlantKeys>, plant: &Plant) {
    let Some(Placed { at, keys }) = root.keys.pumping.there() else {
        return;
    };
    let entries: Vec<Entry<'_>> = plant
        .pumping
        .rows
        .iter()
        .zip(&keys.row.items)
        .map(|(rule, placed)| Entry { rule, at: &placed.at })
        .collect();
    check_once(&entries, plant);
    check_low_marks(&entries, plant);
    check_fill_levels(&entries, at, plant);
}

/// A `[[pumping.row]]` and its place.
struct Entry<'a> {
    rule: &'a RowRule,
    at: &'a Section,
}

/// The parts of a rule with their keys, and whether it gives them.
fn parts(given: &GivenRule) -> [(&'static str, bool); 4] {
    [
        (row_rule::MAINS_HOURS.key, given.hours.is_some()),
        (row_rule::MAINS_FILL.key, given.fill.is_some()),
        (row_rule::LOW_MARK.key, given.low_mark.is_some()),
        (row_rule::SURPLUS.key, given.surplus.is_some()),
    ]
}

/// Two entries must not give one part for the same row.
fn check_once(entries: &[Entry<'_>], plant: &Plant) {
    let rows = plant.arrangements();
    for (i, later) in entries.iter().enumerate() {
        for (key, is_given) in parts(&later.rule.given) {
            let gives = |rule: &RowRule| parts(&rule.given).contains(&(key, true));
            let both = |rule: &RowRule| {
                let mut rows = rows.iter().filter(|row| rule.holds_for(**row) && later.rule.holds_for(**row));
                rows.next()
            };
            let earlier = entries[..i].iter().enumerate().filter(|(_, earlier)| is_given && gives(earlier.rule));
            let clash = earlier.filter_map(|(number, earlier)| Some((number + 1, both(earlier.rule)?))).next();
            if let Some((number, row)) = clash {
                later.at.fault(Fault::new(
                    key,
                    "rule of pumping of some rows",
                    format!("`{key}` for \"{row}\", which [[pumping.row]] number {number} gives too"),
                    "each part of a rule once for a row",
                    "remove it from one of the two, or name other arrangements",
                ));
            }
        }
    }
}

/// The low mark of a row is below the tank's restart level.
fn check_low_marks(entries: &[Entry<'_>], plant: &Plant) {
    for Entry { rule, at } in entries {
        let restart = plant.tank.restart_level();
        if let Some(low_mark) = rule.given.low_mark.filter(|low_mark| *low_mark >= restart) {
            at.fault(Fault::new(
                row_rule::LOW_MARK.key,
                row_rule::LOW_MARK.quantity,
                row_rule::LOW_MARK.print_si(low_mark),
                format!("below the restart level, {}", tank::RESTART.print_si(restart)),
                "lower `low_mark_pct` or raise `restart_pct` of [tank]",
            ));
        }
    }
}

/// The fill level of every hour is above the low mark, in every row. A fault is booked once at each place.
fn check_fill_levels(entries: &[Entry<'_>], of_all: &Section, plant: &Plant) {
    let mut booked: Vec<*const Section> = Vec::new();
    for row in plant.arrangements() {
        let rule = plant.written_rule(row);
        let lowest = rule.fill.values().copied().fold(f64::INFINITY, f64::min);
        if lowest > rule.low_mark {
            continue;
        }
        let (key, at) = place_of_levels(entries, of_all, row);
        if booked.contains(&std::ptr::from_ref(at)) {
            continue;
        }
        booked.push(std::ptr::from_ref(at));
        let (fill, low_mark) = (
            pumping::MAINS_FILL.print_si(lowest),
            tank::LOW_MARK.print_si(rule.low_mark),
        );
        at.fault(Fault::new(
            key,
            pumping::MAINS_FILL.quantity,
            format!("{fill} in \"{row}\""),
            format!("above the low mark, {low_mark}: below it mains pumps at any hour"),
            "raise `mains_fill_pct` or lower `low_mark_pct`",
        ));
    }
}

/// The key and the place to correct when the levels of a row contradict each other: where its fill level is given, as its
/// default is a full tank.
fn place_of_levels<'a>(entries: &[Entry<'a>], of_all: &'a Section, row: Arrangement) -> (&'static str, &'a Section) {
    let own = |gives: fn(&GivenRule) -> bool| {
        entries
            .iter()
            .find(|entry| gives(&entry.rule.given) && entry.rule.holds_for(row))
            .map(|entry| entry.at)
    };
    let fill = own(|given| given.fill.is_some()).map(|at| (row_rule::MAINS_FILL.key, at));
    let low_mark = || own(|given| given.low_mark.is_some()).map(|at| (row_rule::LOW_MARK.key, at));
    fill.or_else(low_mark).unwrap_or((pumping::MAINS_FILL.key, of_all))
}

/// Warnings about rules that no row uses.
pub(crate) fn warnings(plant: &Plant) -> Vec<Warning> {
    let rows = plant.arrangements();
    let mut out = Vec::new();
    for (i, rule) in plant.pumping.rows.iter().enumerate() {
        if !rows.iter().any(|row| rule.holds_for(*row)) {
            let text = format!(
                "[[pumping.row]] number {} belongs to arrangements that this plant does not have: it is not used",
                i + 1
            );
            out.push(Warning::new("pumping", text));
        }
    }
    let has_surplus = |row: &Arrangement| plant.written_rule(*row).surplus.is_some();
    let with_surplus: Vec<&Arrangement> = rows.iter().filter(|row| has_surplus(row)).collect();
    if !with_surplus.is_empty() && !with_surplus.iter().any(|row| row.traits().has_inverter) {
        let text = "`surplus_pct` needs a grid-tied inverter, and no row that has it has one: it is not used";
        out.push(Warning::new("pumping", text));
    }
    out
}
