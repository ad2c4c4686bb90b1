//! Whose turn it is: of many requests that one page sends while a slider moves, the latest is answered.

use std::collections::HashMap;
use std::sync::{Arc, Mutex, PoisonError};

use tokio::sync::Semaphore;

/// Pages remembered; beyond that the oldest knowledge is dropped.
const MOST_PAGES: usize = 256;

/// Requests wait here; one is computed at a time.
#[derive(Debug)]
pub(crate) struct Turns {
    free: Arc<Semaphore>,
    newest: Mutex<HashMap<String, u64>>,
}

/// Why a turn brings nothing.
#[derive(Debug, PartialEq, Eq)]
pub(crate) enum Missed {
    /// A newer request of the same page has come.
    Overtaken,
    /// The work failed midway, which its own message on the error stream tells.
    Broken,
}

impl Turns {
    pub(crate) fn new() -> Self {
        Self {
            free: Arc::new(Semaphore::new(1)),
            newest: Mutex::default(),
        }
    }

    /// Runs `work` on a thread of its own when nobody else's runs, unless the page has asked again since.
    pub(crate) async fn take<T: Send + 'static>(
        &self,
        page: &str,
        number: u64,
        work: impl FnOnce() -> T + Send + 'static,
    ) -> Result<T, Missed> {
        self.note(page, number);
        let Ok(turn) = Arc::clone(&self.free).acquire_owned().await else {
            return Err(Missed::Broken);
        };
        if self.is_overtaken(page, number) {
            return Err(Missed::Overtaken);
        }
        let work = move || {
            // Whoever asked may go away meanwhile; the turn lasts as long as the work.
            let _turn = turn;
            work()
        };
        tokio::task::spawn_blocking(work).await.map_err(|_| Missed::Broken)
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
        assert!(answers.iter().filter(|answer| **answer == Err(Missed::Overtaken)).count() >= 97);
    }

    #[test]
    fn who_goes_away_keeps_the_turn_until_the_work_is_done() {
        let runtime = tokio::runtime::Builder::new_multi_thread().enable_time().build().unwrap();
        let (turns, at_once) = (Arc::new(Turns::new()), Arc::new(AtomicU32::new(0)));
        let most = Arc::new(AtomicU32::new(0));
        runtime.block_on(async {
            for number in 1..=10 {
                let (turns, at_once, most) = (Arc::clone(&turns), Arc::clone(&at_once), Arc::clone(&most));
                let work = move || {
                    most.fetch_max(at_once.fetch_add(1, Ordering::SeqCst) + 1, Ordering::SeqCst);
                    std::thread::sleep(Duration::from_millis(50));
                    at_once.fetch_sub(1, Ordering::SeqCst);
                };
                let asked = tokio::spawn(async move { turns.take("page", number, work).await });
                tokio::time::sleep(Duration::from_millis(10)).await;
                asked.abort();
            }
            assert_eq!(turns.take("page", 11, || ()).await, Ok(()));
        });
        assert_eq!(most.load(Ordering::SeqCst), 1);
    }

    #[test]
    fn work_that_fails_gives_the_turn_back() {
        let runtime = tokio::runtime::Builder::new_multi_thread().build().unwrap();
        let turns = Turns::new();
        let broken: Result<(), Missed> = runtime.block_on(turns.take("page", 1, || panic!("a fault of the program")));
        assert_eq!(broken, Err(Missed::Broken));
        assert_eq!(runtime.block_on(turns.take("page", 2, || 2)), Ok(2));
    }

    #[test]
    fn pages_do_not_overtake_each_other() {
        let turns = Turns::new();
        turns.note("a", 5);
        turns.note("b", 1);
        assert!(turns.is_overtaken("a", 4) && !turns.is_overtaken("a", 5) && !turns.is_overtaken("b", 1));
    }
}
