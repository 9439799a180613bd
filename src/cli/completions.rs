//! `versefold completions`: what a shell needs to complete our commands.

use clap::CommandFactory;

use super::Done;
use super::call::{Call, Completions};

pub(super) fn run(asked: &Completions) -> Done {
    let mut script = Vec::new();
    clap_complete::generate(asked.shell, &mut Call::command(), "versefold", &mut script);
    super::speak::result_bytes(&script)
}
