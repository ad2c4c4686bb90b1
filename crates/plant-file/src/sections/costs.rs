//! `[money]`: capital, upkeep and terms.

use super::plant_file::Parts;
use crate::outline::{CapitalKeys, ExportKind, MoneyKeys, PlantKeys, ReplacementKeys, TermKeys, UpkeepKeys};
use crate::read::{List, Outlined, Part, Placed, Section};
use daylift_plant::{CostLine, Costs, LostValue, Per, Replacement, Terms};
use daylift_units::fields::money;
use daylift_units::{Fault, Id};

/// Capital, upkeep and terms. The inner `None` means that there is no `[money]`.
pub(crate) fn read(root: &Placed<PlantKeys>, has: &Parts) -> Option<Option<Costs>> {
    let has_tariff = root.keys.tariff.is_there();
    let export = root.keys.grid.there().and_then(|grid| grid.keys.export.as_ref());
    let in_use = InUse {
        tariff: has_tariff,
        credit: has_tariff && export.is_some_and(|export| export.kind == ExportKind::Paid),
    };
    root.keys.money.may(|money| {
        let currency = match &root.keys.tariff {
            Part::Absent => read_currency(money),
            Part::There(tariff) => tariff.keys.terms.as_ref().map(|terms| terms.currency.clone()),
            Part::Faulty => None,
        };
        check_units(money, has);
        read_costs(money, in_use, currency)
    })
}

/// Which rising prices apply to the plant.
#[derive(Clone, Copy)]
struct InUse {
    /// Prices of a tariff.
    tariff: bool,
    /// A credit for exported energy.
    credit: bool,
}

fn read_currency(money: &Placed<MoneyKeys>) -> Option<String> {
    let currency = money.keys.currency.clone()?;
    if currency.is_none() {
        money.at.missing_text(&MoneyKeys::CURRENCY.key);
    }
    currency
}

/// Books a fault for each price per unit of something that the plant lacks.
fn check_units(money: &Placed<MoneyKeys>, has: &Parts) {
    let keys = &money.keys;
    check_each(&keys.capital, has, |line| line.per);
    check_each(&keys.upkeep, has, |line| line.per);
    check_each(&keys.replacement, has, |line| line.per);
}

fn check_each<T: Outlined<Read = Option<T>>>(lines: &List<T>, has: &Parts, per: impl Fn(&T) -> Option<Per>) {
    for line in &lines.items {
        let Some(per) = line.keys.as_ref().and_then(&per) else {
            continue;
        };
        let lacking = match per {
            Per::Module | Per::Kwp if !has.array => "[array]",
            Per::InverterKw if !has.inverter => "[inverter]",
            Per::DriveKw if !has.drive => "[drive]",
            Per::BatteryKwh if !has.battery => "[battery]",
            _ => continue,
        };
        line.at.fault(Fault::new(
            "per",
            "unit that the cost is for",
            format!("\"{}\", and the file has no {lacking}", per.id()),
            "a unit of something that the plant has",
            format!("add {lacking}, choose another `per`, or remove the cost"),
        ));
    }
}

fn read_costs(money: &Placed<MoneyKeys>, in_use: InUse, currency: Option<String>) -> Option<Costs> {
    let keys = &money.keys;
    let capital = lines(&keys.capital, |line: &CapitalKeys| CostLine {
        item: line.item.clone(),
        cost: line.cost,
        per: line.per.unwrap_or(Per::One),
        owned: owned(line.owned),
        applies_to: line.applies_to.0.clone(),
    });
    let upkeep = lines(&keys.upkeep, |line: &UpkeepKeys| CostLine {
        item: line.item.clone(),
        cost: line.cost_per_year,
        per: line.per.unwrap_or(Per::One),
        // What the farm owns needs upkeep, too.
        owned: 0.0,
        applies_to: line.applies_to.0.clone(),
    });
    let replacements = lines(&keys.replacement, |line: &ReplacementKeys| Replacement {
        every_years: line.every_years,
        line: CostLine {
            item: line.item.clone(),
            cost: line.cost,
            per: line.per.unwrap_or(Per::One),
            owned: owned(line.owned),
            applies_to: line.applies_to.0.clone(),
        },
    });
    let terms = keys.terms.as_ref()?;
    Some(Costs {
        currency: currency?,
        capital: capital?,
        upkeep: upkeep?,
        replacements: replacements?,
        terms: Terms {
            years: terms.years,
            discount_rate: terms.discount_rate,
            // Without a tariff no price of energy rises, so the default is not listed.
            price_escalation: if in_use.tariff {
                terms.price_escalation.value(&money.at)
            } else {
                terms.price_escalation.value_unlisted()
            },
            export_credit_escalation: credit_escalation(terms, &money.at, in_use),
            inflation: terms.inflation,
        },
        lost: LostValue {
            water_per_m3: terms.lost_water_per_m3,
            load_per_j: terms.lost_load_per_j,
        },
    })
}

fn owned(given: Option<f64>) -> f64 {
    given.or(money::OWNED.preset_si()).unwrap_or_default()
}

/// Yearly rise of the export credit. The default is listed only if a credit is paid; a given rise without a credit is a
/// warning.
fn credit_escalation(terms: &TermKeys, at: &Section, in_use: InUse) -> f64 {
    let rise = &terms.export_credit_escalation;
    if in_use.credit {
        return rise.value(at);
    }
    if rise.given().is_some() {
        let text = "no export is paid: nothing uses `export_credit_escalation_pct`";
        at.book().warn("money", text);
    }
    rise.value_unlisted()
}

/// Cost lines; `None` if one of them has faults.
fn lines<T: Outlined<Read = Option<T>>, L>(list: &List<T>, line: impl Fn(&T) -> L) -> Option<Vec<L>> {
    list.items.iter().map(|placed| placed.keys.as_ref().map(&line)).collect()
}
