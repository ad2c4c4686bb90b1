//! `[money]`.

use daylift_units::fields::money;

use super::keys::{Typed, choice, choices, count, frame, group, label, number, record, sections, text};
use crate::read::{Group, List, Used, Words};
use daylift_plant::{CostScope, Per};

frame! {
    /// `[money]`: costs, and the rates for the money calculation. Without it there are no net present value, no internal
    /// rate of return and no payback.
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

/// What the price of a line is for.
const fn per(quantity: &'static str) -> Typed<Option<Per>> {
    choice::<Per>("per", quantity).optional().usually("one", "one price for the whole line")
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
        lost_water_per_m3: Option<f64> = number(&money::LOST_WATER).optional();
        lost_load_per_j: Option<f64> = number(&money::LOST_LOAD).optional();
    }

    /// `[[money.capital]]`: a cost that is paid once, at the start: `cost` × what the arrangement has of `per`, less
    /// what the farm owns.
    CapitalKeys {
        item: String = label("item", "name of the cost item");
        cost: f64 = number(&money::COST);
        per: Option<Per> = per("unit that `cost` is for");
        owned: Option<f64> = number(&money::OWNED).optional();
        applies_to: Words<CostScope> = choices("arrangements", "arrangements that have this cost");
    }

    /// `[[money.upkeep]]`: a cost that is paid every year: `cost_per_year` × what the arrangement has of `per`.
    UpkeepKeys {
        item: String = label("item", "name of the cost item");
        cost_per_year: f64 = number(&money::COST_PER_YEAR);
        per: Option<Per> = per("unit that `cost_per_year` is for");
        applies_to: Words<CostScope> = choices("arrangements", "arrangements that have this cost");
    }

    /// `[[money.replacement]]`: a cost that is paid again after a number of years: `cost` × what the arrangement has of
    /// `per`, less what the farm owns.
    ReplacementKeys {
        every_years: u32 = count(&money::EVERY_YEARS);
        item: String = label("item", "name of the cost item");
        cost: f64 = number(&money::COST);
        per: Option<Per> = per("unit that `cost` is for");
        owned: Option<f64> = number(&money::OWNED).optional();
        applies_to: Words<CostScope> = choices("arrangements", "arrangements that have this cost");
    }
}
