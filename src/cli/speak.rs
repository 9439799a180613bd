//! Speaking: results to standard output, messages to standard error, progress on a terminal.

use std::io::{IsTerminal, Write};
use std::time::Duration;

use indicatif::{ProgressBar, ProgressStyle};

use super::call::Verbosity;

/// Prints a result. A reader that has gone away (a closed pipe) is no fault.
pub(super) fn result(text: &str) {
    let mut out = anstream::stdout().lock();
    let _ = out.write_all(text.as_bytes());
    let _ = out.flush();
}

/// Prints a result that is no text for people.
pub(super) fn result_bytes(bytes: &[u8]) {
    let mut out = std::io::stdout().lock();
    let _ = out.write_all(bytes);
    let _ = out.flush();
}

/// Prints a message.
pub(super) fn message(text: &str) {
    let mut out = anstream::stderr().lock();
    let _ = writeln!(out, "{text}");
}

/// Shows that work goes on, after a moment and only on a terminal, until it is dropped.
pub(super) struct Progress(Option<ProgressBar>);

impl Progress {
    pub(super) fn begin(voice: &Verbosity, what: &'static str) -> Progress {
        if voice.quiet || voice.json || !std::io::stderr().is_terminal() {
            return Progress(None);
        }
        let bar = ProgressBar::new_spinner().with_message(what);
        if let Ok(style) = ProgressStyle::with_template("{spinner} {msg} {elapsed}") {
            bar.set_style(style);
        }
        bar.enable_steady_tick(Duration::from_millis(150));
        Progress(Some(bar))
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        if let Some(bar) = &self.0 {
            bar.finish_and_clear();
        }
    }
}

/// Bold on a terminal.
pub(super) fn bold(text: &str) -> String {
    let style = anstyle::Style::new().bold();
    format!("{style}{text}{style:#}")
}

/// Dimmed on a terminal.
pub(super) fn dim(text: &str) -> String {
    let style = anstyle::Style::new().dimmed();
    format!("{style}{text}{style:#}")
}
