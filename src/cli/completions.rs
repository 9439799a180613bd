//! `versefold completions`: what a shell needs to complete our commands.

use clap::CommandFactory;

use super::Done;
use super::args::{Cli, CompletionsArgs};

pub(super) fn run(args: &CompletionsArgs) -> Done {
    let mut script = Vec::new();
    clap_complete::generate(args.shell, &mut Cli::command(), "versefold", &mut script);
    super::speak::result_bytes(&script)
}
