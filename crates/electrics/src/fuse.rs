//! String fuses.

/// Ratings of PV fuses \[A\] (from memory of IEC 60269-6 and of common sizes).
const RATINGS_A: [f64; 19] = [
    1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 15.0, 16.0, 20.0, 25.0, 30.0, 32.0, 35.0, 40.0, 50.0, 63.0,
];
/// A string fuse's rating is above this factor times the string's short-circuit current (IEC 62548).
pub(crate) const MIN_RATING_FACTOR: f64 = 1.5;
/// The rating is below this factor times the string's short-circuit current (IEC 62548).
const MAX_RATING_FACTOR: f64 = 2.4;

/// Strings in parallel and the fuses that they need.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fuse {
    /// Strings in parallel.
    pub parallel: u32,
    /// Reverse current that the other strings can drive through one string \[A\]: (N − 1)·I_sc.
    pub reverse_a: f64,
    /// Whether each string needs a fuse: the reverse current exceeds the module's maximum fuse rating.
    pub needed: bool,
    /// The rating must be above this \[A\]: 1.5·I_sc.
    pub above_a: f64,
    /// The rating must be below this \[A\]: 2.4·I_sc.
    pub below_a: f64,
    /// The module's maximum fuse rating \[A\].
    pub module_a: f64,
    /// The smallest suitable rating \[A\]; `None` when no fuse is needed, or when no rating is suitable.
    pub rating_a: Option<f64>,
}

impl Fuse {
    /// Fuses for `parallel` strings with a short-circuit current \[A\], of modules with a maximum fuse rating `module_a` \[A\].
    ///
    /// ```
    /// // 4 strings of 12.28 A, module's maximum fuse 20 A: 36.84 A > 20 A, 18.42 A < I_n < 29.47 A: 20 A.
    /// let fuse = daylift_electrics::Fuse::of(4, 12.28, 20.0);
    /// assert_eq!((fuse.needed, fuse.rating_a), (true, Some(20.0)));
    /// ```
    #[must_use]
    pub fn of(parallel: u32, short_circuit_a: f64, module_a: f64) -> Self {
        let reverse_a = f64::from(parallel.saturating_sub(1)) * short_circuit_a;
        let (above_a, below_a) = (MIN_RATING_FACTOR * short_circuit_a, MAX_RATING_FACTOR * short_circuit_a);
        let needed = reverse_a > module_a;
        let is_suitable = |rating_a: &f64| *rating_a > above_a && *rating_a < below_a && *rating_a <= module_a;
        Self {
            parallel,
            reverse_a,
            needed,
            above_a,
            below_a,
            module_a,
            rating_a: RATINGS_A.iter().copied().find(is_suitable).filter(|_| needed),
        }
    }

    /// Whether a fuse is needed and no rating is suitable.
    #[must_use]
    pub fn is_impossible(&self) -> bool {
        self.needed && self.rating_a.is_none()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Worked by hand, no published source: five strings of 9.43 A, maximum fuse 15 A; 2 + 2 + 1 on the inverter.
    #[test]
    fn five_strings_need_fuses_on_the_drive_and_none_on_the_inverter() {
        let on_inverter = Fuse::of(2, 9.43, 15.0);
        assert!(!on_inverter.needed && on_inverter.rating_a.is_none());
        let on_drive = Fuse::of(5, 9.43, 15.0);
        assert!((on_drive.reverse_a - 37.7).abs() < 0.05);
        assert!((on_drive.above_a - 14.1).abs() < 0.05 && (on_drive.below_a - 22.6).abs() < 0.05);
        assert_eq!(on_drive.rating_a, Some(15.0));
    }

    /// IS/IEC 62548, as quoted by a maker: 5.75 A · 1.5 = 8.625 A, a 10 A fuse.
    #[test]
    fn the_smallest_rating_above_one_and_a_half_times_the_current() {
        assert_eq!(Fuse::of(9, 5.75, 15.0).rating_a, Some(10.0));
    }

    #[test]
    fn no_fuse_is_suitable_for_a_module_with_too_low_a_maximum() {
        // 1.5 · 13.8 A = 20.7 A is above the module's 20 A.
        assert!(Fuse::of(3, 13.8, 20.0).is_impossible());
        assert!(!Fuse::of(2, 13.8, 20.0).is_impossible());
        assert!(!Fuse::of(0, 13.8, 20.0).needed);
    }
}
