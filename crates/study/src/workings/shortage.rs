//! Workings of the worst shortage: what is missing in a run of short days, in m³ and in days of demand.

use super::{Case, Symbol, Working};
use crate::shortage::Run;

pub(super) fn workings(case: &Case<'_>) -> Vec<Working> {
    let worst = Run::worst(&case.year.result.ledger.days);
    worst.map_or_else(Vec::new, |run| vec![in_m3(case, &run), in_days(case, &run)])
}

fn in_m3(case: &Case<'_>, run: &Run) -> Working {
    Working {
        name: "worst-shortage".into(),
        comparable: true,
        title: format!(
            "Worst shortage: most water missing in a run of short days, {}; {}",
            case.name(),
            run.length()
        ),
        value: run.missing_m3,
        unit: "m³".into(),
        formula: "D - W".into(),
        symbols: vec![
            Symbol::new("D", "demand in these days", run.demand_m3, "m³"),
            Symbol::new("W", "delivered in these days", run.demand_m3 - run.missing_m3, "m³"),
        ],
        source: "a definition: a day is short when more than 1 % of its demand is missing".into(),
        caution: "the weather of another year, or outages at other times, can make it worse".into(),
    }
}

fn in_days(case: &Case<'_>, run: &Run) -> Working {
    Working {
        name: "worst-shortage-in-days".into(),
        comparable: true,
        title: format!("Worst shortage in days of demand, {}; {}", case.name(), run.length()),
        value: run.days_of_demand(),
        unit: "days".into(),
        formula: "M / (D / n)".into(),
        symbols: vec![
            Symbol::new("M", "missing in these days", run.missing_m3, "m³"),
            Symbol::new("D", "demand in these days", run.demand_m3, "m³"),
            Symbol::new("n", "number of these days", run.days_f64(), "days"),
        ],
        source: "a definition".into(),
        caution: "a little missing on each of many days adds up to the same as a few days without water: see the longest dry spell"
            .into(),
    }
}
