//! `[money]`: capital, upkeep and terms.

use crate::outline::{CapitalKeys, ExportKind, MoneyKeys, PlantKeys, ReplacementKeys, TermKeys, UpkeepKeys};
use crate::read::{List, Outlined, Placed, Section};
use daylift_plant::{CostLine, Costs, Replacement, Terms};

/// Capital, upkeep and terms; also the currency, if there is no tariff to name it.
pub(crate) fn read(root: &Placed<PlantKeys>, has_tariff: bool) -> (Option<Costs>, Option<String>) {
    let Some(money) = root.keys.money.there() else {
        return (None, None);
    };
    let currency = if has_tariff { None } else { read_currency(money) };
    let grid = root.keys.grid.there().and_then(|grid| grid.keys.export.as_ref());
    let in_use = InUse {
        tariff: has_tariff,
        credit: grid.is_some_and(|export| export.kind == ExportKind::Paid),
    };
    (read_costs(money, in_use), currency)
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

fn read_costs(money: &Placed<MoneyKeys>, in_use: InUse) -> Option<Costs> {
    let keys = &money.keys;
    let capital = lines(&keys.capital, |line: &CapitalKeys| CostLine {
        item: line.item.clone(),
        cost: line.cost,
        applies_to: line.applies_to.0.clone(),
    });
    let upkeep = lines(&keys.upkeep, |line: &UpkeepKeys| CostLine {
        item: line.item.clone(),
        cost: line.cost_per_year,
        applies_to: line.applies_to.0.clone(),
    });
    let replacements = lines(&keys.replacement, |line: &ReplacementKeys| Replacement {
        every_years: line.every_years,
        line: CostLine {
            item: line.item.clone(),
            cost: line.cost,
            applies_to: line.applies_to.0.clone(),
        },
    });
    let terms = keys.terms.as_ref()?;
    Some(Costs {
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
    })
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
