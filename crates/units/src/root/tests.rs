use std::cell::Cell;

use proptest::prelude::*;

use super::{FOUND, PATIENCE, bracketed, bracketed_within};

/// The most evaluations a search to `share` may need: the two ends, then one per step.
fn most_evaluations(share: f64) -> u32 {
    let mut halvings = 0;
    while 0.5_f64.powi(halvings) >= share {
        halvings += 1;
    }
    2 + PATIENCE + u32::try_from(halvings).unwrap()
}

/// Root and number of evaluations.
fn counted(share: f64, low: f64, high: f64, f: impl Fn(f64) -> f64) -> (Option<f64>, u32) {
    let asked = Cell::new(0);
    let found = bracketed_within(share, low, high, |x| {
        assert!(
            low.min(high) <= x && x <= high.max(low),
            "{x} is outside of the interval"
        );
        asked.set(asked.get() + 1);
        f(x)
    });
    (found, asked.get())
}

#[test]
fn published_roots_are_found_in_few_steps() {
    // x³ = 2x + 5 (Wallis 1685); the constants of Dottie (OEIS A003957) and Ω (OEIS A030178), from memory.
    type Case = (f64, f64, fn(f64) -> f64, f64);
    let cases: [Case; 3] = [
        (2.0, 3.0, |x| x * x * x - 2.0 * x - 5.0, 2.094_551_481_542_326_6),
        (0.0, 1.0, |x| x.cos() - x, 0.739_085_133_215_160_6),
        (0.0, 1.0, |x| x * x.exp() - 1.0, 0.567_143_290_409_783_8),
    ];
    for (low, high, f, root) in cases {
        let (found, asked) = counted(FOUND, low, high, f);
        assert!((found.unwrap() - root).abs() < 1e-13, "{found:?} for {root}");
        assert!(asked <= 12, "{asked} evaluations");
    }
}

#[test]
fn flat_and_steep_roots_are_both_found() {
    // x³ = 0.001 has the root 0.1; 1/x = 4 the root 0.25.
    assert!((bracketed(0.0, 1.0, |x| x * x * x - 0.001).unwrap() - 0.1).abs() < 1e-12);
    assert!((bracketed(0.1, 5.0, |x| (1.0 / x - 4.0) / 6.0).unwrap() - 0.25).abs() < 1e-12);
}

#[test]
fn without_a_change_of_sign_there_is_no_root() {
    assert!(bracketed(0.0, 1.0, |x| x + 1.0).is_none());
    assert!(bracketed(0.0, 1.0, |x| -x - 1.0).is_none());
    // The product of two such values underflows to 0 in f64.
    assert!(bracketed(0.0, 1.0, |_| 1e-200).is_none());
}

#[test]
fn degenerate_brackets_behave_as_documented() {
    let root = |low, high, f: fn(f64) -> f64| bracketed(low, high, f);
    assert_eq!(root(2.0, 5.0, |x| x - 2.0), Some(2.0));
    assert_eq!(root(2.0, 5.0, |x| x - 5.0), Some(5.0));
    assert!([Some(2.0), Some(5.0)].contains(&root(2.0, 5.0, |_| 0.0)));
    assert_eq!(root(3.0, 3.0, |x| x - 3.0), Some(3.0));
    assert_eq!(root(3.0, 3.0, |x| x - 2.0), None);
    assert!((root(5.0, 1.0, |x| x - 2.0).unwrap() - 2.0).abs() < 1e-12);
    assert_eq!(root(0.0, f64::INFINITY, |x| x - 1.0), None);
    assert_eq!(root(0.0, f64::NAN, |x| x - 1.0), None);
    assert_eq!(root(0.0, 1.0, |x| if x > 0.9 { f64::NAN } else { x - 0.5 }), None);
    // Infinite at one end: bisected.
    assert!((root(0.0, 1.0, |x| 0.5 - 1.0 / (8.0 * x)).unwrap() - 0.25).abs() < 1e-12);
    // NaN in the middle: the better of the known ends.
    assert_eq!(
        root(0.0, 1.0, |x| if x % 1.0 > 0.0 { f64::NAN } else { x - 0.4 }),
        Some(0.0)
    );
}

proptest! {
    #[test]
    fn the_root_of_a_monotonic_function_is_found(
        low in -1e3..1e3_f64,
        span in 1e-3..1e4_f64,
        place in 0.0..1.0_f64,
        power in 0.2..6.0_f64,
        steep in 0.1..200.0_f64,
        rising in any::<bool>(),
    ) {
        // Odd about its root, flat for a large power, steep for a small one, and of the order of 1.
        let root = low + span * place;
        let f = move |x: f64| {
            let off = (x - root) / span;
            let bent = off.signum() * off.abs().powf(power);
            (if rising { bent } else { -bent }) + (steep * off).tanh() * if rising { 0.1 } else { -0.1 }
        };
        let (found, asked) = counted(FOUND, low, low + span, f);
        let found = found.unwrap();
        let rounding = 4.0 * f64::EPSILON * (low.abs() + span);
        let near = (found - root).abs() <= FOUND * span + rounding;
        prop_assert!(near || f(found).abs() < FOUND, "{found} for {root}");
        prop_assert!(asked <= most_evaluations(FOUND), "{asked} evaluations");
    }

    #[test]
    fn a_jump_is_located_within_the_promised_number_of_steps(
        place in 1e-6..1.0_f64,
        below in 1e-300..1e3_f64,
        above in 1e-300..1e3_f64,
        digits in 1..14_i32,
    ) {
        // Interpolation cannot help at a jump.
        let share = 10.0_f64.powi(-digits);
        let (found, asked) = counted(share, 0.0, 1.0, |x| if x < place { -below } else { above });
        let found = found.unwrap();
        prop_assert!((found - place).abs() <= share || below.min(above) < share);
        prop_assert!(asked <= most_evaluations(share), "{asked} evaluations");
    }
}
