//! What `./check` and CI run, step by step, and the documents that are generated from the code.
#![allow(clippy::disallowed_methods, reason = "a tool of the workshop floor: it reads files and a clock")]

mod arrows;
mod browser;
mod check;
mod command;
mod documents;
mod purity;
mod sizes;
mod steps;
mod test_run;
mod validation;
mod workspace;

use anyhow::{Result, bail};
use std::process::ExitCode;
use workspace::Workspace;

const HELP: &str = "\
cargo xtask COMMAND

  check       everything that must hold, with times; what ./check and CI run
  validation  run the checks against published sources and write docs/validation.md
  documents   write docs/engine-file.md and schema/ from the table of keys
  arrows      dependencies between crates against the list in ARCHITECTURE.md
  purity      core crates: no files, clock, sockets, threads
  sizes       no source file over 600 lines
  browser     journeys in Chromium only";

fn main() -> ExitCode {
    let command = std::env::args().nth(1).unwrap_or_default();
    match run(&command) {
        Ok(code) => code,
        Err(cause) => {
            eprintln!("xtask: {cause:#}");
            ExitCode::FAILURE
        }
    }
}

fn run(command: &str) -> Result<ExitCode> {
    let workspace = Workspace::read()?;
    match command {
        "check" => return check::run(&workspace),
        "validation" => println!("{}", validation::write(&workspace)?),
        "documents" => println!("{}", documents::write(&workspace)?),
        "arrows" => println!("{}", arrows::hold(&workspace)?),
        "purity" => println!("{}", purity::hold(&workspace)?),
        "sizes" => println!("{}", sizes::hold(&workspace)?),
        "browser" => println!("{}", browser::run(&workspace)?),
        "" | "help" | "--help" => println!("{HELP}"),
        other => bail!("there is no command {other}\n\n{HELP}"),
    }
    Ok(ExitCode::SUCCESS)
}
