//! The money of a row: tariff and costs of the plant put to the year's energy.

use daylift_grid::{HOURS, MONTHS, MonthHour, Tariff};
use daylift_money::{Bill, RowCosts, Terms};
use daylift_plant::{Arrangement, Plant};
use daylift_supply::routes::{ScheduleInputs, schedule};
use daylift_supply::{Ledger, Timeline};

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

/// Costs of an arrangement's year.
pub(crate) fn row_costs(stages: &Stages<'_>, arrangement: Arrangement, ledger: &Ledger) -> RowCosts {
    let plant = stages.plant;
    let year = ledger.year();
    let export = plant.grid.export;
    let bill = bill(
        &plant.grid.tariff,
        &ledger.imported_j,
        year.exported_j,
        export.credit_per_j(),
    );
    RowCosts {
        capital: plant.costs.capital_of(arrangement),
        upkeep_per_year: plant.costs.upkeep_of(arrangement),
        first_year_bill: bill.total(),
        delivered_m3: year.delivered_m3,
        has_array: arrangement.has_array(),
        loads_only_bill: loads_only_bill(stages),
    }
}

/// What the farm would be billed without pump and plant: its loads on the grid while the grid is there.
fn loads_only_bill(stages: &Stages<'_>) -> f64 {
    let plant = stages.plant;
    let inputs = ScheduleInputs {
        outages: &plant.grid.outages,
        pumping: plant.pumping,
        switch_times: plant.design.switch_times,
        reconnection_s: 0.0,
    };
    let schedule = schedule(Arrangement::GridOnly, &inputs);
    let mut imported_j = [[0.0; HOURS]; MONTHS];
    for span in Timeline::new(&stages.axis, &schedule.phases).spans() {
        if schedule.routes[usize::from(span.route)].utility {
            imported_j[usize::from(span.month)][usize::from(span.hour)] +=
                plant.grid.loads.power_w(span.month, span.hour) * span.length_s;
        }
    }
    bill(&plant.grid.tariff, &imported_j, 0.0, 0.0).total()
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
