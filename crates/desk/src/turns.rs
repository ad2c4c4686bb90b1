//! Turns: of the many requests that a page sends while a slider moves, only the latest is answered.

use std::collections::VecDeque;
use std::sync::{Arc, Mutex, PoisonError};

use tokio::sync::Semaphore;

/// The most pages to remember. For one more, the page that has asked nothing for longest is forgotten: its requests that
/// still wait are all answered.
const MOST_PAGES: usize = 256;

/// Requests wait here; one is computed at a time.
#[derive(Debug)]
pub(crate) struct Turns {
    free: Arc<Semaphore>,
    /// The newest request of each page; the page that asked last is at the end.
    newest: Mutex<VecDeque<(String, u64)>>,
}

/// Why a request gets no answer.
#[derive(Debug, PartialEq, Eq)]
pub(crate) enum Missed {
    /// The same page has sent a newer request.
    Overtaken,
    /// The work failed; its message is on the error stream.
    Broken,
}

impl Turns {
    pub(crate) fn new() -> Self {
        Self {
            free: Arc::new(Semaphore::new(1)),
            newest: Mutex::default(),
        }
    }

    /// Runs `work` on a separate thread as soon as no other work runs, unless the page has sent a newer request by then.
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
            // The page may be closed meanwhile; the turn lasts as long as the work.
            let _turn = turn;
            work()
        };
        tokio::task::spawn_blocking(work).await.map_err(|_| Missed::Broken)
    }

    fn note(&self, page: &str, number: u64) {
        let mut newest = self.newest.lock().unwrap_or_else(PoisonError::into_inner);
        let known = newest.iter().position(|(known, _)| known == page).and_then(|at| newest.remove(at));
        if known.is_none() && newest.len() >= MOST_PAGES {
            newest.pop_front();
        }
        let latest = known.map_or(number, |(_, latest)| latest.max(number));
        newest.push_back((page.to_owned(), latest));
    }

    fn is_overtaken(&self, page: &str, number: u64) -> bool {
        let newest = self.newest.lock().unwrap_or_else(PoisonError::into_inner);
        newest.iter().any(|(known, latest)| known == page && *latest > number)
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test fails by panicking")]
mod tests;
