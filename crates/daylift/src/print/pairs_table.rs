//! What each comparable row adds to every cheaper one.

use daylift_present::number::{grouped, payback};
use daylift_present::say;
use daylift_present::table::with_unit;
use daylift_study::Comparison;

use super::table;

/// A line for each pair of comparable rows; empty if there is none.
pub(crate) fn text(full: &Comparison) -> String {
    let pairs = full.pairs();
    if pairs.is_empty() {
        return String::new();
    }
    let saving = format!("{}\n{}", say!("pairs-saving"), say!("pairs-saving.second"));
    let header = [
        say!("pairs-of"),
        say!("pairs-against"),
        say!("money-capital"),
        saving,
        say!("answer-payback.terminal"),
        say!("money-npv"),
    ];
    let mut table = table::new(&header);
    for pair in &pairs {
        table.add_row([
            pair.of.to_string(),
            pair.against.to_string(),
            grouped(pair.capital, 0),
            grouped(pair.saving_per_year, 0),
            payback(pair.payback_years, full.years),
            grouped(pair.npv, 0),
        ]);
    }
    let currency = full.rows.first().map_or("", |one| one.row.money.currency.as_str());
    let title = with_unit(&say!("pairs-title"), currency);
    format!("\n  {title}\n\n{}", table::text(&table))
}
