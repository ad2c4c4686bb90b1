//! The money of a row: the plant's tariff and costs applied to the year's energy.

use daylift_money::{Bill, Cashflow, EnergyCost, RowCosts, Terms};
use daylift_plant::{Arrangement, LostValue, Plant};
use daylift_supply::{Flow, Ledger, MonthBook, ShortfallCause};
use daylift_units::{Hour, Month, MonthHour};

use crate::prices::Prices;
use crate::stages::Stages;
use crate::year::ArrangementYear;

/// Bill of a year's imports and exports by month and hour; 0 without a tariff.
pub(crate) fn bill(plant: &Plant, imported_j: &MonthHour<f64>, exported_j: &MonthHour<f64>) -> Bill {
    let export = &plant.grid.export;
    let Some(tariff) = &plant.grid.tariff else {
        return Bill::default();
    };
    Bill::of_year(
        cells(imported_j, |month, hour| tariff.price_per_j(month, hour)),
        cells(exported_j, |month, hour| export.credit_per_j(month, hour)),
        tariff.fixed_per_month(),
    )
}

/// Energy \[J\] of every month and hour of the day, with its price per J.
fn cells(energy_j: &MonthHour<f64>, price: impl Fn(Month, Hour) -> f64) -> impl Iterator<Item = (f64, f64)> {
    energy_j.iter().flat_map(move |(month, hours)| {
        let priced = hours.iter().map(|(hour, j)| (*j, price(month, hour)));
        priced.collect::<Vec<_>>()
    })
}

/// First year's bill of the farm's loads alone, supplied by the grid while it is on. It is the same in every arrangement.
pub(crate) fn loads_only_bill(stages: &Stages<'_>) -> f64 {
    bill(stages.plant, &loads_while_grid_is_on_j(stages), &MonthHour::default()).total()
}

/// Costs of an arrangement's year.
pub(crate) fn row_costs(plant: &Plant, loads_only_bill: f64, arrangement: Arrangement, ledger: &Ledger) -> RowCosts {
    let year = ledger.year();
    let (costs, has) = (plant.costs.as_ref(), plant.quantities(arrangement));
    let (fuel, upkeep) = match &plant.beside.generator {
        Some(g) if arrangement.generator => (
            year[Flow::Fuel] * g.fuel_price_per_m3,
            year[Flow::GeneratorRunning] * g.upkeep_per_s,
        ),
        _ => (0.0, 0.0),
    };
    RowCosts {
        capital: costs.map_or(0.0, |costs| costs.capital_of(arrangement, &has)),
        upkeep_per_year: costs.map_or(0.0, |costs| costs.upkeep_of(arrangement, &has)) + upkeep,
        energy: EnergyCost {
            bill: bill(plant, &ledger.imported_j, &ledger.exported_j),
            fuel,
        },
        missing_per_year: lost(plant).of(shortfall_m3(&year), year[Flow::Unserved]),
        replacements: costs.map_or_else(Vec::new, |costs| costs.replacements_of(arrangement, &has)),
        delivered_m3: year[Flow::Delivered],
        has_array: arrangement.has_array(),
        loads_only_bill,
    }
}

/// Whether a row pays with the values of what is missing, and would not pay without them. To pay is to have a net present
/// value above 0.
pub(crate) fn pays_by_value_only(plant: &Plant, year: &ArrangementYear, reference: &ArrangementYear) -> bool {
    let Some(terms) = terms(plant).filter(|_| !lost(plant).is_none()) else {
        return false;
    };
    let without = |costs: &RowCosts| RowCosts {
        missing_per_year: 0.0,
        ..costs.clone()
    };
    let npv = |reference: &RowCosts, row: &RowCosts| Cashflow::against(reference, row, &terms).npv();
    npv(&reference.costs, &year.costs) > 0.0 && npv(&without(&reference.costs), &without(&year.costs)) <= 0.0
}

/// Water that is missing in a year \[m³\].
fn shortfall_m3(year: &MonthBook) -> f64 {
    ShortfallCause::ALL.into_iter().map(|cause| year[Flow::Shortfall(cause)]).sum()
}

/// Energy of the loads while the grid is on, by month and hour of the day \[J\].
fn loads_while_grid_is_on_j(stages: &Stages<'_>) -> MonthHour<f64> {
    let timetable = stages.timetable(Arrangement::GRID_ONLY);
    let mut imported_j = MonthHour::default();
    for span in timetable.timeline.spans() {
        if timetable.routes[span.route].utility {
            let loads = &stages.plant.grid.loads;
            imported_j[span.month][span.hour] +=
                loads.mean_power_w(span.start_s, span.length_s(), span.month, span.hour) * span.length_s();
        }
    }
    imported_j
}

/// The plant's terms of the money calculation, with its array's degradation; `None` if prices are missing, as nothing can
/// then be compared.
pub(crate) fn terms(plant: &Plant) -> Option<Terms> {
    let t = plant.costs.as_ref()?.terms;
    Prices::of(plant).are_complete().then(|| Terms {
        years: t.years,
        discount_rate: t.discount_rate,
        price_escalation: t.price_escalation,
        export_credit_escalation: t.export_credit_escalation,
        inflation: t.inflation,
        fuel_escalation: plant.beside.generator.as_ref().map_or(0.0, |g| g.fuel_escalation),
        yearly_degradation: plant.array.as_ref().map_or(0.0, |a| a.yearly_degradation),
    })
}

/// Value of what is missing; without costs there is none.
pub(crate) fn lost(plant: &Plant) -> LostValue {
    plant.costs.as_ref().map_or_else(LostValue::default, |costs| costs.lost)
}

/// Years of the money calculation; 0 without costs.
pub(crate) fn years(plant: &Plant) -> u32 {
    plant.costs.as_ref().map_or(0, |costs| costs.terms.years)
}
