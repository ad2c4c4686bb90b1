//! A progress bar on a terminal's standard error, for work that takes long.

use std::io::IsTerminal;
use std::sync::mpsc::{RecvTimeoutError, Sender, channel};
use std::thread::JoinHandle;
use std::time::Duration;

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};

/// Work that takes less time shows no bar.
const PATIENCE: Duration = Duration::from_millis(500);
/// Time between two updates of the bar.
const TICK: Duration = Duration::from_millis(100);

/// The bar; it disappears when dropped. Without a terminal there is none.
pub(crate) struct Progress(Option<Shown>);

struct Shown {
    bar: ProgressBar,
    done: Sender<()>,
    waiter: JoinHandle<()>,
}

impl Progress {
    /// A bar with a label.
    pub(crate) fn new(doing: &str) -> Self {
        if !std::io::stderr().is_terminal() {
            return Self(None);
        }
        let bar = ProgressBar::with_draw_target(None, ProgressDrawTarget::hidden())
            .with_style(style("{spinner} {msg}  {elapsed}"))
            .with_message(doing.to_owned());
        let (done, wait) = channel();
        let later = bar.clone();
        // The work may report nothing for a while, so another thread watches the clock.
        let waiter = std::thread::spawn(move || {
            if wait.recv_timeout(PATIENCE) == Err(RecvTimeoutError::Timeout) {
                later.set_draw_target(ProgressDrawTarget::stderr());
                later.enable_steady_tick(TICK);
            }
        });
        Self(Some(Shown { bar, done, waiter }))
    }

    /// Sets how many pieces of the work are done, and of how many.
    pub(crate) fn set(&mut self, done: usize, total: usize) {
        if let Some(shown) = &self.0 {
            if shown.bar.length().is_none() {
                shown.bar.set_style(style("{spinner} {msg}  {bar:30}  {pos} of {len}  {elapsed}"));
                shown.bar.set_length(total as u64);
            }
            shown.bar.set_position(done as u64);
        }
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        if let Some(Shown { bar, done, waiter }) = self.0.take() {
            // The thread may have ended already, after showing the bar.
            let _ = done.send(());
            let _ = waiter.join();
            bar.finish_and_clear();
        }
    }
}

/// The template is always valid; if it were not, the plain bar would do.
fn style(template: &str) -> ProgressStyle {
    ProgressStyle::with_template(template)
        .unwrap_or_else(|_| ProgressStyle::default_bar())
        .progress_chars("█▓░")
}
