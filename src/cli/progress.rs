//! A line that says what is being done, on a terminal, once it takes longer than a second.

use std::sync::mpsc::{RecvTimeoutError, Sender, channel};
use std::thread::JoinHandle;
use std::time::Duration;

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};

/// Shorter runs show nothing.
const PATIENCE: Duration = Duration::from_secs(1);
const TICK: Duration = Duration::from_millis(120);

/// The line; it goes when this is dropped.
pub(super) struct Progress {
    line: ProgressBar,
    /// Dropped to end the thread.
    running: Option<(Sender<()>, JoinHandle<()>)>,
}

impl Progress {
    /// A line that stays hidden unless `is_shown` and a second has passed.
    pub(super) fn start(is_shown: bool) -> Self {
        let line = ProgressBar::with_draw_target(None, ProgressDrawTarget::hidden())
            .with_style(ProgressStyle::default_spinner());
        let running = is_shown.then(|| {
            let (alive, ended) = channel();
            let shown = line.clone();
            let waiting = std::thread::spawn(move || {
                if ended.recv_timeout(PATIENCE) == Err(RecvTimeoutError::Timeout) {
                    shown.set_draw_target(ProgressDrawTarget::stderr());
                    shown.enable_steady_tick(TICK);
                }
            });
            (alive, waiting)
        });
        Self { line, running }
    }

    /// Says what is being done.
    pub(super) fn now(&self, doing: &'static str) {
        self.line.set_message(doing);
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        if let Some((alive, waiting)) = self.running.take() {
            drop(alive);
            // It holds nothing that could be lost.
            let _ = waiting.join();
        }
        self.line.finish_and_clear();
    }
}
