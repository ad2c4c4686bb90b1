//! Workings of money: bill, payback, net present value and cost of water.

use daylift_grid::Tariff;
use daylift_money::{Terms, annuity_factor, npv};
use daylift_supply::Flow;

use super::remark::of_service;
use super::{Case, Symbol, Working};
use crate::money::{bill, lost, terms};
use crate::prices::Prices;

pub(super) fn workings(case: &Case<'_>) -> Vec<Working> {
    let mut out = Vec::new();
    if Prices::of(case.stages.plant).bill {
        out.push(of_service(case, false, first_year_bill(case)));
    }
    let Some(terms) = terms(case.stages.plant) else {
        return out;
    };
    if case.year.arrangement != case.reference.arrangement {
        out.extend(payback(case).map(|working| of_service(case, true, working)));
        out.extend(net_present_value(case, &terms).map(|working| of_service(case, true, working)));
    }
    out.extend(cost_per_m3(case, &terms).map(|working| of_service(case, false, working)));
    out
}

impl Case<'_> {
    pub(super) fn money(&self, symbol: &str, meaning: &str, value: f64) -> Symbol {
        Symbol::new(symbol, meaning, value, self.currency())
    }

    pub(super) fn currency(&self) -> &str {
        self.stages.plant.currency()
    }
}

fn first_year_bill(case: &Case<'_>) -> Working {
    let tariff = case.stages.plant.grid.tariff.as_ref();
    let fixed_per_month = tariff.map_or(0.0, Tariff::fixed_per_month);
    let ledger = &case.year.result.ledger;
    let parts = bill(case.stages.plant, &ledger.imported_j, &ledger.exported_j);
    let paid_kwh = case.row.array_kwh.of(Flow::ExportedPaid);
    let mean_credit = if paid_kwh > 0.0 {
        parts.export_credit / paid_kwh
    } else {
        0.0
    };
    let imported_kwh = case.row.grid_kwh.of(Flow::Imported);
    let mean_price = if imported_kwh > 0.0 {
        parts.energy_charge / imported_kwh
    } else {
        0.0
    };
    let per_kwh = format!("{} per kWh", case.currency());
    Working {
        name: "first-year-bill".into(),
        comparable: true,
        title: format!("Bill of the first year, {}", case.name()),
        value: case.row.money.first_year_bill,
        unit: case.currency().into(),
        formula: "M * p + 12 * F - X * c".into(),
        symbols: vec![
            Symbol::new("M", "imported", imported_kwh, "kWh"),
            Symbol::new(
                "p",
                "mean import price, each kWh at the price of its hour",
                mean_price,
                &per_kwh,
            ),
            case.money("F", "fixed charge per month", fixed_per_month),
            Symbol::new("X", "paid export", paid_kwh, "kWh"),
            Symbol::new(
                "c",
                "mean export credit, each kWh at the credit of its hour",
                mean_credit,
                &per_kwh,
            ),
        ],
        source: "the tariff of the plant file".into(),
        caution: "without taxes, demand charges and price blocks that are not in the plant file".into(),
    }
}

fn payback(case: &Case<'_>) -> Option<Working> {
    let value = case.row.money.payback_years?;
    // A row that costs no more than the reference pays back at once, so there is no quotient to show.
    if value <= 0.0 {
        return None;
    }
    let (costs, reference) = (&case.year.costs, &case.reference.costs);
    let values = !lost(case.stages.plant).is_none();
    let missing = || {
        [
            case.money(
                "M0",
                "value of a year's missing water and load, today's way",
                reference.missing_per_year,
            ),
            case.money("M", "value of a year's missing water and load", costs.missing_per_year),
        ]
    };
    let mut symbols = vec![
        case.money("C", "capital", costs.capital),
        case.money("C0", "capital, today's way", reference.capital),
        case.money("B0", "first year's bill, today's way", reference.energy.bill.total()),
        case.money("B", "first year's bill", costs.energy.bill.total()),
        case.money("U0", "first year's upkeep, today's way", reference.upkeep_per_year),
        case.money("U", "first year's upkeep", costs.upkeep_per_year),
        case.money("F0", "first year's fuel, today's way", reference.energy.fuel),
        case.money("F", "first year's fuel", costs.energy.fuel),
    ];
    symbols.extend(values.then(missing).into_iter().flatten());
    Some(Working {
        name: "payback".into(),
        comparable: true,
        title: format!(
            "Simple payback of {} compared with {}",
            case.name(),
            case.reference_name()
        ),
        value,
        unit: "years".into(),
        formula: if values {
            "(C - C0) / (B0 - B + U0 - U + F0 - F + M0 - M)".into()
        } else {
            "(C - C0) / (B0 - B + U0 - U + F0 - F)".into()
        },
        symbols,
        source: "a definition; no discounting, no price rises, no degradation, no replacements".into(),
        caution: "it ignores everything after the capital is recovered: see npv".into(),
    })
}

fn net_present_value(case: &Case<'_>, terms: &Terms) -> Option<Working> {
    let value = case.row.money.npv?;
    let (costs, reference) = (&case.year.costs, &case.reference.costs);
    let pairs: Vec<_> = reference.years(reference, terms).zip(costs.years(reference, terms)).collect();
    let worth = |of: &dyn Fn(usize) -> f64| {
        let flows: Vec<f64> = std::iter::once(0.0).chain((0..pairs.len()).map(of)).collect();
        npv(terms.discount_rate, &flows)
    };
    let charges = worth(&|i| pairs[i].0.charges - pairs[i].1.charges);
    let credit = worth(&|i| pairs[i].1.export_credit - pairs[i].0.export_credit);
    let upkeep = worth(&|i| pairs[i].0.upkeep - pairs[i].1.upkeep);
    let fuel = worth(&|i| pairs[i].0.fuel - pairs[i].1.fuel);
    let replaced = worth(&|i| pairs[i].0.replacements - pairs[i].1.replacements);
    let values = !lost(case.stages.plant).is_none();
    let missing = worth(&|i| pairs[i].0.missing - pairs[i].1.missing);
    let mut symbols = npv_symbols(case, [charges, credit, fuel, upkeep, replaced]);
    symbols.extend(values.then(|| {
        case.money(
            "V",
            "value of water and load that are no longer missing, discounted: it rises with inflation",
            missing,
        )
    }));
    Some(Working {
        name: "npv".into(),
        comparable: true,
        title: format!(
            "Net present value of {} compared with {} over {} years",
            case.name(),
            case.reference_name(),
            terms.years
        ),
        value,
        unit: case.currency().into(),
        formula: if values {
            "S + X + F + T + R + V - (C - C0)".into()
        } else {
            "S + X + F + T + R - (C - C0)".into()
        },
        symbols,
        source:
            "cash flow of year n divided by (1 + rate)^n, the capital at time 0 (Brealey & Myers, Principles of Corporate Finance)"
                .into(),
        caution: format!(
            "at a discount rate of {:.1}%, prices rising {:.1}%, the export credit {:.1}% and fuel {:.1}% a year, which are uncertain, and an array that loses {:.1}% a year; replacements count only if the plant file lists them or upkeep includes them",
            terms.discount_rate * 100.0,
            terms.price_escalation * 100.0,
            terms.export_credit_escalation * 100.0,
            terms.fuel_escalation * 100.0,
            terms.yearly_degradation * 100.0
        ),
    })
}

/// Symbols of the net present value without that of what is missing; `discounted`: charges, credit, fuel, upkeep and
/// replacements.
fn npv_symbols(case: &Case<'_>, discounted: [f64; 5]) -> Vec<Symbol> {
    let [charges, credit, fuel, upkeep, replaced] = discounted;
    let (costs, reference) = (&case.year.costs, &case.reference.costs);
    vec![
        case.money(
            "S",
            "savings on the utility's charges, discounted: they rise with prices; where positive, they shrink as the array ages",
            charges,
        ),
        case.money(
            "X",
            "additional export credit, discounted: it rises at its own rate and shrinks as the array ages",
            credit,
        ),
        case.money(
            "F",
            "savings on fuel, discounted: they rise with the fuel price; where positive, they shrink as the array ages",
            fuel,
        ),
        case.money("T", "savings on upkeep, discounted: they rise with inflation", upkeep),
        case.money("R", "savings on replacements, discounted", replaced),
        case.money("C", "capital", costs.capital),
        case.money("C0", "capital, today's way", reference.capital),
    ]
}

fn cost_per_m3(case: &Case<'_>, terms: &Terms) -> Option<Working> {
    let value = case.row.money.cost_per_m3?;
    let costs = &case.year.costs;
    let yearly = costs.years(&case.reference.costs, terms).map(|year| year.total() - year.loads_only_bill);
    let running = npv(
        terms.discount_rate,
        &std::iter::once(0.0).chain(yearly).collect::<Vec<f64>>(),
    );
    let factor = annuity_factor(terms.discount_rate, terms.years);
    Some(Working {
        name: "cost-per-m3".into(),
        comparable: true,
        title: format!("Cost of a cubic metre over {} years, {}", terms.years, case.name()),
        value,
        unit: format!("{} per m³", case.currency()),
        formula: "(C + K) / (W * a)".into(),
        symbols: vec![
            case.money("C", "capital", costs.capital),
            case.money(
                "K",
                "upkeep, fuel, replacements and bills less the bills of the loads alone, discounted",
                running,
            ),
            Symbol::new("W", "delivered in a year", costs.delivered_m3, "m³"),
            Symbol::new(
                "a",
                "annuity factor, the sum of (1 + rate)^−n: the inverse of the capital recovery factor",
                factor,
                "",
            ),
        ],
        source: "levelised cost of Short, Packey & Holt (1995), NREL/TP-462-5173".into(),
        caution: "existing equipment (borehole, pump, tank) costs nothing here unless the plant file lists it; costs of a generator or battery for the loads are included"
            .into(),
    })
}
