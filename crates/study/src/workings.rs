//! Workings: headline numbers with formula, values, source and caution.
//!
//! A working calls the same function as the engine; a test evaluates its printed formula with its printed values and
//! gets the headline.

mod energy;
mod hydraulics;
mod payback;

use daylift_money::RowCosts;
use daylift_plant::Plant;
use schemars::JsonSchema;
use serde::Serialize;

use crate::answer::Row;

/// How a headline number came about.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Working {
    /// Name to ask for it by.
    pub name: String,
    /// What it is.
    pub title: String,
    /// The number.
    pub value: f64,
    /// Its unit.
    pub unit: String,
    /// The formula in the symbols below; `^` is a power.
    pub formula: String,
    /// The symbols and their values.
    pub symbols: Vec<Symbol>,
    /// Where the formula comes from.
    pub source: String,
    /// What to keep in mind.
    pub caution: String,
}

/// A symbol of a formula.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Symbol {
    /// As in the formula.
    pub symbol: String,
    /// What it is.
    pub meaning: String,
    /// Its value.
    pub value: f64,
    /// Its unit.
    pub unit: String,
}

impl Symbol {
    fn new(symbol: &str, meaning: &str, value: f64, unit: &str) -> Self {
        Self {
            symbol: symbol.to_owned(),
            meaning: meaning.to_owned(),
            value,
            unit: unit.to_owned(),
        }
    }
}

/// Names of the workings in the order in which they are listed.
pub const NAMES: [&str; 5] = [
    "total-dynamic-head",
    "duty-flow",
    "wire-to-water-efficiency",
    "array-use",
    "payback",
];

/// The workings that apply to a row.
#[must_use]
pub fn workings(plant: &Plant, row: &Row, costs: &RowCosts, reference: &RowCosts) -> Vec<Working> {
    let mut out = Vec::new();
    for set in &plant.sets {
        let name = (plant.sets.len() > 1).then_some(set.name.as_str());
        if let Some(duty) = hydraulics::DeepestDuty::new(&set.pump_set, name) {
            out.extend([duty.total_dynamic_head(), duty.duty_flow(), duty.wire_to_water()]);
        }
    }
    out.extend(energy::array_use_working(row));
    out.extend(payback::payback_working(plant, row, costs, reference));
    out
}
