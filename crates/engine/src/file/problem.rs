//! What the reader says: problems that stop it and questions that only the user can answer.

use serde::Serialize;
use std::fmt;

/// Something in the file that must be mended before the engine can be used.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Problem {
    /// Line in the file, counted from 1; `None` when nothing in the file stands for it (a missing key).
    pub line: Option<usize>,
    /// Key as the file has it, dotted, e.g. `crank.bore` or `port "exhaust".width`; empty for the file as a whole.
    pub key: String,
    /// What is wrong, what is accepted and how to mend it.
    pub message: String,
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write_place(f, self.line, &self.key)?;
        f.write_str(&self.message)
    }
}

/// A figure that can be right but is odd. Nothing was changed: the file is used as it stands.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Question {
    /// Key as the file has it.
    pub key: String,
    /// Line in the file, counted from 1.
    pub line: Option<usize>,
    /// What was read and why it is odd.
    pub text: String,
    /// What was likely meant.
    pub likely: String,
    /// How to answer: mend the figure, or confirm it.
    pub confirm: String,
}

impl fmt::Display for Question {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write_place(f, self.line, &self.key)?;
        write!(f, "{} {} {}", self.text, self.likely, self.confirm)
    }
}

fn write_place(f: &mut fmt::Formatter<'_>, line: Option<usize>, key: &str) -> fmt::Result {
    match (line, key.is_empty()) {
        (Some(line), false) => write!(f, "line {line}, {key}: "),
        (Some(line), true) => write!(f, "line {line}: "),
        (None, false) => write!(f, "{key}: "),
        (None, true) => Ok(()),
    }
}

/// Collects what was found wrong while reading goes on.
#[derive(Debug, Default)]
pub(super) struct Problems(pub(super) Vec<Problem>);

impl Problems {
    pub(super) fn add(&mut self, line: Option<usize>, key: impl Into<String>, message: impl Into<String>) {
        self.0.push(Problem { line, key: key.into(), message: message.into() });
    }
}
