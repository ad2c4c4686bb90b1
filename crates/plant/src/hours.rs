//! Hours of the civil day in which something is allowed.

use daylift_units::fingerprint;

/// Allowed hours, a flag for each of the day's twenty-four.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct DayHours([bool; 24]);

fingerprint!(by Hash: DayHours);

impl DayHours {
    /// Every hour.
    pub const ALL: Self = Self([true; 24]);

    /// From one hour up to another; `from > to` passes midnight. Equal hours allow none.
    #[must_use]
    pub fn between(from_h: u8, to_h: u8) -> Self {
        let mut hours = [false; 24];
        for (h, allowed) in (0_u8..).zip(hours.iter_mut()) {
            *allowed = if from_h <= to_h {
                from_h <= h && h < to_h
            } else {
                h >= from_h || h < to_h
            };
        }
        Self(hours)
    }

    /// Whether an hour, 0 to 23, is allowed.
    #[must_use]
    pub fn allows(&self, hour: u8) -> bool {
        self.0[usize::from(hour) % 24]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hours_may_pass_midnight() {
        let night = DayHours::between(22, 5);
        assert!(night.allows(22) && night.allows(0) && night.allows(4));
        assert!(!night.allows(5) && !night.allows(21));
    }

    #[test]
    fn the_whole_day_is_from_0_to_24() {
        assert_eq!(DayHours::between(0, 24), DayHours::ALL);
    }
}
