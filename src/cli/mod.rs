//! The commands: one file each. They read the call, run the workbench, and speak; no rule of the trade is
//! here.

mod args;
mod book;
mod cast_off;
mod changes;
mod completions;
mod deeds;
mod defaults;
mod dummy;
pub mod files;
mod flow;
mod keep;
mod layers;
mod new;
mod pass;
mod remarks;
mod report;
mod revise;
mod rhythm;
mod speak;
mod stretches;
mod strip;
mod trials;
mod why;
mod written;

use std::io::Write;
use std::process::ExitCode;

use clap::Parser;

use crate::cli::files::ManifestRecord;
use crate::json::{self, Value as _};
use crate::names::Faults;
use args::{Cli, Command};

/// Exit status for a book or a call that is at fault.
const AT_FAULT: u8 = 2;

/// Runs a call, arguments as the operating system gives them.
pub fn run() -> ExitCode {
    let cli = match Cli::try_parse() {
        Ok(cli) => cli,
        Err(error) => {
            // Help and version are results, not faults.
            let asked_for = !error.use_stderr();
            let said = error.print().and_then(|()| std::io::stdout().flush());
            return match speak::heard(said) {
                Ok(()) if asked_for => ExitCode::SUCCESS,
                Err(faults) if asked_for => at_fault(&faults, false),
                _ => ExitCode::from(AT_FAULT),
            };
        }
    };
    let done = match &cli.command {
        Command::New(args) => new::run(args, &cli.output),
        Command::CastOff(args) => cast_off::run(args, &cli.output),
        Command::Flow(args) => flow::run(args, &cli.output),
        Command::Trials(args) => trials::run(args, &cli.output),
        Command::Layers(args) => layers::run(args, &cli.output),
        Command::Revise(args) => revise::run(args, &cli.output),
        Command::Pass(args) => pass::run(args, &cli.output),
        Command::Strip(args) => strip::run(args, &cli.output),
        Command::Dummy(args) => dummy::run(args, &cli.output),
        Command::Completions(args) => completions::run(args),
    };
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(faults) => at_fault(&faults, cli.output.json),
    }
}

fn at_fault(faults: &Faults, as_json: bool) -> ExitCode {
    report::faults(faults, as_json);
    ExitCode::from(AT_FAULT)
}

/// The JSON Schema of all that is said to other programs: one of the records that a command gives with `--json`, or the
/// list that an output folder holds.
pub fn results_schema() -> serde_json::Value {
    let about = "What versefold COMMAND --json says, and out/manifest.json.";
    json::schema("results", about, |defs| {
        let records = [
            new::NewRecord::schema,
            cast_off::CastOffRecord::schema,
            flow::FlowRecord::schema,
            why::WhyRecord::schema,
            trials::TrialsRecord::schema,
            layers::LayersRecord::schema,
            revise::ReviseRecord::schema,
            pass::PassRecord::schema,
            pass::ReleaseRecord::schema,
            strip::PrintSheetsRecord::schema,
            dummy::DummyRecord::schema,
            report::FaultsRecord::schema,
            ManifestRecord::schema,
        ];
        let records: Vec<_> = records.into_iter().map(|schema| schema(defs)).collect();
        serde_json::json!({ "anyOf": records })
    })
}

/// What a command comes to.
type Done = Result<(), Faults>;
