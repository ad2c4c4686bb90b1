//! Months by number and name, 0 = January; a number past December starts over.

/// English names.
pub const NAMES: [&str; 12] = [
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

/// English names of three letters, as tables print them.
pub const SHORT: [&str; 12] = [
    "Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec",
];

/// Days of the months of a common year.
const DAYS: [usize; 12] = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

/// Month of every day of a year of 366 days, or else of 365.
///
/// ```
/// use daylift_units::month::of_days;
/// assert_eq!((of_days(365)[58], of_days(365)[59], of_days(366)[59]), (1, 2, 1));
/// ```
#[must_use]
pub fn of_days(days: u32) -> Vec<usize> {
    let leap = usize::from(days == 366);
    let with_leap = |month: usize| DAYS[month] + if month == 1 { leap } else { 0 };
    (0..12).flat_map(|month| std::iter::repeat_n(month, with_leap(month))).collect()
}

/// Name of a month.
#[must_use]
pub fn name(month: usize) -> &'static str {
    NAMES[month % 12]
}

/// Some months in words.
///
/// ```
/// use daylift_units::month::in_words;
/// assert_eq!(in_words(&[9]), "in October");
/// assert_eq!(in_words(&[1, 2, 3]), "in 3 months, first in February");
/// assert_eq!(in_words(&[0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11]), "in every month");
/// ```
#[must_use]
pub fn in_words(months: &[usize]) -> String {
    match months {
        [] => "in no month".to_owned(),
        [one] => format!("in {}", name(*one)),
        [_, ..] if months.len() == 12 => "in every month".to_owned(),
        [first, ..] => format!("in {} months, first in {}", months.len(), name(*first)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn short_names_are_the_beginnings_of_the_names() {
        for (name, short) in NAMES.iter().zip(SHORT) {
            assert!(short.len() == 3 && name.starts_with(short));
        }
    }
}
