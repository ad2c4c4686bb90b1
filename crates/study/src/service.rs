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

/// Amounts of a year that its service is judged by.
struct Amounts {
    /// Water delivered in each month \[m³\].
    months_m3: Vec<f64>,
    /// Water delivered in the year \[m³\].
    year_m3: f64,
    /// Water delivered in outages \[m³\].
    in_outages_m3: f64,
    /// The farm's loads \[J\].
    load_j: f64,
    /// The part of them that stays unserved \[J\].
    unserved_j: f64,
}

impl Amounts {
    fn of(year: &ArrangementYear) -> Self {
        let ledger = &year.result.ledger;
        let sum = ledger.year();
        Self {
            months_m3: ledger.months.values().map(|book| book[Flow::Delivered]).collect(),
            year_m3: sum[Flow::Delivered],
            in_outages_m3: sum[Flow::DeliveredInOutage],
            load_j: sum[Flow::Load],
            unserved_j: sum[Flow::Unserved],
        }
    }
}

impl Service {
    /// The service of a year compared with the reference's. `lost`: what the farm states as the value of what is missing.
    #[must_use]
    pub(crate) fn of(year: &ArrangementYear, reference: &ArrangementYear, lost: &LostValue) -> Self {
        Self::between(&Amounts::of(year), &Amounts::of(reference), lost)
    }

    fn between(own: &Amounts, today: &Amounts, lost: &LostValue) -> Self {
        let months = || own.months_m3.iter().zip(&today.months_m3);
        let load_delta_j = today.unserved_j - own.unserved_j;
        let water = match level(own.year_m3, today.year_m3) {
            Level::Less => Level::Less,
            _ if months().any(|(own, today)| level(*own, *today) == Level::Less) => Level::Less,
            other => other,
        };
        let loads = match own.load_j * LOAD {
            within if load_delta_j < -within => Level::Less,
            within if load_delta_j > within => Level::More,
            _ => Level::AsToday,
        };
        let water_is_valued = water != Level::Less || lost.water_per_m3.is_some();
        let load_is_valued = loads != Level::Less || lost.load_per_j.is_some();
        Self {
            water,
            water_delta_m3: own.year_m3 - today.year_m3,
            worst_month_delta_m3: months().map(|(own, today)| own - today).reduce(f64::min).unwrap_or(0.0),
            water_in_outages: level(own.in_outages_m3, today.in_outages_m3),
            water_in_outages_delta_m3: own.in_outages_m3 - today.in_outages_m3,
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

    /// Whether the water of the whole year is less than today's, and not only that of a month. `delivered_m3`: the row's.
    #[must_use]
    pub fn is_less_in_year(&self, delivered_m3: f64) -> bool {
        level(delivered_m3, delivered_m3 - self.water_delta_m3) == Level::Less
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

#[cfg(test)]
mod tests {
    use super::*;

    /// Delivered in June, July and August, in outages, and the load that stays unserved in kWh, by row.
    const ROWS: [([f64; 3], f64, f64); 5] = [
        ([4100.0, 4300.0, 4300.0], 4000.0, 700.0),
        ([4100.0, 4270.0, 4300.0], 3900.0, 5000.0),
        ([4300.0, 4250.0, 4400.0], 4100.0, 750.0),
        ([4200.0, 4400.0, 4400.0], 4030.0, 690.0),
        ([4300.0, 4700.0, 4400.0], 4400.0, 300.0),
    ];

    fn amounts((summer, in_outages_m3, unserved_kwh): ([f64; 3], f64, f64)) -> Amounts {
        let others = [3000.0, 2800.0, 3200.0, 3500.0, 4000.0, 3800.0, 3300.0, 3000.0, 3000.0];
        let months_m3 = [&others[..5], &summer, &others[5..]].concat();
        Amounts {
            year_m3: months_m3.iter().sum(),
            months_m3,
            in_outages_m3,
            load_j: 35_000.0 * KWH_J,
            unserved_j: unserved_kwh * KWH_J,
        }
    }

    fn compared(lost: LostValue) -> [Service; 5] {
        ROWS.map(|row| Service::between(&amounts(row), &amounts(ROWS[0]), &lost))
    }

    /// Worked by pencil from `docs/model.md` §13a, without this code; tolerance of 1 %. The second row has 99.30 % of July
    /// and 97.5 % of the water in outages; the third 98.84 % of July, though 100.59 % of the year; the fifth 101.65 %.
    #[test]
    fn five_rows_are_judged_as_by_hand() {
        use Level::{AsToday, Less, More};
        let expected = [
            (AsToday, 0.0, 0.0, AsToday, 0.0, AsToday, 0.0),
            (AsToday, -30.0, -30.0, Less, -100.0, Less, -4300.0),
            (Less, 250.0, -50.0, More, 100.0, AsToday, -50.0),
            (AsToday, 300.0, 0.0, AsToday, 30.0, AsToday, 10.0),
            (More, 700.0, 0.0, More, 400.0, More, 400.0),
        ];
        for (row, (got, wanted)) in compared(LostValue::default()).into_iter().zip(expected).enumerate() {
            let levels = (got.water, got.water_in_outages, got.loads);
            assert_eq!(levels, (wanted.0, wanted.3, wanted.5), "row {row}");
            for (got, wanted) in [
                (got.water_delta_m3, wanted.1),
                (got.worst_month_delta_m3, wanted.2),
                (got.water_in_outages_delta_m3, wanted.4),
                (got.load_delta_kwh, wanted.6),
            ] {
                assert!((got - wanted).abs() < 1e-6, "row {row}: {got} instead of {wanted}");
            }
        }
    }

    #[test]
    fn a_row_is_comparable_if_what_is_less_has_a_value() {
        let value = |water: Option<f64>, load: Option<f64>| LostValue {
            water_per_m3: water,
            load_per_j: load,
        };
        for (lost, expected) in [
            (value(None, None), [true, false, false, true, true]),
            (value(None, Some(1e-7)), [true, true, false, true, true]),
            (value(Some(3.0), None), [true, false, true, true, true]),
            (value(Some(3.0), Some(1e-7)), [true; 5]),
        ] {
            assert_eq!(compared(lost).map(|one| one.comparable), expected, "{lost:?}");
            assert_eq!(
                compared(lost).map(|one| one.is_less()),
                [false, true, true, false, false]
            );
        }
    }
}
