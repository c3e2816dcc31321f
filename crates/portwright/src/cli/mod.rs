//! The command line: arguments are parsed into types, then resolved into a job, then done.

mod app;
mod arguments;
mod backup;
mod bench_job;
mod demo;
mod export;
mod failure;
mod find;
mod fit;
mod import;
mod input;
mod job;
mod judge;
mod list;
mod map;
mod output;
mod ports;
mod procedures;
mod record_job;
mod restore;
mod run;
mod schema;
mod set;
mod sheet;
mod terminal;
mod text;

use clap::Parser;
use clap::error::ErrorKind;
use failure::Failure;
use job::Job;
use std::ffi::OsString;
use std::process::ExitCode;
use workshop::report::Outcome;

/// Runs the program with these arguments (the first is the program's own name).
pub fn run(arguments: impl IntoIterator<Item = OsString>) -> ExitCode {
    let words: Vec<OsString> = arguments.into_iter().collect();
    // Needed before the arguments are known to be right: their errors are JSON too when JSON was asked for.
    let json = words.iter().any(|word| word == "--json");
    let parsed = match arguments::Arguments::try_parse_from(&words) {
        Ok(parsed) => parsed,
        Err(error) if matches!(error.kind(), ErrorKind::DisplayHelp | ErrorKind::DisplayVersion) => {
            let shown = output::print(&error.to_string());
            return shown.map_or_else(|failure| failure.tell(json), |()| ExitCode::SUCCESS);
        }
        Err(error) => return Failure::Usage(one_sentence(&error)).tell(json),
    };
    match job::resolve(parsed).and_then(|job| job.run()) {
        Ok(code) => code,
        Err(failure) => failure.tell(json),
    }
}

impl Job {
    fn run(self) -> Result<ExitCode, Failure> {
        match self {
            Job::App(job) => app::run(&job),
            Job::Demo(job) => demo::run(&job),
            Job::Ports(job) => ports::run(&job),
            Job::Set(job) => set::run(&job),
            Job::Sheet(job) => sheet::run(&job),
            Job::Judge(job) => judge::run(&job),
            Job::Find(job) => find::run(&job),
            Job::Fit(job) => fit::run(&job),
            Job::Procedures(job) => procedures::run(&job),
            Job::Run(job) => run::run(&job),
            Job::Map(job) => map::run(&job),
            Job::Schema => schema::run(),
            Job::Record(job) => job.run(),
        }
    }
}

/// What clap says, without its decoration.
fn one_sentence(error: &clap::Error) -> String {
    let text = error.to_string();
    let lines: Vec<&str> = text
        .lines()
        .map(str::trim)
        .filter(|line| {
            !line.is_empty() && !line.starts_with("Usage:") && !line.starts_with("For more information")
        })
        .collect();
    let told = lines.join("; ").replace(":;", ":");
    format!("{} (portwright --help shows what there is.)", told.trim_start_matches("error: "))
}

/// The exit code that says how far one may go; documented in `--help`.
fn exit_code(outcome: Outcome) -> ExitCode {
    ExitCode::from(match outcome {
        Outcome::Ready | Outcome::GateOpen => 0,
        Outcome::Questions => 3,
        Outcome::Conflict => 4,
        Outcome::GateStops => 5,
        Outcome::ReadingMissing => 6,
    })
}
