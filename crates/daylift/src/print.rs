//! Results and faults as text for a terminal.

pub(crate) mod bands;
pub(crate) mod bars;
pub(crate) mod changes;
pub(crate) mod compare_tables;
pub(crate) mod faults;
pub(crate) mod month_table;
pub(crate) mod page;
pub(crate) mod pairs_table;
pub(crate) mod plant;
pub(crate) mod run_tables;
pub(crate) mod stack;
pub(crate) mod strings_tables;
pub(crate) mod table;
pub(crate) mod warnings;
pub(crate) mod working;

use daylift_present::say;

/// What every result says at its end.
pub(crate) fn caution(width: usize) -> String {
    page::hang(&say!("caution-estimates.terminal"), width, 0) + "\n"
}
