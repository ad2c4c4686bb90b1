//! Months of the civil year, and tables with one value for each month.

use enum_map::{Enum, EnumMap};
use jiff::civil;

use crate::fingerprint;

/// A month of the civil year.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Enum)]
#[repr(u8)]
pub enum Month {
    /// January.
    January,
    /// February.
    February,
    /// March.
    March,
    /// April.
    April,
    /// May.
    May,
    /// June.
    June,
    /// July.
    July,
    /// August.
    August,
    /// September.
    September,
    /// October.
    October,
    /// November.
    November,
    /// December.
    December,
}

fingerprint!(by Hash: Month);

/// One value for each month, January first.
pub type Monthly<T> = EnumMap<Month, T>;

impl Month {
    /// All months, January first.
    pub const ALL: [Self; 12] = [
        Self::January,
        Self::February,
        Self::March,
        Self::April,
        Self::May,
        Self::June,
        Self::July,
        Self::August,
        Self::September,
        Self::October,
        Self::November,
        Self::December,
    ];

    /// The month of a date.
    #[must_use]
    pub fn of(date: civil::Date) -> Self {
        // A date's month is within 1 to 12.
        Self::numbered(date.month().unsigned_abs()).unwrap_or(Self::January)
    }

    /// The month with this number, 1 = January; `None` for a number outside 1 to 12.
    ///
    /// ```
    /// use daylift_units::Month;
    /// assert_eq!(Month::numbered(2), Some(Month::February));
    /// assert_eq!((Month::numbered(0), Month::numbered(13)), (None, None));
    /// ```
    #[must_use]
    pub fn numbered(number: u8) -> Option<Self> {
        Self::ALL.get(usize::from(number).checked_sub(1)?).copied()
    }

    /// Number of the month, 1 = January.
    #[must_use]
    pub fn number(self) -> u8 {
        self as u8 + 1
    }

    /// The following month; January after December.
    #[must_use]
    pub fn next(self) -> Self {
        Self::numbered(self.number() + 1).unwrap_or(Self::January)
    }

    /// Name in English.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::January => "January",
            Self::February => "February",
            Self::March => "March",
            Self::April => "April",
            Self::May => "May",
            Self::June => "June",
            Self::July => "July",
            Self::August => "August",
            Self::September => "September",
            Self::October => "October",
            Self::November => "November",
            Self::December => "December",
        }
    }

    /// The first three letters of the English name, as tables print it.
    #[must_use]
    pub fn short(self) -> &'static str {
        &self.name()[..3]
    }

    /// Days of the month, in a common or a leap year.
    #[must_use]
    pub fn days(self, leap: bool) -> u32 {
        match self {
            Self::April | Self::June | Self::September | Self::November => 30,
            Self::February => 28 + u32::from(leap),
            _ => 31,
        }
    }

    /// The month of every day of a year of 366 days; any other number of days gives a year of 365.
    ///
    /// ```
    /// use daylift_units::Month;
    /// assert_eq!(Month::of_days(365)[58..60], [Month::February, Month::March]);
    /// assert_eq!(Month::of_days(366)[58..60], [Month::February, Month::February]);
    /// ```
    #[must_use]
    pub fn of_days(days: u32) -> Vec<Self> {
        let month = |month: Self| std::iter::repeat_n(month, month.days(days == 366) as usize);
        Self::ALL.into_iter().flat_map(month).collect()
    }

    /// A list of months in words.
    ///
    /// ```
    /// use daylift_units::Month;
    /// assert_eq!(Month::in_words(&[Month::October]), "in October");
    /// assert_eq!(Month::in_words(&[Month::February, Month::March, Month::April]), "in 3 months, first in February");
    /// assert_eq!(Month::in_words(&Month::ALL), "in every month");
    /// ```
    #[must_use]
    pub fn in_words(months: &[Self]) -> String {
        match months {
            [] => "in no month".to_owned(),
            [one] => format!("in {}", one.name()),
            [_, ..] if months.len() == 12 => "in every month".to_owned(),
            [first, ..] => format!("in {} months, first in {}", months.len(), first.name()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_and_days_are_those_of_the_calendar() {
        for (number, month) in (1..=12).zip(Month::ALL) {
            assert_eq!((month.number(), Month::numbered(number)), (number, Some(month)));
            assert_eq!(month.next().number(), if number == 12 { 1 } else { number + 1 });
            for (year, leap) in [(2023, false), (2024, true)] {
                let date = civil::date(year, number.cast_signed(), 1);
                assert_eq!(Month::of(date), month);
                assert_eq!(month.days(leap), u32::from(date.days_in_month().unsigned_abs()));
            }
        }
    }

    #[test]
    fn short_names_have_three_letters() {
        assert_eq!(Month::ALL.map(Month::short)[4..7], ["May", "Jun", "Jul"]);
        assert!(Month::ALL.iter().all(|month| month.short().len() == 3));
    }

    #[test]
    fn a_month_takes_one_byte() {
        assert_eq!(size_of::<Option<Month>>(), 1);
        assert_eq!(size_of::<Monthly<f64>>(), size_of::<[f64; 12]>());
    }
}
