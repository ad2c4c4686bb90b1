//! `[grid]`, `[[load]]` and `[tariff]`.

use std::path::Path;

use daylift_grid::{Export, Outages, Price, Season, Tariff, TariffSheet};
use daylift_plant::GridSide;
use daylift_units::fields::grid;
use daylift_units::{Axis, Fault};

use super::equipment::booked;
use crate::read::Section;

mod export;
mod loads;
mod outages;

/// The utility; `axis` is there when the site could be read.
pub(crate) fn read(root: &Section<'_>, folder: &Path, axis: Option<&Axis>) -> Option<GridSide> {
    let section = root.required_table("grid", "grid");
    let tariff = read_tariff(root);
    let outages_and_export = section.map(|section| {
        let outages = outages::read(&section, folder, axis);
        let export = export::read(&section, tariff.as_ref());
        section.finish();
        (outages, export)
    });
    let loads = loads::read(root, folder, axis);
    let (outages, export) = outages_and_export?;
    let (loads, backed_up) = loads?;
    Some(GridSide {
        connected: true,
        outages: outages?,
        export: export?,
        tariff: tariff?,
        loads,
        backed_up,
    })
}

/// A farm without `[grid]` and `[tariff]`: the utility is away all year, and the loads are dark all year.
pub(crate) fn none(root: &Section<'_>, folder: &Path, axis: Option<&Axis>, currency: Option<&str>) -> Option<GridSide> {
    let (loads, backed_up) = loads::read(root, folder, axis)?;
    Some(GridSide {
        connected: false,
        outages: Outages::always(axis?.length_s()),
        export: Export::forbidden(),
        tariff: Tariff::none(currency?),
        loads,
        backed_up,
    })
}

fn read_tariff(root: &Section<'_>) -> Option<Tariff> {
    let section = root.required_table("tariff", "tariff")?;
    let currency = section.text("currency", "currency", "a text such as \"USD\"");
    let fixed = section.number(&grid::FIXED);
    if !section.has("season") {
        section.fault(Fault::new(
            "season",
            "price of energy",
            "no [[tariff.season]]",
            "one or more seasons that cover the year",
            "add [[tariff.season]] with months and prices",
        ));
    }
    let seasons: Vec<Option<Season>> =
        section.tables("season", "season of the tariff").into_iter().map(read_season).collect();
    let seasons: Option<Vec<Season>> = seasons.into_iter().collect();
    let made = (|| {
        let sheet = TariffSheet {
            currency: currency?,
            fixed_per_month: fixed?,
            seasons: seasons.filter(|s| !s.is_empty())?,
        };
        booked(&section, Tariff::new(&sheet))
    })();
    section.finish();
    made
}

fn read_season(section: Section<'_>) -> Option<Season> {
    let name = section.text("name", "name of the season", "a text");
    let months = section.list(&grid::MONTH, None);
    let prices: Vec<Option<Price>> =
        section.tables("prices", "prices of the season").into_iter().map(read_price).collect();
    if !section.has("prices") {
        section.fault(Fault::new(
            "prices",
            "prices of the season",
            "nothing",
            "a list of { from_h, to_h, per_kwh } that covers the day",
            "add `prices`",
        ));
    }
    section.finish();
    let prices: Option<Vec<Price>> = prices.into_iter().collect();
    Some(Season {
        name: name?,
        months: months?.into_iter().map(whole).collect(),
        prices: prices.filter(|p| !p.is_empty())?,
    })
}

fn read_price(section: Section<'_>) -> Option<Price> {
    let values = (
        section.number(&grid::FROM_HOUR),
        section.number(&grid::TO_HOUR),
        section.number(&grid::PRICE),
    );
    let credit_given = section.has(grid::HOUR_CREDIT.key);
    let credit_per_j = section.optional(&grid::HOUR_CREDIT);
    let made = (|| {
        let (from_h, to_h, per_j) = (values.0?, values.1?, values.2?);
        if to_h <= from_h {
            section.fault(Fault::new(
                grid::TO_HOUR.key,
                grid::TO_HOUR.quantity,
                format!("{to_h}, from {from_h}"),
                "later than `from_h`",
                "split a price that passes midnight into two",
            ));
            return None;
        }
        (credit_given == credit_per_j.is_some()).then_some(Price {
            from_h: whole(from_h),
            to_h: whole(to_h),
            per_j,
            credit_per_j,
        })
    })();
    section.finish();
    made
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "checked whole and at most 24"
)]
fn whole(value: f64) -> u8 {
    value as u8
}
