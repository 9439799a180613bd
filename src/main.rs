//! The command-line tool; all it does is in the library's `commands`.

use std::process::ExitCode;

fn main() -> ExitCode {
    versefold::commands::run()
}
