//! Hours of the civil day, and tables with one value for each hour.

use enum_map::{Enum, EnumMap};
use jiff::civil;

use crate::{Monthly, fingerprint};

/// An hour of the civil day.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Enum)]
#[repr(u8)]
pub enum Hour {
    /// 0:00 to 1:00.
    H0,
    /// 1:00 to 2:00.
    H1,
    /// 2:00 to 3:00.
    H2,
    /// 3:00 to 4:00.
    H3,
    /// 4:00 to 5:00.
    H4,
    /// 5:00 to 6:00.
    H5,
    /// 6:00 to 7:00.
    H6,
    /// 7:00 to 8:00.
    H7,
    /// 8:00 to 9:00.
    H8,
    /// 9:00 to 10:00.
    H9,
    /// 10:00 to 11:00.
    H10,
    /// 11:00 to 12:00.
    H11,
    /// 12:00 to 13:00.
    H12,
    /// 13:00 to 14:00.
    H13,
    /// 14:00 to 15:00.
    H14,
    /// 15:00 to 16:00.
    H15,
    /// 16:00 to 17:00.
    H16,
    /// 17:00 to 18:00.
    H17,
    /// 18:00 to 19:00.
    H18,
    /// 19:00 to 20:00.
    H19,
    /// 20:00 to 21:00.
    H20,
    /// 21:00 to 22:00.
    H21,
    /// 22:00 to 23:00.
    H22,
    /// 23:00 to 24:00.
    H23,
}

fingerprint!(by Hash: Hour);

/// One value for each hour of the civil day, starting with 0:00.
pub type Hourly<T> = EnumMap<Hour, T>;

/// One value for each month and each hour of the civil day.
pub type MonthHour<T> = Monthly<Hourly<T>>;

impl Hour {
    /// All hours, starting with 0:00.
    #[rustfmt::skip]
    pub const ALL: [Self; 24] = [
        Self::H0, Self::H1, Self::H2, Self::H3, Self::H4, Self::H5,
        Self::H6, Self::H7, Self::H8, Self::H9, Self::H10, Self::H11,
        Self::H12, Self::H13, Self::H14, Self::H15, Self::H16, Self::H17,
        Self::H18, Self::H19, Self::H20, Self::H21, Self::H22, Self::H23,
    ];

    /// The hour that contains a time of day.
    #[must_use]
    pub fn of(time: civil::Time) -> Self {
        // A time's hour is within 0 to 23.
        Self::beginning_at(time.hour().unsigned_abs()).unwrap_or(Self::H0)
    }

    /// The hour that begins at this full hour of the clock, 0 to 23; `None` for other numbers.
    ///
    /// ```
    /// use daylift_units::Hour;
    /// assert_eq!(Hour::beginning_at(23), Some(Hour::H23));
    /// assert_eq!(Hour::beginning_at(24), None);
    /// ```
    #[must_use]
    pub fn beginning_at(full_hour: u8) -> Option<Self> {
        Self::ALL.get(usize::from(full_hour)).copied()
    }

    /// The full hour of the clock at which the hour begins, 0 to 23.
    #[must_use]
    pub fn begins_h(self) -> u8 {
        self as u8
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hours_are_those_of_the_clock() {
        for (begins_h, hour) in (0..).zip(Hour::ALL) {
            assert_eq!((hour.begins_h(), Hour::beginning_at(begins_h)), (begins_h, Some(hour)));
            assert_eq!(Hour::of(civil::time(begins_h.cast_signed(), 59, 59, 0)), hour);
        }
    }

    #[test]
    fn an_hour_takes_one_byte() {
        assert_eq!(size_of::<Option<Hour>>(), 1);
        assert_eq!(size_of::<MonthHour<u16>>(), size_of::<[[u16; 24]; 12]>());
    }
}
