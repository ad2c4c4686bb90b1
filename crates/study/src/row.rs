//! Makes a row of the answer from the account of a year.

use daylift_money::{Cashflow, cost_per_m3};
use daylift_supply::{Flow, LossCause};

use crate::answer::{Money, Row, Rule, WorstResidual};
use crate::columns::groups::ArrayEnergy;
use crate::columns::{Account, Sums};
use crate::money::{lost, terms};
use crate::service::Service;
use crate::shortage::shortage;
use crate::stages::Stages;
use crate::starts::starts;
use crate::year::ArrangementYear;

/// Share of the array's energy, minus conversion and cable losses, that was used or paid for.
///
/// (to pump + to loads + to battery + exported paid) ÷ (available − conversion − cables); `None` without sun or array.
#[must_use]
pub fn array_use(energy: &Sums<ArrayEnergy>) -> Option<f64> {
    let losses_of_used: f64 = LossCause::OF_USED.iter().map(|c| energy.lost(*c)).sum();
    let base = energy.of(Flow::Available) - losses_of_used;
    (base > 0.0).then(|| energy.used() / base)
}

/// The row of an arrangement, with its money compared with the reference.
#[must_use]
pub fn row(stages: &Stages<'_>, year: &ArrangementYear, reference: &ArrangementYear) -> Row {
    let account = Account::of_year(&year.result);
    let array_kwh = Sums::new(account);
    let has_array = year.arrangement.has_array();
    Row {
        id: year.arrangement,
        array_kwh,
        export_limit_ac_kwh: array_kwh.of(Flow::ExportLimitAc),
        array_use: has_array.then(|| array_use(&array_kwh)).flatten(),
        grid_kwh: Sums::new(account),
        pump_kwh: Sums::new(account),
        load_kwh: Sums::new(account),
        battery_kwh: Sums::new(account),
        generator: Sums::new(account),
        water_m3: Sums::new(account),
        shortage: shortage(year),
        hours: Sums::new(account),
        starts: starts(stages, year),
        service: Service::of(year, reference, &lost(stages.plant)),
        rule: stages
            .plant
            .pumps_on_bus(year.arrangement)
            .then(|| Rule::of(stages.plant, year.arrangement, stages.rule(year.arrangement))),
        money: money(stages, year, reference),
        worst_residual: WorstResidual {
            energy: year.result.residuals.energy,
            water: year.result.residuals.water,
            hours: year.result.residuals.hours,
        },
    }
}

fn money(stages: &Stages<'_>, year: &ArrangementYear, reference: &ArrangementYear) -> Money {
    let terms = terms(stages.plant);
    let flow = terms.map(|terms| Cashflow::against(&reference.costs, &year.costs, &terms));
    let beyond = flow.as_ref().filter(|_| year.arrangement != reference.arrangement);
    Money {
        currency: stages.plant.currency().to_owned(),
        capital: year.costs.capital,
        first_year_bill: year.costs.energy.bill.total(),
        payback_years: beyond.and_then(Cashflow::simple_payback_years),
        npv: flow.as_ref().map(Cashflow::npv),
        irr: beyond.and_then(Cashflow::irr),
        cost_per_m3: match terms {
            Some(terms) => cost_per_m3(&year.costs, &reference.costs, &terms),
            None => (year.costs.delivered_m3 > 0.0).then_some(0.0),
        },
    }
}
