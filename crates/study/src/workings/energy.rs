//! The share of the sun that was used.

use daylift_supply::LossCause;

use super::{Symbol, Working};
use crate::answer::Row;

pub(super) fn array_use_working(row: &Row) -> Option<Working> {
    let value = row.array_use?;
    let e = &row.array_kwh;
    let cables = e.lost.of(LossCause::Cables);
    let converted = LossCause::OF_USED.iter().map(|c| e.lost.of(*c)).sum::<f64>() - cables;
    Some(Working {
        name: "array-use".into(),
        title: format!("Share of the sun used, {}", row.id),
        value: value * 100.0,
        unit: "%".into(),
        formula: "100 * (P + L + B + X) / (A - V - C)".into(),
        symbols: vec![
            Symbol::new("P", "array energy at the pump motor's terminals", e.to_pump, "kWh"),
            Symbol::new("L", "array energy to the loads", e.to_loads, "kWh"),
            Symbol::new("B", "array energy to the battery", e.to_battery, "kWh"),
            Symbol::new("X", "exported at a credit", e.exported_paid, "kWh"),
            Symbol::new("A", "available at the maximum-power point after the array's own losses", e.available, "kWh"),
            Symbol::new("V", "conversion losses of what was used", converted, "kWh"),
            Symbol::new("C", "cable losses of what was used", cables, "kWh"),
        ],
        source: "a definition; energy given away unpaid does not count as used".into(),
        caution: "it depends on the ratio of array to pump input, the loads, the tank and the export agreement; a high share is no aim by itself".into(),
    })
}
