//! Timing.

use std::hint::black_box;
use std::time::Instant;

/// The minimum time of some runs \[s\]: other load on the machine only adds time.
pub(crate) fn least_s<T>(runs: usize, mut work: impl FnMut() -> T) -> f64 {
    let once = |_| {
        let begin = Instant::now();
        black_box(work());
        begin.elapsed().as_secs_f64()
    };
    least((0..runs).map(once))
}

/// The minimum of some numbers; infinity for none.
pub(crate) fn least(of: impl IntoIterator<Item = f64>) -> f64 {
    of.into_iter().fold(f64::INFINITY, f64::min)
}
