//! Months by number and name.

const NAMES: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// Name of a month, 0 = January.
pub(crate) fn name(month: usize) -> &'static str {
    NAMES[month % 12]
}

/// Some months in words: `in October`, `in 3 months (first May)`, `in every month`.
pub(crate) fn in_words(months: &[usize]) -> String {
    match months {
        [] => "in no month".to_owned(),
        [one] => format!("in {}", name(*one)),
        [_, ..] if months.len() == 12 => "in every month".to_owned(),
        [first, ..] => format!("in {} months (first {})", months.len(), name(*first)),
    }
}
