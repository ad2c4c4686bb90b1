//! `[money]`: capital, upkeep and terms.

use daylift_plant::{Bearer, CostLine, Costs, Replacement, Terms};
use daylift_units::Field;
use daylift_units::fields::money;

use crate::read::Section;

/// Capital, upkeep and terms; and the currency where no tariff names it.
pub(crate) fn read(root: &Section<'_>, has_tariff: bool) -> (Option<Costs>, Option<String>) {
    let Some(section) = root.required_table("money", "money") else {
        return (None, None);
    };
    let currency = if has_tariff {
        None
    } else {
        section.text(
            "currency",
            "currency",
            "a text such as \"USD\", as there is no [tariff]",
        )
    };
    let costs = read_costs(&section, has_tariff);
    section.finish();
    (costs, currency)
}

fn read_costs(section: &Section<'_>, has_tariff: bool) -> Option<Costs> {
    let years = section.count(&money::YEARS);
    let rates = (
        section.number(&money::DISCOUNT),
        // Without a tariff no price of energy rises: what is not given is not told of.
        if has_tariff || section.has(money::ESCALATION.key) {
            section.number(&money::ESCALATION)
        } else {
            money::ESCALATION.preset_si()
        },
        section.number(&money::INFLATION),
    );
    let capital = read_lines(section, "capital", &money::COST);
    let upkeep = read_lines(section, "upkeep", &money::COST_PER_YEAR);
    let replacements = read_replacements(section);
    Some(Costs {
        capital: capital?,
        upkeep: upkeep?,
        replacements: replacements?,
        terms: Terms {
            years: years?,
            discount_rate: rates.0?,
            price_escalation: rates.1?,
            inflation: rates.2?,
        },
    })
}

fn read_lines(section: &Section<'_>, key: &str, cost: &Field) -> Option<Vec<CostLine>> {
    let lines: Vec<Option<CostLine>> = section
        .tables(key, "cost")
        .into_iter()
        .map(|line| {
            let read = read_line(&line, cost);
            line.finish();
            read
        })
        .collect();
    lines.into_iter().collect()
}

fn read_replacements(section: &Section<'_>) -> Option<Vec<Replacement>> {
    let lines: Vec<Option<Replacement>> = section
        .tables("replacement", "replacement")
        .into_iter()
        .map(|section| {
            let every_years = section.count(&money::EVERY_YEARS);
            let line = read_line(&section, &money::COST);
            section.finish();
            Some(Replacement {
                every_years: every_years?,
                line: line?,
            })
        })
        .collect();
    lines.into_iter().collect()
}

fn read_line(section: &Section<'_>, cost: &Field) -> Option<CostLine> {
    let item = section.text("item", "what is paid for", "a text");
    let cost = section.number(cost);
    let bearers = section.choices("arrangements", "arrangements that bear the cost", &Bearer::all());
    Some(CostLine {
        item: item?,
        cost: cost?,
        bearers: bearers?,
    })
}
