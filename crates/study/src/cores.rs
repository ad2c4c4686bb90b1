//! Pieces of work on all cores, told one by one as they are done.

use std::sync::mpsc::{Sender, channel};

use rayon::prelude::*;

/// Runs every piece; `finished` hears how many are done.
pub(crate) fn on_all_cores<W: Sync, T: Send>(
    work: &[W],
    run: impl Fn(&W) -> T + Send + Sync,
    finished: &mut dyn FnMut(usize),
) -> Vec<T> {
    let (done, told) = channel();
    let all = move || {
        let one = |done: &mut Sender<()>, piece: &W| {
            let out = run(piece);
            // Nobody listens any more only when the listener has panicked.
            let _ = done.send(());
            out
        };
        work.par_iter().map_with(done, one).collect()
    };
    std::thread::scope(|scope| {
        let working = scope.spawn(all);
        told.iter().zip(1..).for_each(|((), count)| finished(count));
        working.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic))
    })
}
