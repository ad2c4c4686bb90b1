//! String fuses.

/// Ratings of PV fuses \[A\] (series of IEC 60269-6, from memory).
const RATINGS_A: [f64; 19] = [
    1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 15.0, 16.0, 20.0, 25.0, 30.0, 32.0, 35.0, 40.0, 50.0, 63.0,
];
/// A string fuse is above this times the string's short-circuit current (IEC 62548).
pub(crate) const LEAST: f64 = 1.5;
/// And below this times it.
const GREATEST: f64 = 2.4;

/// Strings in parallel and the fuses that they need.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fuse {
    /// Strings in parallel.
    pub parallel: u32,
    /// Current that the others can drive through one \[A\]: (N − 1)·I_sc.
    pub reverse_a: f64,
    /// Whether each string needs a fuse: the reverse current is above the module's greatest fuse.
    pub needed: bool,
    /// A fuse is above this \[A\]: 1.5·I_sc.
    pub above_a: f64,
    /// And below this \[A\]: 2.4·I_sc.
    pub below_a: f64,
    /// The module's greatest fuse \[A\].
    pub module_a: f64,
    /// The smallest rating that does; `None` when none is needed, or when none does.
    pub rating_a: Option<f64>,
}

impl Fuse {
    /// Of strings with a short-circuit current, of modules that bear `module_a` in series.
    ///
    /// ```
    /// // 4 strings, 12.28 A, module's greatest fuse 20 A: 36.84 A > 20 A, 18.42 A < I_n < 29.47 A: 20 A.
    /// let fuse = daylift_electrics::Fuse::of(4, 12.28, 20.0);
    /// assert_eq!((fuse.needed, fuse.rating_a), (true, Some(20.0)));
    /// ```
    #[must_use]
    pub fn of(parallel: u32, short_circuit_a: f64, module_a: f64) -> Self {
        let reverse_a = f64::from(parallel.saturating_sub(1)) * short_circuit_a;
        let (above_a, below_a) = (LEAST * short_circuit_a, GREATEST * short_circuit_a);
        let needed = reverse_a > module_a;
        let does = |rating_a: &f64| *rating_a > above_a && *rating_a < below_a && *rating_a <= module_a;
        Self {
            parallel,
            reverse_a,
            needed,
            above_a,
            below_a,
            module_a,
            rating_a: RATINGS_A.iter().copied().find(does).filter(|_| needed),
        }
    }

    /// Whether a fuse is needed and none does.
    #[must_use]
    pub fn is_impossible(&self) -> bool {
        self.needed && self.rating_a.is_none()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Worked by hand, no published source: five strings of 9.43 A, modules that bear 15 A; 2 + 2 + 1 on the inverter.
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
    fn a_module_that_bears_too_little_has_no_fuse() {
        // 1.5 · 13.8 A = 20.7 A is above the module's 20 A.
        assert!(Fuse::of(3, 13.8, 20.0).is_impossible());
        assert!(!Fuse::of(2, 13.8, 20.0).is_impossible());
        assert!(!Fuse::of(0, 13.8, 20.0).needed);
    }
}
