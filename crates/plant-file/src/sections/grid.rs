//! `[grid]`, `[[load]]` and `[tariff]`.

use daylift_grid::{Export, Outages, Price, Season, Tariff, TariffSheet};
use daylift_plant::GridSide;
use daylift_units::fields::grid;
use daylift_units::{Axis, Fault};

use crate::outline::{PlantKeys, PriceKeys, SeasonKeys, TariffKeys};
use crate::read::Placed;

mod export;
mod loads;
mod outages;

/// The utility side of a farm with a grid. `axis` is `None` when the year could not be read from `[site]`.
pub(crate) fn read(root: &Placed<PlantKeys>, axis: Option<&Axis>) -> Option<GridSide> {
    if !root.keys.grid.is_there() {
        root.at.no_section("grid");
    }
    let tariff = root.keys.tariff.may(read_tariff);
    let of_export = tariff.as_ref().and_then(Option::as_ref);
    let outages_and_export = root
        .keys
        .grid
        .there()
        .map(|section| (outages::read(section, axis), export::read(section, of_export)));
    if !root.keys.tariff.is_there() {
        warn_of_credit(root);
    }
    let loads = loads::read(root, axis);
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

/// The utility side of a farm without `[grid]` and `[tariff]`: the utility is down all year.
pub(crate) fn none(root: &Placed<PlantKeys>, axis: Option<&Axis>) -> Option<GridSide> {
    let (loads, backed_up) = loads::read(root, axis)?;
    Some(GridSide {
        connected: false,
        outages: Outages::always(axis?.length_s()),
        export: Export::forbidden(),
        tariff: None,
        loads,
        backed_up,
    })
}

/// Warns of a credit in the file of a farm whose bill is not calculated.
fn warn_of_credit(root: &Placed<PlantKeys>) {
    let export = root.keys.grid.there().and_then(|grid| grid.keys.export.as_ref());
    if export.is_some_and(|export| export.credit_per_j.is_some_and(|credit| credit > 0.0)) {
        let text = "without [tariff] no bill is calculated: nothing uses `export_credit_per_kwh`";
        root.at.book().warn("grid", text);
    }
}

fn read_tariff(Placed { at, keys }: &Placed<TariffKeys>) -> Option<Tariff> {
    if !keys.season.is_there {
        at.fault(Fault::new(
            "season",
            "price of energy",
            "no [[tariff.season]]",
            "one or more seasons that cover the year",
            "add [[tariff.season]] with months and prices",
        ));
    }
    let seasons: Vec<Option<Season>> = keys.season.items.iter().map(read_season).collect();
    let seasons: Option<Vec<Season>> = seasons.into_iter().collect();
    let terms = keys.terms.as_ref()?;
    at.booked(Tariff::new(&TariffSheet {
        currency: terms.currency.clone(),
        fixed_per_month: terms.fixed_per_month,
        seasons: seasons.filter(|s| !s.is_empty())?,
    }))
}

fn read_season(Placed { at, keys }: &Placed<SeasonKeys>) -> Option<Season> {
    let prices: Vec<Option<Price>> = keys.prices.items.iter().map(read_price).collect();
    if !keys.prices.is_there {
        at.fault(Fault::new(
            "prices",
            "prices of the season",
            "not given",
            "a list of { from_h, to_h, per_kwh } that covers the day",
            "add `prices`",
        ));
    }
    let prices: Option<Vec<Price>> = prices.into_iter().collect();
    let season = keys.season.as_ref()?;
    Some(Season {
        name: season.name.clone(),
        months: season.months.clone(),
        prices: prices.filter(|p| !p.is_empty())?,
    })
}

fn read_price(Placed { at, keys }: &Placed<PriceKeys>) -> Option<Price> {
    let keys = keys.as_ref()?;
    if keys.to_h <= keys.from_h {
        at.fault(Fault::new(
            grid::TO_HOUR.key,
            grid::TO_HOUR.quantity,
            format!("{}, from {}", keys.to_h, keys.from_h),
            "later than `from_h`",
            "split a price that passes midnight into two entries",
        ));
        return None;
    }
    Some(Price {
        from_h: keys.from_h,
        to_h: keys.to_h,
        per_j: keys.per_j,
        credit_per_j: keys.credit_per_j,
    })
}
