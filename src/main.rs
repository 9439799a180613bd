//! The command-line tool; all it does is in the library's `cli`.

use std::io::Write;
use std::panic;
use std::process::ExitCode;

fn main() -> ExitCode {
    // No panic reaches a user: it is told as what it is, a fault of the program.
    panic::set_hook(Box::new(|info| {
        let at = info
            .location()
            .map(|at| format!(" ({}, line {})", at.file(), at.line()));
        let _ = writeln!(
            std::io::stderr(),
            "Fault: the program met a mistake of its own and stopped{}.\n  help: nothing of yours was changed; \
             please report it with the plan and the manuscript",
            at.unwrap_or_default()
        );
    }));
    panic::catch_unwind(versefold::cli::run).unwrap_or(ExitCode::from(2))
}
