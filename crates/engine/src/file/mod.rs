//! The engine file: TOML, readable by a mechanic.
//!
//! [`read`] gives the engine, or every problem in the file with its line, key, accepted range and mend. Figures
//! that can be right but are odd become [`Question`]s; nothing is mended silently. One table ([`spec`](spec())) lists the keys;
//! reader, suggestions, [`schema`], [`reference_markdown`] and the writer follow it.

mod build;
mod complete;
pub mod fields;
mod gather;
mod problem;
mod reference;
mod schema;
mod slips;
mod source;
pub mod spec;
mod sure;
mod syntax;
mod table;
mod thread;
mod unlikely;
mod value;
mod version;
mod wire;
mod write;

pub use problem::{Problem, Question};
pub use reference::reference_markdown;
pub use schema::schema;
pub use spec::spec;
pub use write::write;

use crate::model::Engine;
use crate::ports::CrownPath;
use build::{Notes, Tables};
use problem::Problems;
use slips::Case;
use source::Source;
use sure::Sure;

/// The engine file of the invented demo engine. It also shows how figures are written.
pub const DEMO: &str = include_str!("../../demo/demo.toml");

/// An engine that was read, with what should be asked about it.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// The engine, its stated defaults listed in [`Engine::assumptions`].
    pub engine: Engine,
    /// Odd figures that were not confirmed under `sure`.
    pub questions: Vec<Question>,
}

/// Reads an engine file.
///
/// Every byte string is answered: no input panics, and files above 1 MB are refused unread.
///
/// # Errors
/// Every problem of the file in the order of its lines: encoding, syntax, version, unknown and missing keys, units,
/// ranges, and figures that no engine can have.
pub fn read(text: &[u8]) -> Result<Reading, Vec<Problem>> {
    let mut problems = Problems::default();
    let reading = try_read(text, &mut problems);
    let mut problems = problems.0;
    match reading {
        Some(reading) if problems.is_empty() => Ok(reading),
        _ => {
            if problems.is_empty() {
                let message =
                    "the file could not be put together to an engine; compare it with the demo file";
                problems.push(Problem { line: None, key: String::new(), message: message.to_owned() });
            }
            problems.sort_by_key(|problem| problem.line.unwrap_or(usize::MAX));
            Err(problems)
        }
    }
}

fn try_read(text: &[u8], problems: &mut Problems) -> Option<Reading> {
    let source = Source::of(text, problems)?;
    let root = source.table(problems)?;
    version::check(&root, &source, problems)?;
    let mut tables = gather::gather(&root, &source, problems);
    let sure = Sure::of(&tables, problems);
    let mut assumptions = Vec::new();
    complete::complete(&mut tables, problems, &mut assumptions);
    let mut notes = Notes { problems, assumptions: &mut assumptions };
    let mut engine = build::engine(&Tables(&tables), &mut notes)?;
    assumptions.sort_by_key(|assumption| tables.iter().position(|table| table.owns(&assumption.key)));
    engine.assumptions = assumptions;
    let path = CrownPath::of(&engine.crank).ok()?;
    let questions = slips::questions(&Case { tables: Tables(&tables), engine: &engine, path }, &sure);
    Some(Reading { engine, questions })
}

#[cfg(test)]
mod tests;
