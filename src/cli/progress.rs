//! How far a study has come, on a terminal; and Ctrl-C.

use flyheft::study::Progress;
use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use std::io::IsTerminal;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

/// A progress bar that hides itself off a terminal, and a Ctrl-C that stops the study.
pub(super) struct TerminalProgress {
    bar: ProgressBar,
    stopped: Arc<AtomicBool>,
}

impl TerminalProgress {
    /// A watch for one study.
    pub(super) fn new(quiet: bool) -> Self {
        let stopped = Arc::new(AtomicBool::new(false));
        let flag = Arc::clone(&stopped);
        // A second Ctrl-C handler cannot be set; without one Ctrl-C simply ends the program,
        // which leaves nothing half-written either: files are moved into place whole.
        let _ = ctrlc::set_handler(move || flag.store(true, Ordering::Relaxed));
        let bar = if quiet || !std::io::stderr().is_terminal() {
            ProgressBar::with_draw_target(None, ProgressDrawTarget::hidden())
        } else {
            ProgressBar::new(0)
        };
        let style = ProgressStyle::with_template("{pos} of {len} launches {bar:30} {elapsed}");
        if let Ok(style) = style {
            bar.set_style(style);
        }
        Self { bar, stopped }
    }
}

impl Progress for TerminalProgress {
    fn expect(&self, launches: usize) {
        self.bar
            .inc_length(u64::try_from(launches).unwrap_or_default());
    }

    fn advance(&self) {
        self.bar.inc(1);
    }

    fn stopped(&self) -> bool {
        self.stopped.load(Ordering::Relaxed)
    }
}

impl Drop for TerminalProgress {
    fn drop(&mut self) {
        self.bar.finish_and_clear();
    }
}
