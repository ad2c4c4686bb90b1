//! A year's account made into a row of the answer.

use daylift_money::{Cashflow, cost_per_m3};
use daylift_supply::{Flow, LossCause, MonthBook, YearResult};
use daylift_units::constants::KWH_J;

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
            imported: sum.shown(Flow::Imported),
            exported: sum.shown(Flow::Exported),
        },
        pump_kwh: PumpEnergy {
            array: sum.shown(Flow::ArrayToPump),
            grid: sum.shown(Flow::GridToPump),
            battery: sum.shown(Flow::BatteryToPump),
            generator: sum.shown(Flow::GeneratorToPump),
        },
        load_kwh: LoadEnergy {
            demand: sum.shown(Flow::Load),
            array: sum.shown(Flow::ArrayToLoads),
            grid: sum.shown(Flow::GridToLoads),
            battery: sum.shown(Flow::BatteryToLoads),
            generator: sum.shown(Flow::GeneratorToLoads),
            unserved: sum.shown(Flow::Unserved),
        },
        battery_kwh: BatteryEnergy {
            from_array: sum.shown(Flow::ArrayToBattery),
            from_grid: sum.shown(Flow::GridToBattery),
            discharged: sum.shown(Flow::Discharged),
            stored_change: year.result.battery_stored_j() / KWH_J,
        },
        generator: Generator {
            kwh: sum.shown(Flow::Generated),
            hours: sum.shown(Flow::GeneratorRunning),
            fuel_l: sum.shown(Flow::Fuel),
        },
        water_m3: water(&sum, &year.result),
        hours: Hours {
            outage: sum.shown(Flow::Outage),
            pumping: sum.shown(Flow::Pumping),
            pumping_in_outage: sum.shown(Flow::PumpingInOutage),
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
        available: sum.shown(Flow::Available),
        to_pump: sum.shown(Flow::ArrayToPump),
        to_loads: sum.shown(Flow::ArrayToLoads),
        to_battery: sum.shown(Flow::ArrayToBattery),
        exported_paid: sum.shown(Flow::ExportedPaid),
        exported_unpaid: (sum[Flow::Exported] - sum[Flow::ExportedPaid]) / KWH_J,
        lost: Lost(LossCause::ALL.map(|cause| sum.shown(Flow::Lost(cause)))),
    }
}

fn water(sum: &MonthBook, result: &YearResult) -> WaterVolume {
    WaterVolume {
        demand: sum[Flow::Demand],
        pumped: sum[Flow::Pumped],
        rain: 0.0,
        delivered: sum[Flow::Delivered],
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
