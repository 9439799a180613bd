//! Speaking: results to standard output, messages to standard error, progress on a terminal.

use std::io::{ErrorKind, IsTerminal, Write};
use std::time::Duration;

use indicatif::{ProgressBar, ProgressStyle};
use serde::Serialize;

use super::Done;
use super::args::OutputArgs;
use crate::cli::files;
use crate::json;

/// Prints a result.
///
/// # Errors
/// As [`heard`].
pub(super) fn result(text: &str) -> Done {
    let mut out = anstream::stdout().lock();
    let said = out.write_all(text.as_bytes());
    heard(said.and_then(|()| out.flush()))
}

/// Prints a record for other programs.
///
/// # Errors
/// As [`heard`].
pub(super) fn json(record: &impl Serialize) -> Done {
    result(&json::text(record))
}

/// Prints a result that is no text for people.
///
/// # Errors
/// As [`heard`].
pub(super) fn result_bytes(bytes: &[u8]) -> Done {
    let mut out = std::io::stdout().lock();
    let said = out.write_all(bytes);
    heard(said.and_then(|()| out.flush()))
}

/// What writing to standard output came to. A reader that has gone away (a closed pipe) is no fault.
///
/// # Errors
/// A fault of the word `cannot-write` for everything else, such as a full disk.
pub(super) fn heard(said: std::io::Result<()>) -> Done {
    match said {
        Err(error) if error.kind() != ErrorKind::BrokenPipe => {
            let help = "only what is said is lost: a command writes its files before it speaks";
            Err(files::cannot_say(&error).help(help).into())
        }
        _ => Ok(()),
    }
}

/// Prints a message. Where even messages cannot be written, nobody is left to be told so.
pub(super) fn message(text: &str) {
    let mut out = anstream::stderr().lock();
    let _ = writeln!(out, "{text}");
}

/// Prints a question, to be answered on its line.
pub(super) fn question(text: &str) {
    let mut out = anstream::stderr().lock();
    let _ = write!(out, "{text} ").and_then(|()| out.flush());
}

/// Shows that work goes on, after a moment and only on a terminal, until it is dropped.
pub(super) struct Progress(Option<ProgressBar>);

impl Progress {
    pub(super) fn begin(output: &OutputArgs, what: &'static str) -> Progress {
        if output.quiet || output.json || !std::io::stderr().is_terminal() {
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
