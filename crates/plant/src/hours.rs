//! Hours of the civil day in which something is allowed.

use daylift_units::{Hour, Hourly, fingerprint};

/// Allowed hours: a flag for each of the day's 24 hours.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct DayHours(Hourly<bool>);

fingerprint!(by Hash: DayHours);

impl DayHours {
    /// Every hour.
    pub const ALL: Self = Self(Hourly::from_array([true; 24]));

    /// From one hour up to (excluding) another; `from_h > to_h` passes midnight. Equal hours allow none.
    #[must_use]
    pub fn between(from_h: u8, to_h: u8) -> Self {
        Self(Hourly::from_fn(|hour: Hour| {
            let h = hour.begins_h();
            if from_h <= to_h {
                from_h <= h && h < to_h
            } else {
                h >= from_h || h < to_h
            }
        }))
    }

    /// The hours that these or the others allow.
    #[must_use]
    pub fn or(self, others: Self) -> Self {
        Self(Hourly::from_fn(|hour| self.0[hour] || others.0[hour]))
    }

    /// The most windows that a plant file can give.
    pub const MOST_WINDOWS: usize = 2;

    /// The hours that are allowed.
    #[must_use]
    pub fn of(is_allowed: impl Fn(Hour) -> bool) -> Self {
        Self(Hourly::from_fn(is_allowed))
    }

    /// The hours that both these and the others allow.
    #[must_use]
    pub fn and(self, others: Self) -> Self {
        Self(Hourly::from_fn(|hour| self.0[hour] && others.0[hour]))
    }

    /// Whether an hour is allowed.
    #[must_use]
    pub fn allows(&self, hour: Hour) -> bool {
        self.0[hour]
    }

    /// Whether these hours and the others have an hour in common.
    #[must_use]
    pub fn overlaps(&self, others: &Self) -> bool {
        Hour::ALL.into_iter().any(|hour| self.allows(hour) && others.allows(hour))
    }

    /// The hours as windows, each from its first hour up to (excluding) its last, ordered by their beginning: `[[0, 24]]`
    /// for the whole day. A window may pass midnight.
    ///
    /// ```
    /// use daylift_plant::DayHours;
    /// let hours = DayHours::between(22, 6).or(DayHours::between(10, 15));
    /// assert_eq!(hours.windows(), [[10, 15], [22, 6]]);
    /// ```
    #[must_use]
    pub fn windows(&self) -> Vec<[u8; 2]> {
        if *self == Self::ALL {
            return vec![[0, 24]];
        }
        let day: [bool; 24] = Hour::ALL.map(|hour| self.allows(hour));
        let begins = (0..24).filter(|&h| day[h] && !day[(h + 23) % 24]);
        let window = |from: usize| {
            let hours = (0..24).take_while(|i| day[(from + i) % 24]).count();
            let to = from + hours;
            // A window that ends at midnight ends at 24, one that passes it at an hour of the next day.
            [from, if to > 24 { to - 24 } else { to }].map(|h| u8::try_from(h).unwrap_or(24))
        };
        begins.map(window).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hours_may_pass_midnight() {
        let night = DayHours::between(22, 5);
        assert!(night.allows(Hour::H22) && night.allows(Hour::H0) && night.allows(Hour::H4));
        assert!(!night.allows(Hour::H5) && !night.allows(Hour::H21));
    }

    #[test]
    fn the_whole_day_is_from_0_to_24() {
        assert_eq!(DayHours::between(0, 24), DayHours::ALL);
    }

    #[test]
    fn windows_are_the_hours_again() {
        for (hours, windows) in [
            (DayHours::ALL, vec![[0, 24]]),
            (DayHours::between(5, 5), vec![]),
            (DayHours::between(18, 24), vec![[18, 24]]),
            (DayHours::between(22, 5), vec![[22, 5]]),
            (DayHours::between(0, 3).or(DayHours::between(20, 24)), vec![[20, 3]]),
            (DayHours::between(6, 10).or(DayHours::between(10, 12)), vec![[6, 12]]),
        ] {
            assert_eq!(hours.windows(), windows);
        }
    }

    #[test]
    fn windows_overlap_only_where_they_share_an_hour() {
        let night = DayHours::between(22, 6);
        assert!(night.overlaps(&DayHours::between(5, 8)) && !night.overlaps(&DayHours::between(6, 22)));
    }
}
