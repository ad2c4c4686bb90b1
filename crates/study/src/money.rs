//! The money of a row: tariff and costs of the plant put to the year's energy.

use daylift_grid::{HOURS, MONTHS, MonthHour, Tariff};
use daylift_money::{Bill, RowCosts, Terms};
use daylift_plant::{Arrangement, Plant};
use daylift_supply::{Ledger, NoRecorder, Timeline};

use crate::stages::Stages;

/// Bill of a year's imports by month and hour and its export.
pub(crate) fn bill(tariff: &Tariff, imported_j: &MonthHour<f64>, exported_j: f64, credit_per_j: f64) -> Bill {
    let prices = tariff.prices_per_j();
    let cells = (0_u8..).zip(imported_j).flat_map(|(month, hours)| {
        (0_u8..).zip(hours).map(move |(hour, j)| {
            (
                *j,
                prices.get(usize::from(tariff.rate(month, hour))).copied().unwrap_or(0.0),
            )
        })
    });
    Bill::of_year(cells, exported_j, credit_per_j, tariff.fixed_per_month())
}

/// Bills of the first year that do not depend on the arrangement.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Baseline {
    /// The farm's loads alone, on the grid while it is there.
    loads_only: f64,
    /// Loads and pump on the grid, no array.
    grid_only: f64,
}

impl Baseline {
    pub(crate) fn new(stages: &Stages<'_>) -> Self {
        let tariff = &stages.plant.grid.tariff;
        let grid_only = stages.year(Arrangement::GridOnly, &mut NoRecorder);
        Self {
            loads_only: bill(tariff, &loads_while_up_j(stages), 0.0, 0.0).total(),
            grid_only: bill(tariff, &grid_only.ledger.imported_j, 0.0, 0.0).total(),
        }
    }
}

/// Costs of an arrangement's year.
pub(crate) fn row_costs(plant: &Plant, baseline: &Baseline, arrangement: Arrangement, ledger: &Ledger) -> RowCosts {
    let year = ledger.year();
    let credit_per_j = plant.grid.export.credit_per_j();
    let bill = bill(&plant.grid.tariff, &ledger.imported_j, year.exported_j, credit_per_j);
    RowCosts {
        capital: plant.costs.capital_of(arrangement),
        upkeep_per_year: plant.costs.upkeep_of(arrangement),
        first_year_bill: bill.total(),
        delivered_m3: year.delivered_m3,
        bill_without_array: arrangement.has_array().then_some(baseline.grid_only),
        loads_only_bill: baseline.loads_only,
    }
}

/// Energy of the loads while the utility is there, by month and hour \[J\].
fn loads_while_up_j(stages: &Stages<'_>) -> MonthHour<f64> {
    let schedule = stages.schedule(Arrangement::GridOnly);
    let mut imported_j = [[0.0; HOURS]; MONTHS];
    for span in Timeline::new(&stages.axis, &schedule.phases).spans() {
        if schedule.routes[usize::from(span.route)].utility {
            let loads = &stages.plant.grid.loads;
            imported_j[usize::from(span.month)][usize::from(span.hour)] +=
                loads.mean_power_w(span.start_s, span.length_s, span.month, span.hour) * span.length_s;
        }
    }
    imported_j
}

/// The plant's terms with its array's degradation.
pub(crate) fn terms(plant: &Plant) -> Terms {
    let t = plant.costs.terms;
    Terms {
        years: t.years,
        discount_rate: t.discount_rate,
        price_escalation: t.price_escalation,
        inflation: t.inflation,
        yearly_degradation: plant.array.as_ref().map_or(0.0, |a| a.yearly_degradation),
    }
}
