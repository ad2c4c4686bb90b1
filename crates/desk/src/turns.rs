//! Whose turn it is: of many requests that one page sends while a slider moves, the latest is answered.

use std::collections::HashMap;
use std::sync::{Mutex, PoisonError};

use tokio::sync::Semaphore;

/// Pages remembered; beyond that the oldest knowledge is dropped.
const MOST_PAGES: usize = 256;

/// Requests wait here; one is computed at a time.
#[derive(Debug)]
pub(crate) struct Turns {
    free: Semaphore,
    newest: Mutex<HashMap<String, u64>>,
}

/// A newer request of the same page has come.
#[derive(Debug, PartialEq, Eq)]
pub(crate) struct Overtaken;

impl Turns {
    pub(crate) fn new() -> Self {
        Self {
            free: Semaphore::new(1),
            newest: Mutex::default(),
        }
    }

    /// Runs `work` on a thread of its own when nobody else's runs, unless the page has asked again since.
    pub(crate) async fn take<T: Send + 'static>(
        &self,
        page: &str,
        number: u64,
        work: impl FnOnce() -> T + Send + 'static,
    ) -> Result<T, Overtaken> {
        self.note(page, number);
        let Ok(_turn) = self.free.acquire().await else {
            return Err(Overtaken);
        };
        if self.is_overtaken(page, number) {
            return Err(Overtaken);
        }
        match tokio::task::spawn_blocking(work).await {
            Ok(done) => Ok(done),
            Err(failed) => match failed.try_into_panic() {
                Ok(panic) => std::panic::resume_unwind(panic),
                Err(_) => Err(Overtaken),
            },
        }
    }

    fn note(&self, page: &str, number: u64) {
        let mut newest = self.newest.lock().unwrap_or_else(PoisonError::into_inner);
        if newest.len() >= MOST_PAGES && !newest.contains_key(page) {
            newest.clear();
        }
        let latest = newest.entry(page.to_owned()).or_default();
        *latest = number.max(*latest);
    }

    fn is_overtaken(&self, page: &str, number: u64) -> bool {
        let newest = self.newest.lock().unwrap_or_else(PoisonError::into_inner);
        newest.get(page).is_some_and(|latest| *latest > number)
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test fails by panicking")]
mod tests {
    use std::sync::Arc;
    use std::sync::atomic::{AtomicU32, Ordering};
    use std::time::Duration;

    use super::*;

    #[test]
    fn of_a_hundred_requests_only_the_first_and_the_last_are_computed() {
        let runtime = tokio::runtime::Builder::new_multi_thread().build().unwrap();
        let (turns, done) = (Arc::new(Turns::new()), Arc::new(AtomicU32::new(0)));
        let answers = runtime.block_on(async {
            let mut waiting = Vec::new();
            for number in 1..=100 {
                let (turns, done) = (Arc::clone(&turns), Arc::clone(&done));
                let work = move || {
                    std::thread::sleep(Duration::from_millis(200));
                    done.fetch_add(1, Ordering::SeqCst);
                    number
                };
                waiting.push(tokio::spawn(async move { turns.take("page", number, work).await }));
            }
            let mut answers = Vec::new();
            for one in waiting {
                answers.push(one.await.unwrap());
            }
            answers
        });
        assert_eq!(answers.last(), Some(&Ok(100)));
        assert!(done.load(Ordering::SeqCst) <= 3, "{done:?} were computed");
        assert!(answers.iter().filter(|answer| **answer == Err(Overtaken)).count() >= 97);
    }

    #[test]
    fn pages_do_not_overtake_each_other() {
        let turns = Turns::new();
        turns.note("a", 5);
        turns.note("b", 1);
        assert!(turns.is_overtaken("a", 4) && !turns.is_overtaken("a", 5) && !turns.is_overtaken("b", 1));
    }
}
