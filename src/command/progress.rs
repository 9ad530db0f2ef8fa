//! Progress of a long run on standard error, when that is a terminal.

use std::{
    sync::OnceLock,
    sync::atomic::{AtomicU64, Ordering},
    time::{Duration, Instant},
};

use indicatif::{ProgressBar, ProgressStyle};

/// A run shorter than this shows nothing.
const PATIENCE: Duration = Duration::from_secs(1);

/// Rows read so far, shown once the run has taken over a second. indicatif draws nothing where
/// standard error is no terminal.
pub struct Progress {
    start: Instant,
    rows: AtomicU64,
    bar: OnceLock<ProgressBar>,
}

impl Progress {
    pub fn start() -> Progress {
        Progress {
            start: Instant::now(),
            rows: AtomicU64::new(0),
            bar: OnceLock::new(),
        }
    }

    /// Counts rows that were read.
    pub fn rows(&self, read: u64) {
        let rows = self.rows.fetch_add(read, Ordering::Relaxed) + read;
        self.show(|| format!("{rows} rows read"));
    }

    /// Says what the run is doing now.
    pub fn doing(&self, what: &str) {
        self.show(|| what.to_owned());
    }

    fn show(&self, message: impl FnOnce() -> String) {
        if self.start.elapsed() < PATIENCE {
            return;
        }
        let bar = self.bar.get_or_init(|| {
            let bar = ProgressBar::new_spinner();
            bar.set_style(ProgressStyle::default_spinner());
            bar
        });
        bar.set_message(message());
        bar.tick();
    }

    /// Clears the line.
    pub fn finish(self) {
        if let Some(bar) = self.bar.into_inner() {
            bar.finish_and_clear();
        }
    }
}
