//! What one row costs and saves beyond another: the best row against its runner-up, and all pairs.

use daylift_money::simple_payback_years;
use daylift_plant::Arrangement;
use schemars::JsonSchema;
use serde::Serialize;

use crate::answer::Rule;
use crate::by_id::by_id;
use crate::compare::ComparedRow;
use crate::rules::Found;

/// What a row costs and saves beyond a cheaper one.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct Pair {
    /// The row.
    #[serde(serialize_with = "by_id")]
    #[schemars(with = "String")]
    pub of: Arrangement,
    /// The row that it is compared with.
    #[serde(serialize_with = "by_id")]
    #[schemars(with = "String")]
    pub against: Arrangement,
    /// Difference of capital, in the plant's currency.
    pub capital: f64,
    /// Difference of the first year's saving, without replacements, in the plant's currency.
    pub saving_per_year: f64,
    /// Difference of capital ÷ difference of saving; null when nothing more is saved.
    pub payback_years: Option<f64>,
    /// Difference of net present value, in the plant's currency.
    pub npv: f64,
}

/// Money of a row compared with today's way.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Worth {
    /// The row.
    pub row: Arrangement,
    /// Its capital.
    pub capital: f64,
    /// Saving of its first year.
    pub first_year_saving: f64,
    /// Its net present value.
    pub npv: f64,
}

impl Worth {
    /// The money of a row; `None` if it is not comparable, or without prices.
    fn of(one: &ComparedRow) -> Option<Self> {
        let npv = one.row.money.npv.filter(|_| one.row.service.comparable)?;
        Some(Self {
            row: one.row.id,
            capital: one.row.money.capital,
            first_year_saving: one.detail.cash.first_year_saving,
            npv,
        })
    }

    /// What this row adds to another.
    #[must_use]
    pub fn beyond(&self, other: &Self) -> Pair {
        let capital = self.capital - other.capital;
        let saving_per_year = self.first_year_saving - other.first_year_saving;
        Pair {
            of: self.row,
            against: other.row,
            capital,
            saving_per_year,
            payback_years: simple_payback_years(capital, saving_per_year),
            npv: self.npv - other.npv,
        }
    }
}

/// What the best row adds to its runner-up; `None` if no comparable row pays.
pub(crate) fn runner_up(rows: &[ComparedRow], reference: Arrangement) -> Option<Pair> {
    let comparable: Vec<Worth> = distinct(rows, reference).filter_map(Worth::of).collect();
    let worth = |id: &str| comparable.iter().find(|one| one.row.id() == id);
    // Today's way under its best rule, where the comparison has that row.
    let today = worth(reference.with_best_rule().id()).or_else(|| worth(reference.id()))?;
    best_beyond_runner_up(&comparable, today, worth(reference.id())?)
}

/// What the best of comparable rows adds to its runner-up; `None` if none has a net present value above 0.
///
/// The best row has the greatest net present value. Its runner-up has the greatest capital below its own among those with a
/// net present value above 0; of equal capitals, the greater net present value. If there is none it is `today`, and
/// `reference` where `today` itself is the best row.
#[must_use]
pub fn best_beyond_runner_up(comparable: &[Worth], today: &Worth, reference: &Worth) -> Option<Pair> {
    let paying = || comparable.iter().filter(|one| one.npv > 0.0);
    let best = paying().reduce(|best, one| if one.npv > best.npv { one } else { best })?;
    let cheaper = paying().filter(|one| one.capital < best.capital);
    let runner_up = cheaper.reduce(|up, one| {
        if (one.capital, one.npv) > (up.capital, up.npv) {
            one
        } else {
            up
        }
    });
    let none = if best.row == today.row { reference } else { today };
    Some(best.beyond(runner_up.unwrap_or(none)))
}

/// The rows without today's way under its best rule, where that rule is today's own: it would be the same row twice.
fn distinct(rows: &[ComparedRow], reference: Arrangement) -> impl Iterator<Item = &ComparedRow> {
    let rule = |one: &ComparedRow| {
        one.row.rule.clone().map(|rule| Rule {
            found: Found::AsWritten,
            from_file: Vec::new(),
            ..rule
        })
    };
    let today = rows.iter().find(|one| one.row.id == reference).map(rule);
    rows.iter().filter(move |one| !one.row.id.best_rule || Some(rule(one)) != today)
}

/// What each comparable row adds to every cheaper one, in the order of their capital. Of equal capitals, the row with the
/// greater net present value is compared with the other.
pub(crate) fn pairs(rows: &[ComparedRow], reference: Arrangement) -> Vec<Pair> {
    let mut by_capital: Vec<Worth> = distinct(rows, reference).filter_map(Worth::of).collect();
    by_capital.sort_by(|a, b| a.capital.total_cmp(&b.capital).then(a.npv.total_cmp(&b.npv)));
    let dearer = by_capital.iter().enumerate();
    dearer
        .flat_map(|(at, one)| by_capital[..at].iter().map(|other| one.beyond(other)))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn worth(row: Arrangement, capital: f64, first_year_saving: f64, npv: f64) -> Worth {
        Worth {
            row,
            capital,
            first_year_saving,
            npv,
        }
    }

    const TODAY: Arrangement = Arrangement::GRID_ONLY;

    #[test]
    fn the_runner_up_has_the_greatest_capital_below_the_best_of_those_that_pay() {
        // Worked by hand: 8900 more capital, 767 more saved: 8900 / 767 = 11.603… years.
        let today = worth(TODAY, 0.0, 0.0, 0.0);
        let rows = [
            today,
            worth(Arrangement::SOLAR_DRIVE_WITH_GRID, 18_000.0, 3000.0, 5000.0),
            worth(Arrangement::GRID_TIED, 20_000.0, 1500.0, -900.0),
            worth(Arrangement::DUAL_MODE, 26_900.0, 3767.0, 6000.0),
            worth(Arrangement::BATTERY_HYBRID, 40_000.0, 4000.0, 1000.0),
        ];
        let pair = best_beyond_runner_up(&rows, &today, &today).unwrap();
        assert_eq!(
            (pair.of, pair.against),
            (Arrangement::DUAL_MODE, Arrangement::SOLAR_DRIVE_WITH_GRID)
        );
        assert!((pair.capital - 8900.0).abs() < 1e-9 && (pair.saving_per_year - 767.0).abs() < 1e-9);
        assert!((pair.payback_years.unwrap() - 11.603_650).abs() < 1e-6 && (pair.npv - 1000.0).abs() < 1e-9);
    }

    #[test]
    fn without_another_row_that_pays_it_is_todays_way_under_its_best_rule() {
        let reference = worth(TODAY, 0.0, 0.0, 0.0);
        let under_best_rule = worth(TODAY.with_generator(), 0.0, 200.0, -1.0);
        let dual = worth(Arrangement::DUAL_MODE, 10_000.0, 1200.0, 500.0);
        let pair = best_beyond_runner_up(&[reference, under_best_rule, dual], &under_best_rule, &reference).unwrap();
        // Worked by hand: 10 000 / (1200 − 200) = 10 years.
        assert_eq!((pair.against, pair.payback_years), (under_best_rule.row, Some(10.0)));
        // If that is the best row itself, it is compared with the reference.
        let paying = Worth {
            npv: 900.0,
            ..under_best_rule
        };
        let pair = best_beyond_runner_up(&[reference, paying, dual], &paying, &reference).unwrap();
        assert_eq!(
            (pair.of, pair.against, pair.payback_years),
            (paying.row, TODAY, Some(0.0))
        );
    }

    #[test]
    fn where_nothing_pays_there_is_no_best_row() {
        let today = worth(TODAY, 0.0, 0.0, 0.0);
        let rows = [today, worth(Arrangement::DUAL_MODE, 9000.0, 100.0, -8000.0)];
        assert_eq!(best_beyond_runner_up(&rows, &today, &today), None);
    }

    /// Five rows worked by hand from `docs/model.md` §13b, without this code; values of numpy-financial 1.0.0.
    #[test]
    fn the_best_of_five_rows_against_its_runner_up() {
        let today = TODAY.with_generator();
        let reference = worth(today, 9000.0, 0.0, 0.0);
        let with_grid = Arrangement::SOLAR_DRIVE_WITH_GRID.with_generator();
        let dual = Arrangement::DUAL_MODE.with_generator();
        // Without values: the two rows with the greatest present values are not comparable, so they are left out.
        let rows = [
            reference,
            worth(with_grid, 30_000.0, 4400.0, 27_791.481_470),
            worth(dual, 38_000.0, 6100.0, 36_710.802_179),
        ];
        let pair = best_beyond_runner_up(&rows, &reference, &reference).unwrap();
        assert_eq!((pair.of, pair.against), (dual, with_grid));
        assert_eq!((pair.capital, pair.saving_per_year), (8000.0, 1700.0));
        assert!((pair.payback_years.unwrap() - 4.705_882_353).abs() < 1e-9 && (pair.npv - 8_919.320_708).abs() < 1e-5);
        // With a value of lost water and load all are comparable.
        let rows = [
            reference,
            worth(TODAY, 1500.0, -3840.0, -25_904.576_068),
            worth(Arrangement::BATTERY_HYBRID, 47_000.0, 11_200.0, 80_339.827_455),
            worth(with_grid, 30_000.0, 5320.0, 37_405.916_150),
            worth(dual, 38_000.0, 9000.0, 67_017.172_365),
        ];
        let pair = best_beyond_runner_up(&rows, &reference, &reference).unwrap();
        assert_eq!((pair.of, pair.against), (Arrangement::BATTERY_HYBRID, dual));
        assert_eq!((pair.capital, pair.saving_per_year), (9000.0, 2200.0));
        assert!((pair.payback_years.unwrap() - 4.090_909_091).abs() < 1e-9 && (pair.npv - 13_322.655_089).abs() < 1e-5);
    }
}
