//! `portwright schema`: prints the JSON Schema of the engine file.

use super::failure::Failure;
use super::output;
use std::process::ExitCode;

/// Prints the schema.
pub(crate) fn run() -> Result<ExitCode, Failure> {
    output::print(&format!("{:#}\n", engine::file::schema()))?;
    Ok(ExitCode::SUCCESS)
}
