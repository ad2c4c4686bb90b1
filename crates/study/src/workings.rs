//! Workings: how a headline number is calculated, with formula, values, source and caution.
//!
//! The number comes from the same function as in the engine. A test evaluates the printed formula with the printed values
//! and compares the result with the number.

mod array;
mod capital;
mod hydraulics;
mod money;
mod pump;
mod remark;
mod shortage;
mod strings;
mod water;

use daylift_lift::PumpSet;
use daylift_plant::{Arrangement, Set, SetId};
pub(crate) use hydraulics::deepest_month;
use schemars::JsonSchema;
use serde::Serialize;

use crate::answer::Row;
use crate::stages::Stages;
use crate::year::ArrangementYear;

/// How a headline number is calculated.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Working {
    /// Name, as requested on the command line.
    pub name: String,
    /// What the number is.
    pub title: String,
    /// The number.
    pub value: f64,
    /// False for a money figure of a row that serves less than today; `caution` says what is missing.
    pub comparable: bool,
    /// Its unit.
    pub unit: String,
    /// The formula with the symbols below; `^` is a power.
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
    /// The symbol, as in the formula.
    pub symbol: String,
    /// What it means.
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

/// Names of all workings, in the order in which they are listed.
pub const NAMES: [&str; 30] = [
    "total-dynamic-head",
    "drawdown",
    "friction-head",
    "duty-flow",
    "shaft-power",
    "motor-input",
    "wire-to-water-efficiency",
    "start-frequency",
    "start-power",
    "bus-voltage-need",
    "array-peak-power",
    "array-to-pump-ratio",
    "cold-string-voltage",
    "string-reverse-current",
    "cell-temperature",
    "performance-ratio",
    "array-use",
    "daily-demand",
    "pumping-hours-needed",
    "hydraulic-energy",
    "water-secured",
    "water-secured-in-outages",
    "worst-shortage",
    "worst-shortage-in-days",
    "outage-share",
    "capital",
    "first-year-bill",
    "payback",
    "npv",
    "cost-per-m3",
];

/// How texts name an arrangement.
pub type Naming = fn(Arrangement) -> String;

/// Names an arrangement by its id.
pub(crate) fn name_by_id(row: Arrangement) -> String {
    row.to_string()
}

/// The inputs of workings: the plant and its stages, the year of a row and that of the reference.
pub(crate) struct Case<'a> {
    pub(crate) stages: &'a Stages<'a>,
    pub(crate) year: &'a ArrangementYear,
    pub(crate) reference: &'a ArrangementYear,
    pub(crate) row: &'a Row,
    pub(crate) names: Naming,
}

impl Case<'_> {
    /// Name of the row's arrangement.
    fn name(&self) -> String {
        (self.names)(self.row.id)
    }

    /// Name of the reference.
    fn reference_name(&self) -> String {
        (self.names)(self.reference.arrangement)
    }

    /// Workings of each pump set; their titles start with the set's name if there are several sets.
    fn of_each_set(&self, workings: impl Fn(SetId, &PumpSet) -> Vec<Working>) -> Vec<Working> {
        let sets = &self.stages.plant.sets;
        let several = sets.len() > 1;
        let of_set = |(index, set): (SetId, &Set)| {
            let name = several.then(|| set.name.clone());
            workings(index, &set.pump_set)
                .into_iter()
                .map(move |w| named(name.as_deref(), w))
                .collect::<Vec<_>>()
        };
        sets.iter_enumerated().flat_map(of_set).collect()
    }
}

/// Puts a part's name before a working's title, for a plant with several such parts.
fn named(name: Option<&str>, mut working: Working) -> Working {
    if let Some(name) = name {
        working.title = format!("{name}: {}", working.title);
    }
    working
}

/// The workings that apply to a row, in the order of [`NAMES`].
pub(crate) fn workings(case: &Case<'_>) -> Vec<Working> {
    let mut out = hydraulics::workings(case);
    out.extend(pump::workings(case));
    out.extend(array::workings(case));
    out.extend(strings::workings(case));
    out.extend(water::workings(case));
    out.extend(shortage::workings(case));
    out.extend(capital::workings(case));
    out.extend(money::workings(case));
    out.sort_by_key(|w| NAMES.iter().position(|name| *name == w.name));
    out
}
