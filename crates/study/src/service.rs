//! What a row delivers compared with today's way. The tolerances are only here, for all readers.

use daylift_plant::LostValue;
use daylift_supply::Flow;
use daylift_units::constants::KWH_J;
use daylift_units::ids;
use schemars::JsonSchema;
use serde::Serialize;

use crate::by_id::by_id;
use crate::year::ArrangementYear;

/// Water counts as the same within this share of the reference's.
const WATER: f64 = 0.01;
/// Load counts as the same if the unserved part differs by at most this share of the year's load.
const LOAD: f64 = 0.01;

/// How a quantity compares with that of the reference.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Level {
    /// The same, within the tolerance.
    AsToday,
    /// More.
    More,
    /// Less.
    Less,
}

ids!(Level { AsToday = "as-today", More = "more", Less = "less" });

/// What a row delivers compared with the reference. Differences are the row's amount minus the reference's.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct Service {
    /// Water: `less` in the year or in any month, `more` in the year, or `as-today`.
    #[serde(serialize_with = "by_id")]
    #[schemars(with = "String")]
    pub water: Level,
    /// Water delivered in the year, difference in m³.
    pub water_delta_m3: f64,
    /// Water delivered in the month in which the difference is smallest, in m³; negative if it is less there.
    pub worst_month_delta_m3: f64,
    /// Water delivered in outages, compared by the year; `comparable` does not depend on it.
    #[serde(serialize_with = "by_id")]
    #[schemars(with = "String")]
    pub water_in_outages: Level,
    /// Water delivered in outages, difference in m³.
    pub water_in_outages_delta_m3: f64,
    /// The farm's loads: `less` if more of them stays unserved, `more` if less does, or `as-today`.
    #[serde(serialize_with = "by_id")]
    #[schemars(with = "String")]
    pub loads: Level,
    /// Load served in the year, difference in kWh.
    pub load_delta_kwh: f64,
    /// Whether the money figures may be compared: nothing is less, or what is less has a value that they include.
    pub comparable: bool,
}

impl Service {
    /// The service of a year compared with the reference's. `lost`: what the farm states as the value of what is missing.
    #[must_use]
    pub(crate) fn of(year: &ArrangementYear, reference: &ArrangementYear, lost: &LostValue) -> Self {
        let (own, today) = (year.result.ledger.year(), reference.result.ledger.year());
        let delta = |flow: Flow| own[flow] - today[flow];
        let months = || {
            let own = year.result.ledger.months.values().map(|book| book[Flow::Delivered]);
            own.zip(reference.result.ledger.months.values().map(|book| book[Flow::Delivered]))
        };
        let load_delta_j = -delta(Flow::Unserved);
        let water = match level(own[Flow::Delivered], today[Flow::Delivered]) {
            Level::Less => Level::Less,
            _ if months().any(|(own, today)| level(own, today) == Level::Less) => Level::Less,
            other => other,
        };
        let loads = match own[Flow::Load] * LOAD {
            within if load_delta_j < -within => Level::Less,
            within if load_delta_j > within => Level::More,
            _ => Level::AsToday,
        };
        let water_is_valued = water != Level::Less || lost.water_per_m3.is_some();
        let load_is_valued = loads != Level::Less || lost.load_per_j.is_some();
        Self {
            water,
            water_delta_m3: delta(Flow::Delivered),
            worst_month_delta_m3: months().map(|(own, today)| own - today).reduce(f64::min).unwrap_or(0.0),
            water_in_outages: level(own[Flow::DeliveredInOutage], today[Flow::DeliveredInOutage]),
            water_in_outages_delta_m3: delta(Flow::DeliveredInOutage),
            loads,
            load_delta_kwh: load_delta_j / KWH_J,
            comparable: water_is_valued && load_is_valued,
        }
    }

    /// Whether water or loads are less than today's.
    #[must_use]
    pub fn is_less(&self) -> bool {
        self.water == Level::Less || self.loads == Level::Less
    }

    /// Whether something is less than today's, and all of that has a value that the money figures include.
    #[must_use]
    pub fn is_priced(&self) -> bool {
        self.is_less() && self.comparable
    }
}

/// How an amount of water compares with the reference's.
fn level(own_m3: f64, today_m3: f64) -> Level {
    if own_m3 < today_m3 * (1.0 - WATER) {
        Level::Less
    } else if own_m3 > today_m3 * (1.0 + WATER) {
        Level::More
    } else {
        Level::AsToday
    }
}

/// Values of what is missing as the plant file states them, in units of results.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct PricedAt {
    /// Value of a cubic metre of missing water, in the plant's currency; null if none is given.
    pub water_per_m3: Option<f64>,
    /// Value of a kilowatt-hour of unserved load, in the plant's currency; null if none is given.
    pub load_per_kwh: Option<f64>,
}

impl PricedAt {
    /// The values of a plant; `None` if it gives neither.
    #[must_use]
    pub(crate) fn of(lost: &LostValue) -> Option<Self> {
        (!lost.is_none()).then(|| Self {
            water_per_m3: lost.water_per_m3,
            load_per_kwh: lost.load_per_j.map(|value| value * KWH_J),
        })
    }
}
