//! Hour-ending stamps of a year, in order: month/day and 01:00 to 24:00.

use std::fmt;

use daylift_units::Month;

/// The hour expected in a row.
pub(crate) struct Stamp {
    month: Month,
    day: u32,
    hour: u32,
}

impl Stamp {
    pub(crate) const FIRST: Self = Self {
        month: Month::January,
        day: 1,
        hour: 1,
    };

    /// Whether it equals the given month, day and hour.
    pub(crate) fn is(&self, given: Option<[u32; 3]>) -> bool {
        given == Some([u32::from(self.month.number()), self.day, self.hour])
    }

    pub(crate) fn advance(&mut self, days: u32) {
        self.hour += 1;
        if self.hour > 24 {
            self.hour = 1;
            self.day += 1;
        }
        if self.day > self.month.days(days == 366) {
            self.day = 1;
            self.month = self.month.next();
        }
    }
}

impl fmt::Display for Stamp {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:02}/{:02} {:02}:00", self.month.number(), self.day, self.hour)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_leap_year_has_a_twenty_ninth_of_february() {
        for (days, rows, last_of_february) in [(365, 8760, "02/28 24:00"), (366, 8784, "02/29 24:00")] {
            let mut stamp = Stamp::FIRST;
            let mut february = String::new();
            for _ in 0..rows {
                if stamp.month == Month::February {
                    february = stamp.to_string();
                }
                stamp.advance(days);
            }
            assert_eq!(february, last_of_february);
            assert_eq!(stamp.to_string(), "01/01 01:00");
        }
    }
}
