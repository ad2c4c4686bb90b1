//! Details of a row: water secured, cash, months, weather.

use daylift_money::Cashflow;
use daylift_supply::{Flow, ShortfallCause};
use daylift_units::constants::KWH_J;
use schemars::JsonSchema;
use serde::Serialize;

use crate::answer::WeatherSummary;
use crate::by_id::by_id;
use crate::columns::groups::{ArrayEnergy, MonthSums};
use crate::columns::{Account, Sums};
use crate::money::terms;
use crate::shortage::is_short;
use crate::stages::Stages;
use crate::year::ArrangementYear;

/// How much of the water demand was delivered.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct WaterSecured {
    /// Delivered ÷ demand in the year; null without demand.
    pub year: Option<f64>,
    /// Delivered ÷ demand during outages; null without demand in outages.
    pub in_outages: Option<f64>,
    /// Days that miss more than 1 % of their demand.
    pub shortfall_days: usize,
    /// Longest run of such days. (A dry spell in `shortage` is a run of days that get less than half of their demand.)
    pub longest_dry_spell_days: usize,
    /// Demand not met, by cause, in m³.
    pub shortfall_m3: Vec<ShortfallBy>,
}

/// Demand not met because of one cause.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct ShortfallBy {
    /// The cause.
    #[serde(serialize_with = "by_id")]
    #[schemars(with = "String")]
    pub cause: ShortfallCause,
    /// Volume, in m³.
    pub m3: f64,
}

/// Cumulative cash flow compared with the reference, year by year. Without all prices there are no sums.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Cash {
    /// Sums in the plant's currency, undiscounted: at the time of building, then after each year.
    pub sums: Vec<f64>,
    /// The year after which the sum stays at or above zero; null when it is below zero after the last year.
    pub ahead_from_year: Option<usize>,
    /// Saving of the first year, without replacements; it includes the value of what is missing, if that has one.
    pub first_year_saving: f64,
}

/// A month of the year.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Month {
    /// 1 to 12.
    pub month: usize,
    /// Where the array's energy went, in kWh.
    pub array_kwh: Sums<ArrayEnergy>,
    /// Other sums of the month.
    #[serde(flatten)]
    pub sums: Sums<MonthSums>,
}

impl Month {
    /// Amount of a flow, in the unit of results.
    #[must_use]
    pub fn of(&self, flow: Flow) -> f64 {
        self.sums.of(flow)
    }

    /// Energy at the motor's terminals, from all sources, in kWh.
    #[must_use]
    pub fn pump_kwh(&self) -> f64 {
        self.sums.at_pump()
    }
}

pub(crate) fn water_secured(year: &ArrangementYear) -> WaterSecured {
    let sum = year.result.ledger.year();
    let days = &year.result.ledger.days;
    let runs = || days.split(|day| !is_short(*day)).map(<[_]>::len);
    let share = |delivered: f64, demand: f64| (demand > 0.0).then(|| delivered / demand);
    WaterSecured {
        year: share(sum[Flow::Delivered], sum[Flow::Demand]),
        in_outages: share(sum[Flow::DeliveredInOutage], sum[Flow::DemandInOutage]),
        shortfall_days: runs().sum(),
        longest_dry_spell_days: runs().max().unwrap_or(0),
        shortfall_m3: ShortfallCause::ALL
            .into_iter()
            .map(|cause| ShortfallBy {
                cause,
                m3: sum[Flow::Shortfall(cause)],
            })
            .collect(),
    }
}

/// Share of the battery's discharge that came from the array; `None` if it gave nothing.
pub(crate) fn battery_of_array(year: &ArrangementYear) -> Option<f64> {
    let sum = year.result.ledger.year();
    (sum[Flow::Discharged] > 0.0).then(|| sum[Flow::DischargedOfArray] / sum[Flow::Discharged])
}

pub(crate) fn cash(stages: &Stages<'_>, year: &ArrangementYear, reference: &ArrangementYear) -> Cash {
    let flow = terms(stages.plant).map(|terms| Cashflow::against(&reference.costs, &year.costs, &terms));
    Cash {
        sums: flow.as_ref().map_or_else(Vec::new, Cashflow::sums),
        ahead_from_year: flow.as_ref().and_then(Cashflow::ahead_from_year),
        first_year_saving: flow.as_ref().map_or(0.0, Cashflow::first_saving),
    }
}

pub(crate) fn months(year: &ArrangementYear) -> Vec<Month> {
    let books = year.result.ledger.months.iter();
    books
        .map(|(month, book)| {
            let account = Account::of_flows(book);
            Month {
                month: usize::from(month.number()),
                array_kwh: Sums::new(account),
                sums: Sums::new(account),
            }
        })
        .collect()
}

pub(crate) fn weather_summary(stages: &Stages<'_>) -> WeatherSummary {
    let light = stages.dc.as_ref().zip(stages.plant.array.as_ref());
    let plane_j_m2 = light.map_or(0.0, |(dc, array)| dc.mean_plane_j_m2(array));
    WeatherSummary {
        source: stages.plant.weather_source.to_string(),
        ghi_kwh_m2: stages.ghi_j_m2 / KWH_J,
        plane_kwh_m2: plane_j_m2 / KWH_J,
    }
}
