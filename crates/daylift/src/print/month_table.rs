//! Delivered water by month, a column for each arrangement.

use daylift_study::Comparison;
use daylift_study::detail::Month;
use daylift_supply::Flow;
use daylift_units::Month as Civil;

use super::{bands, table};
use daylift_present::number::grouped;
use daylift_present::say;

/// Smallest shortfall of a month that is shown \[m³\].
const SHORT_TOLD_M3: f64 = 0.5;

/// Twelve lines: the demand, the water that each arrangement delivers, and its shortfall.
pub(crate) fn text(full: &Comparison, width: usize) -> String {
    let any_short = full.rows.iter().flat_map(|r| &r.detail.months).any(|m| short_m3(m) >= SHORT_TOLD_M3);
    let title = if any_short {
        say!("months-title.short")
    } else {
        say!("months-title")
    };
    let tables = bands::side_by_side(full, width, one_table);
    format!("\n  {title}\n\n{tables}")
}

fn one_table(full: &Comparison) -> String {
    let ids = full.rows.iter().map(|r| table::broken(r.row.id.id()));
    let first = [say!("months-month"), say!("water-demand")];
    let mut table = table::new(&first.into_iter().chain(ids).collect::<Vec<_>>());
    let columns: Vec<Vec<String>> = full.rows.iter().map(|r| column(&r.detail.months)).collect();
    let demand = full.rows.first().map_or(&[][..], |r| &r.detail.months);
    for (i, (name, m)) in Civil::ALL.map(Civil::short).iter().zip(demand).enumerate() {
        let cells = columns.iter().map(|c| c.get(i).cloned().unwrap_or_default());
        table.add_row([(*name).to_owned(), grouped(m.of(Flow::Demand), 0)].into_iter().chain(cells));
    }
    table::text(&table)
}

fn short_m3(m: &Month) -> f64 {
    (m.of(Flow::Demand) - m.of(Flow::Delivered)).max(0.0)
}

/// Cells of an arrangement: delivered under delivered, shortfall under shortfall.
fn column(months: &[Month]) -> Vec<String> {
    let short: Vec<String> = months
        .iter()
        .map(|m| {
            let m3 = short_m3(m);
            if m3 >= SHORT_TOLD_M3 {
                format!(" ({})", grouped(m3, 0))
            } else {
                String::new()
            }
        })
        .collect();
    let wide = short.iter().map(|s| s.chars().count()).max().unwrap_or(0);
    months
        .iter()
        .zip(short)
        .map(|(m, s)| format!("{}{s:>wide$}", grouped(m.of(Flow::Delivered), 0)))
        .collect()
}
