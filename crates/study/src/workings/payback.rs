//! Simple payback.

use daylift_money::RowCosts;
use daylift_plant::Plant;

use super::{Symbol, Working};
use crate::answer::Row;

pub(super) fn payback_working(plant: &Plant, row: &Row, costs: &RowCosts, reference: &RowCosts) -> Option<Working> {
    let value = row.money.payback_years?;
    // A row that costs no more than the reference is paid back at once: there is no quotient to show.
    if value <= 0.0 {
        return None;
    }
    let currency = plant.grid.tariff.currency();
    let money = |symbol: &str, meaning: &str, value: f64| Symbol::new(symbol, meaning, value, currency);
    Some(Working {
        name: "payback".into(),
        title: format!("Simple payback of {} against {}", row.id, plant.reference),
        value,
        unit: "years".into(),
        formula: "(C - C0) / (B0 - B + U0 - U)".into(),
        symbols: vec![
            money("C", "capital", costs.capital),
            money("C0", "capital of the reference", reference.capital),
            money("B0", "first year's bill of the reference", reference.first_year_bill),
            money("B", "first year's bill", costs.first_year_bill),
            money("U0", "first year's upkeep of the reference", reference.upkeep_per_year),
            money("U", "first year's upkeep", costs.upkeep_per_year),
        ],
        source: "a definition; no discounting, no price rises, no degradation".into(),
        caution: format!(
            "delivers {:.0} m³ of water a year against {:.0} m³: where the reference is short of water, what its water would have earned is not in the saving",
            costs.delivered_m3, reference.delivered_m3
        ),
    })
}
