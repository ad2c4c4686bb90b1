//! `[money]`.

use daylift_units::fields::money;

use super::keys::{Typed, choices, count, frame, group, label, number, record, sections, text};
use crate::read::{Group, List, Used, Words};
use daylift_plant::CostScope;

frame! {
    /// `[money]`: costs, and the rates for the money calculation.
    MoneyKeys {
        currency: Option<String> = MoneyKeys::CURRENCY.optional();
        terms: Group<TermKeys> = group();
        capital: List<CapitalKeys> = sections("capital", "cost").optional();
        upkeep: List<UpkeepKeys> = sections("upkeep", "cost").optional();
        replacement: List<ReplacementKeys> = sections("replacement", "replacement").optional();
    }
}

impl MoneyKeys {
    /// The currency, which is needed where no tariff names it.
    pub(crate) const CURRENCY: Typed<String> = text(
        "currency",
        "currency",
        "a text such as \"USD\"; needed if there is no [tariff]",
    );
}

record! {
    /// Years and rates of the money calculation.
    TermKeys {
        years: u32 = count(&money::YEARS);
        discount_rate: f64 = number(&money::DISCOUNT);
        // Without a tariff no price of energy rises.
        price_escalation: Used<f64> = number(&money::ESCALATION).where_used();
        // Where no export is paid, no credit rises.
        export_credit_escalation: Used<f64> = number(&money::EXPORT_CREDIT_ESCALATION).where_used();
        inflation: f64 = number(&money::INFLATION);
    }

    /// `[[money.capital]]`: a cost that is paid once, at the start.
    CapitalKeys {
        item: String = label("item", "name of the cost item");
        cost: f64 = number(&money::COST);
        applies_to: Words<CostScope> = choices("arrangements", "arrangements that have this cost");
    }

    /// `[[money.upkeep]]`: a cost that is paid every year.
    UpkeepKeys {
        item: String = label("item", "name of the cost item");
        cost_per_year: f64 = number(&money::COST_PER_YEAR);
        applies_to: Words<CostScope> = choices("arrangements", "arrangements that have this cost");
    }

    /// `[[money.replacement]]`: a cost that is paid again after a number of years.
    ReplacementKeys {
        every_years: u32 = count(&money::EVERY_YEARS);
        item: String = label("item", "name of the cost item");
        cost: f64 = number(&money::COST);
        applies_to: Words<CostScope> = choices("arrangements", "arrangements that have this cost");
    }
}
