//! `[money]`: capital, upkeep and terms.

use crate::outline::{CapitalKeys, MoneyKeys, PlantKeys, ReplacementKeys, UpkeepKeys};
use crate::read::{List, Outlined, Stand};
use daylift_plant::{CostLine, Costs, Replacement, Terms};

/// Capital, upkeep and terms; and the currency where no tariff names it.
pub(crate) fn read(root: &Stand<PlantKeys>, has_tariff: bool) -> (Option<Costs>, Option<String>) {
    let Some(money) = root.keys.money.there() else {
        return (None, None);
    };
    let currency = if has_tariff { None } else { read_currency(money) };
    (read_costs(money, has_tariff), currency)
}

fn read_currency(money: &Stand<MoneyKeys>) -> Option<String> {
    let currency = money.keys.currency.clone()?;
    if currency.is_none() {
        money.at.missing_text(&MoneyKeys::CURRENCY.key);
    }
    currency
}

fn read_costs(money: &Stand<MoneyKeys>, has_tariff: bool) -> Option<Costs> {
    let keys = &money.keys;
    let capital = lines(&keys.capital, |line: &CapitalKeys| CostLine {
        item: line.item.clone(),
        cost: line.cost,
        bearers: line.bearers.0.clone(),
    });
    let upkeep = lines(&keys.upkeep, |line: &UpkeepKeys| CostLine {
        item: line.item.clone(),
        cost: line.cost_per_year,
        bearers: line.bearers.0.clone(),
    });
    let replacements = lines(&keys.replacement, |line: &ReplacementKeys| Replacement {
        every_years: line.every_years,
        line: CostLine {
            item: line.item.clone(),
            cost: line.cost,
            bearers: line.bearers.0.clone(),
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
            // Without a tariff no price of energy rises: what is not given is not listed.
            price_escalation: if has_tariff {
                terms.price_escalation.value(&money.at)
            } else {
                terms.price_escalation.value_untold()
            },
            inflation: terms.inflation,
        },
    })
}

/// Lines of cost; `None` when one of them has faults.
fn lines<T: Outlined<Read = Option<T>>, L>(list: &List<T>, line: impl Fn(&T) -> L) -> Option<Vec<L>> {
    list.items.iter().map(|stand| stand.keys.as_ref().map(&line)).collect()
}
