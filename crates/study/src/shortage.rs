//! Shortage of water in days: short days, the longest dry spell, the worst shortage (`docs/model.md`, section 9).

use schemars::JsonSchema;
use serde::Serialize;

use crate::year::ArrangementYear;

/// A short day misses more than this share of its demand.
const SHORT_DAY: f64 = 0.01;
/// A day of a dry spell misses more than this share of its demand.
const DRY_DAY: f64 = 0.5;

/// Days that are short of water.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct Shortage {
    /// Days that miss more than 1 % of their demand.
    pub short_days: usize,
    /// Longest run of days that each get less than half of their demand.
    pub dry_spell_days: usize,
    /// Worst shortage: the largest amount missing in a run of short days, in m³; 0 without a short day.
    pub worst_m3: f64,
    /// The same amount in days of demand: divided by the mean daily demand of that run.
    pub worst_days: f64,
}

impl Shortage {
    /// From the demand and the shortfall of each civil day of the year \[m³\].
    #[must_use]
    pub fn of(days: &[(f64, f64)]) -> Self {
        let worst = Run::worst(days);
        Self {
            short_days: days.iter().filter(|day| is_short(**day)).count(),
            dry_spell_days: days.split(|day| !is_dry(*day)).map(<[_]>::len).max().unwrap_or(0),
            worst_m3: worst.map_or(0.0, |run| run.missing_m3),
            worst_days: worst.map_or(0.0, |run| run.days_of_demand()),
        }
    }
}

/// Whether a day, as demand and shortfall \[m³\], misses more than 1 % of its demand.
#[must_use]
pub fn is_short((demand_m3, shortfall_m3): (f64, f64)) -> bool {
    shortfall_m3 > SHORT_DAY * demand_m3
}

/// Whether a day gets less than half of its demand. A day without demand does not.
fn is_dry((demand_m3, shortfall_m3): (f64, f64)) -> bool {
    shortfall_m3 > DRY_DAY * demand_m3
}

/// A run of short days.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Run {
    /// Number of days.
    pub(crate) days: usize,
    /// Demand in these days \[m³\], above 0.
    pub(crate) demand_m3: f64,
    /// Demand not met \[m³\].
    pub(crate) missing_m3: f64,
}

impl Run {
    /// The run in which most is missing, and the first of several; `None` without a short day.
    pub(crate) fn worst(days: &[(f64, f64)]) -> Option<Self> {
        let runs = days.split(|day| !is_short(*day)).filter(|run| !run.is_empty()).map(|run| Self {
            days: run.len(),
            demand_m3: run.iter().map(|day| day.0).sum(),
            missing_m3: run.iter().map(|day| day.1).sum(),
        });
        runs.reduce(|worst, run| if run.missing_m3 > worst.missing_m3 { run } else { worst })
    }

    /// What is missing, in days of demand.
    pub(crate) fn days_of_demand(&self) -> f64 {
        self.missing_m3 / (self.demand_m3 / self.days_f64())
    }

    /// Number of days.
    #[expect(clippy::cast_precision_loss, reason = "days of a year")]
    pub(crate) fn days_f64(&self) -> f64 {
        self.days as f64
    }

    /// Its length in words.
    pub(crate) fn length(&self) -> String {
        match self.days {
            1 => "one day".to_owned(),
            days => format!("{days} days"),
        }
    }
}

/// The shortage of a year.
pub(crate) fn shortage(year: &ArrangementYear) -> Shortage {
    Shortage::of(&year.result.ledger.days)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Demand and shortfall of eleven days, worked by hand.
    #[test]
    fn a_table_of_days_worked_by_hand() {
        let days = [
            (20.0, 0.2),  // exactly 1 %: not short
            (20.0, 0.4),  // 2 %: short
            (20.0, 10.0), // half delivered: short, not dry
            (20.0, 11.0), // dry
            (30.0, 30.0), // dry
            (20.0, 0.0),
            (40.0, 30.0), // dry
            (10.0, 9.0),  // dry
            (50.0, 26.0), // dry
            (0.0, 0.0),   // no demand: ends the run
            (50.0, 50.0), // dry
        ];
        let found = Shortage::of(&days);
        // Short: days 2 to 5, 7 to 9 and 11.
        assert_eq!(found.short_days, 8);
        // Dry: days 4 and 5, then 7 to 9, then 11.
        assert_eq!(found.dry_spell_days, 3);
        // Missing: 0.4 + 10 + 11 + 30 = 51.4; 30 + 9 + 26 = 65; 50. The second run wants 100 m³ in 3 days.
        assert!((found.worst_m3 - 65.0).abs() < 1e-12);
        assert!((found.worst_days - 1.95).abs() < 1e-12);
    }

    /// Two runs miss 10 m³ each: the first wants 10 m³ a day, the second 40 m³.
    #[test]
    fn of_equal_shortages_the_first_counts() {
        let found = Shortage::of(&[(10.0, 10.0), (10.0, 0.0), (40.0, 10.0)]);
        assert!((found.worst_m3 - 10.0).abs() < 1e-12 && (found.worst_days - 1.0).abs() < 1e-12);
        assert_eq!((found.short_days, found.dry_spell_days), (2, 1));
    }

    /// A tank that delivers 93 % every day is short every day, and no day is dry.
    #[test]
    fn many_short_days_are_no_dry_spell() {
        let found = Shortage::of(&[(100.0, 7.0); 122]);
        assert_eq!((found.short_days, found.dry_spell_days), (122, 0));
        // 122 days miss 7 m³ each: 854 m³, which are 8.54 days of 100 m³.
        assert!((found.worst_m3 - 854.0).abs() < 1e-9 && (found.worst_days - 8.54).abs() < 1e-12);
    }

    #[test]
    fn a_year_without_shortage_has_none() {
        let none = Shortage::of(&[(10.0, 0.0), (0.0, 0.0)]);
        assert_eq!((none.short_days, none.dry_spell_days), (0, 0));
        assert!(none.worst_m3 == 0.0 && none.worst_days == 0.0);
    }
}
