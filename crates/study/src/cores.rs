//! Runs pieces of work on all cores and reports each finished piece.

use std::sync::mpsc::{Sender, channel};

use rayon::prelude::*;

/// Runs every piece. `finished` is called with the number of pieces done. The results are in the order of `work`.
pub(crate) fn on_all_cores<W: Sync, T: Send>(
    work: &[W],
    run: impl Fn(&W) -> T + Send + Sync,
    finished: &mut dyn FnMut(usize),
) -> Vec<T> {
    let (done, reports) = channel();
    let all = move || {
        let one = |done: &mut Sender<()>, piece: &W| {
            let out = run(piece);
            // Sending fails only after a panic of the receiving thread.
            let _ = done.send(());
            out
        };
        work.par_iter().map_with(done, one).collect()
    };
    std::thread::scope(|scope| {
        let working = scope.spawn(all);
        reports.iter().zip(1..).for_each(|((), count)| finished(count));
        working.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic))
    })
}
