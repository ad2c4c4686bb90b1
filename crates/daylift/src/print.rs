//! Results and faults as text for a terminal.

pub(crate) mod bands;
pub(crate) mod bars;
pub(crate) mod changes;
pub(crate) mod compare_tables;
pub(crate) mod faults;
pub(crate) mod flows;
pub(crate) mod month_table;
pub(crate) mod number;
pub(crate) mod page;
pub(crate) mod plant;
pub(crate) mod run_tables;
pub(crate) mod stack;
pub(crate) mod strings_tables;
pub(crate) mod table;
pub(crate) mod warnings;
pub(crate) mod working;

/// What every result says at its end.
pub(crate) fn caution(width: usize) -> String {
    let text = "Figures are estimates from the inputs shown; the sun by the year and its source, the pump by its ISO 9906 \
                grade and the well by its test are uncertain by several per cent each. Local codes and licensed practice \
                come first.";
    page::hang(text, width, 0) + "\n"
}
