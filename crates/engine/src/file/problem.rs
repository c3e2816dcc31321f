//! What the reader says: problems that stop it and questions that only the user can answer.

use serde::Serialize;
use std::fmt;

pub use userfile::Problem;

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
        let message = format!("{} {} {}", self.text, self.likely, self.confirm);
        Problem { line: self.line, key: self.key.clone(), message }.fmt(f)
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
