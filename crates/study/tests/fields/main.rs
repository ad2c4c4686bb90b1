//! Every declared field of every file, read by the whole reader. Outside its range, the fault gives its name and range;
//! within its range, it has an effect.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test fails by panicking")]

mod copy;
mod effects;
mod ranges;

use std::sync::Mutex;
use std::thread;

/// Runs a job for every item, on as many threads as there are cores, and collects the jobs' complaints.
fn complaints<T: Sync>(items: &[T], job: impl Fn(&T) -> Option<String> + Sync) -> Vec<String> {
    let next = Mutex::new(items.iter());
    let out = Mutex::new(Vec::new());
    let threads = thread::available_parallelism().map_or(1, std::num::NonZero::get);
    thread::scope(|scope| {
        for _ in 0..threads {
            scope.spawn(|| {
                loop {
                    let item = next.lock().unwrap().next();
                    let Some(item) = item else { break };
                    if let Some(complaint) = job(item) {
                        out.lock().unwrap().push(complaint);
                    }
                }
            });
        }
    });
    out.into_inner().unwrap()
}
