//! Results and faults as text for a terminal.

pub(crate) mod compare_tables;
pub(crate) mod faults;
pub(crate) mod number;
pub(crate) mod plant;
pub(crate) mod run_tables;
pub(crate) mod table;
pub(crate) mod warnings;
pub(crate) mod working;

/// What every result says at its end.
pub(crate) const CAUTION: &str = "Figures are estimates from the inputs shown; the sun by the year and its source, the pump by its ISO 9906 grade and the\nwell by its test are uncertain by several per cent each. Local codes and licensed practice come first.\n";
