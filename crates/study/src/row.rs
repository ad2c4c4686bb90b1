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

/// Residual of a balance above which the row says so: rounding stays far below.
const GREATEST_RESIDUAL: f64 = 1e-9;

/// Load left in the dark beyond the reference's by more than this share of the demand is told beside the money.
const DARKER_TOLD: f64 = 0.01;
/// Running hours of a generating set below its least load that are told.
const LOW_LOAD_TOLD_H: f64 = 10.0;

/// Water delivered below the reference's by more than this share is told beside the money.
pub const LESS_WATER_TOLD: f64 = 0.01;
/// Share of the reference's water below which the money is told not to be that of the same service.
pub const LITTLE_WATER: f64 = 0.5;

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
        id: year.arrangement.id().to_owned(),
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
        warnings: warnings(year, reference),
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

fn warnings(year: &ArrangementYear, reference: &ArrangementYear) -> Vec<String> {
    let mut out = Vec::new();
    let result = &year.result;
    if !result.tank_agrees {
        out.push(format!(
            "tank: its content at the end of the year ({:.1} m³) did not come to agree with that at the start ({:.1} m³)",
            result.tank_end_m3, result.tank_start_m3
        ));
    }
    if !result.battery_agrees {
        out.push(format!(
            "battery: its content at the end of the year ({:.1} kWh) did not come to agree with that at the start ({:.1} kWh)",
            result.battery_j[1] / KWH_J,
            result.battery_j[0] / KWH_J
        ));
    }
    let r = result.residuals;
    if r.energy.max(r.water).max(r.hours) > GREATEST_RESIDUAL {
        out.push(format!(
            "books: the balances miss {:.1e} (energy), {:.1e} (water), {:.1e} (hours) of the flow; please report this plant",
            r.energy, r.water, r.hours
        ));
    }
    let sum = result.ledger.year();
    if year.arrangement.generator && sum[Flow::GeneratorRunning] <= 0.0 {
        out.push("generator: it never runs in this row; what it costs buys nothing here".to_owned());
    }
    let low_h = sum.shown(Flow::GeneratorBelowLeast);
    if low_h > LOW_LOAD_TOLD_H {
        out.push(format!(
            "generator: it runs {low_h:.0} h a year below its least load; a smaller set, or more to do for this one, would serve it better"
        ));
    }
    let darker_j = sum[Flow::Unserved] - reference.result.ledger.year()[Flow::Unserved];
    if darker_j > DARKER_TOLD * sum[Flow::Load] {
        out.push(format!(
            "money: this row leaves {:.0} kWh of the farm's loads in the dark that {} serves; its money is not that of the same service",
            darker_j / KWH_J,
            reference.arrangement
        ));
    }
    let (delivered, today) = (year.costs.delivered_m3, reference.costs.delivered_m3);
    if delivered < today * (1.0 - LESS_WATER_TOLD) {
        let saving = if delivered < today * LITTLE_WATER {
            "its lower bill is mostly water that was not pumped, and its money is not that of the same service"
        } else {
            "a part of its lower bill is water that was not pumped"
        };
        out.push(format!(
            "money: this row delivers {:.0} m³ less water a year than {}; {saving}",
            today - delivered,
            reference.arrangement
        ));
    }
    out
}
