//! A year's account made into a row of the answer.

use daylift_money::{Cashflow, cost_per_m3};
use daylift_supply::{LossCause, MonthBook, YearResult};
use daylift_units::constants::{HOUR_S, KWH_J, LITRES_PER_M3};

use crate::answer::{
    ArrayEnergy, BatteryEnergy, Generator, GridEnergy, Hours, LoadEnergy, Lost, Money, PumpEnergy, Row, WaterVolume,
    WorstResidual,
};
use crate::money::terms;
use crate::stages::Stages;
use crate::year::ArrangementYear;

/// Share of the array's energy, less conversion and cables, that was used or paid for.
///
/// (to pump + to loads + to battery + exported paid) ÷ (available − conversion − cables); `None` without sun or array.
#[must_use]
pub fn array_use(energy: &ArrayEnergy) -> Option<f64> {
    let used_up: f64 = LossCause::OF_USED.iter().map(|c| energy.lost.of(*c)).sum();
    let base = energy.available - used_up;
    (base > 0.0).then(|| (energy.to_pump + energy.to_loads + energy.to_battery + energy.exported_paid) / base)
}

/// The row of an arrangement against the reference.
#[must_use]
pub fn row(stages: &Stages<'_>, year: &ArrangementYear, reference: &ArrangementYear) -> Row {
    let sum = year.result.ledger.year();
    let array_kwh = array_energy(&sum);
    Row {
        id: year.arrangement,
        array_use: if year.arrangement.has_array() {
            array_use(&array_kwh)
        } else {
            None
        },
        grid_kwh: GridEnergy {
            imported: sum.grid.given_j / KWH_J,
            exported: sum.exported_j / KWH_J,
        },
        pump_kwh: PumpEnergy {
            array: sum.array_to_pump_j / KWH_J,
            grid: sum.grid.to_pump_j / KWH_J,
            battery: sum.battery.to_pump_j / KWH_J,
            generator: sum.generator.to_pump_j / KWH_J,
        },
        load_kwh: LoadEnergy {
            demand: sum.load_j / KWH_J,
            array: sum.array_to_loads_j / KWH_J,
            grid: sum.grid.to_loads_j / KWH_J,
            battery: sum.battery.to_loads_j / KWH_J,
            generator: sum.generator.to_loads_j / KWH_J,
            unserved: sum.unserved_j / KWH_J,
        },
        battery_kwh: BatteryEnergy {
            from_array: sum.array_to_battery_j / KWH_J,
            from_grid: sum.grid.to_battery_j / KWH_J,
            discharged: sum.battery.given_j / KWH_J,
            stored_change: year.result.battery_stored_j() / KWH_J,
        },
        generator: Generator {
            kwh: sum.generator.given_j / KWH_J,
            hours: sum.generator_s / HOUR_S,
            fuel_l: sum.fuel_m3 * LITRES_PER_M3,
        },
        water_m3: water(&sum, &year.result),
        hours: Hours {
            outage: sum.outage_s / HOUR_S,
            pumping: sum.pumping_s / HOUR_S,
            pumping_in_outage: sum.pumping_in_outage_s / HOUR_S,
        },
        money: money(stages, year, reference),
        worst_residual: WorstResidual {
            energy: year.result.residuals.energy,
            water: year.result.residuals.water,
            hours: year.result.residuals.hours,
        },
        array_kwh,
    }
}

/// A month's or a year's account of the array's energy.
#[must_use]
pub fn array_energy(sum: &MonthBook) -> ArrayEnergy {
    ArrayEnergy {
        available: sum.available_j / KWH_J,
        to_pump: sum.array_to_pump_j / KWH_J,
        to_loads: sum.array_to_loads_j / KWH_J,
        to_battery: sum.array_to_battery_j / KWH_J,
        exported_paid: sum.exported_paid_j / KWH_J,
        exported_unpaid: (sum.exported_j - sum.exported_paid_j) / KWH_J,
        lost: Lost(sum.lost_j.map(|j| j / KWH_J)),
    }
}

fn water(sum: &MonthBook, result: &YearResult) -> WaterVolume {
    WaterVolume {
        demand: sum.demand_m3,
        pumped: sum.pumped_m3,
        rain: 0.0,
        delivered: sum.delivered_m3,
        shortfall: sum.shortfall_m3(),
        overflow: 0.0,
        evaporated: 0.0,
        stored_change: result.stored_m3(),
    }
}

fn money(stages: &Stages<'_>, year: &ArrangementYear, reference: &ArrangementYear) -> Money {
    let terms = terms(stages.plant);
    let flow = Cashflow::against(&reference.costs, &year.costs, &terms);
    let is_reference = year.arrangement == reference.arrangement;
    Money {
        currency: stages.plant.grid.tariff.currency().to_owned(),
        capital: year.costs.capital,
        first_year_bill: year.costs.first_year_bill,
        payback_years: if is_reference {
            None
        } else {
            flow.simple_payback_years()
        },
        npv: flow.npv(),
        irr: if is_reference { None } else { flow.irr() },
        cost_per_m3: cost_per_m3(&year.costs, &terms),
    }
}
