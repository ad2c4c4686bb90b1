//! What a row delivers compared with today's way, in words, and what one row costs and saves beyond another.

use daylift_study::service::{Level, PricedAt, Service};
use daylift_study::{Pair, Row};
use daylift_supply::Flow;

use crate::names::Names;
use crate::number::{grouped, percent};
use crate::say;

/// Follows a money figure that is for less service than today's.
pub const MARK: &str = " *";

/// The mark of a row's money figures; empty where they are comparable.
#[must_use]
pub const fn mark(service: &Service) -> &'static str {
    if service.comparable { "" } else { MARK }
}

/// The service in a few words: `as today`, or each difference.
#[must_use]
pub fn in_short(row: &Row) -> String {
    let service = &row.service;
    let share = share_of_today(row);
    let water = match service.water {
        Level::AsToday => None,
        Level::Less if is_less_in_year(row) => Some(say!("service-less-water", share = share)),
        Level::Less => Some(missing_in_month(service)),
        Level::More => Some(say!("service-more-water", share = share)),
    };
    let kwh = grouped(service.load_delta_kwh.abs(), 0);
    let loads = match service.loads {
        Level::AsToday => None,
        Level::Less => Some(say!("service-less-loads", kwh = kwh)),
        Level::More => Some(say!("service-more-loads", kwh = kwh)),
    };
    let priced = service.is_priced().then(|| say!("service-priced"));
    let all: Vec<String> = [water, loads, priced].into_iter().flatten().collect();
    if all.is_empty() {
        say!("service-as-today")
    } else {
        all.join(", ")
    }
}

/// What is missing compared with today; `None` if nothing is.
#[must_use]
pub fn missing(row: &Row) -> Option<String> {
    let service = &row.service;
    let water = (service.water == Level::Less).then(|| {
        if is_less_in_year(row) {
            say!(
                "missing-water",
                m3 = grouped(-service.water_delta_m3, 0),
                share = share_of_today(row),
                month = grouped(-service.worst_month_delta_m3, 0)
            )
        } else {
            missing_in_month(service)
        }
    });
    let loads =
        (service.loads == Level::Less).then(|| say!("missing-loads", kwh = grouped(-service.load_delta_kwh, 0)));
    let all: Vec<String> = [water, loads].into_iter().flatten().collect();
    (!all.is_empty()).then(|| all.join("; "))
}

/// What a marked figure means, in a sentence; `None` where the row is comparable.
#[must_use]
pub fn note(row: &Row, names: Names, today: daylift_plant::Arrangement) -> Option<String> {
    let missing = missing(row).filter(|_| !row.service.comparable)?;
    Some(say!(
        "service-note",
        row = names.of(row.id),
        missing = missing,
        today = names.of(today)
    ))
}

/// The values of what is missing, and that the money figures include them. `all`: whether every row is comparable.
#[must_use]
pub fn priced_at(values: &PricedAt, currency: &str, all: bool) -> String {
    let water = values
        .water_per_m3
        .map(|value| say!("priced-water", value = grouped(value, 2), currency = currency));
    let load = values
        .load_per_kwh
        .map(|value| say!("priced-load", value = grouped(value, 2), currency = currency));
    let values = [water, load].into_iter().flatten().collect::<Vec<_>>().join(", ");
    if all {
        say!("priced-at-all", values = values)
    } else {
        say!("priced-at", values = values)
    }
}

/// What a row costs and saves beyond another, in a sentence.
#[must_use]
pub fn pair(pair: &Pair, names: Names, currency: &str) -> String {
    let (of, against) = (names.of(pair.of), names.of(pair.against));
    let money = |amount: f64| format!("{} {currency}", grouped(amount.abs(), 0)).trim_end().to_owned();
    let (capital, saving) = (money(pair.capital), money(pair.saving_per_year));
    match pair.payback_years {
        Some(_) if pair.of.best_rule && pair.capital <= 0.0 => say!("runner-up-rule", of = of, saving = saving),
        Some(_) if pair.capital <= 0.0 => say!("runner-up-free", of = of, against = against, saving = saving),
        Some(years) => say!(
            "runner-up",
            of = of,
            against = against,
            capital = capital,
            saving = saving,
            years = grouped(years, 1)
        ),
        None if pair.capital > 0.0 => say!("runner-up-never", of = of, against = against, capital = capital),
        None => say!(
            "runner-up-cheaper",
            of = of,
            against = against,
            capital = capital,
            cost = saving
        ),
    }
}

fn is_less_in_year(row: &Row) -> bool {
    row.service.is_less_in_year(row.water_m3.of(Flow::Delivered))
}

/// The difference of the year's water as a share of today's.
fn share_of_today(row: &Row) -> String {
    let delta_m3 = row.service.water_delta_m3;
    let today_m3 = row.water_m3.of(Flow::Delivered) - delta_m3;
    percent((today_m3 > 0.0).then(|| delta_m3.abs() / today_m3))
}

fn missing_in_month(service: &Service) -> String {
    say!("service-less-in-month", m3 = grouped(-service.worst_month_delta_m3, 0))
}
