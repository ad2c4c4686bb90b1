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

    /// Whether an hour is allowed.
    #[must_use]
    pub fn allows(&self, hour: Hour) -> bool {
        self.0[hour]
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
}
