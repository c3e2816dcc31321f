//! Why a log cannot be read.

use serde::Serialize;
use std::fmt;

/// What is wrong with a log, and where; shown as one sentence.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, thiserror::Error)]
pub struct Problem {
    /// Line of the log, from 1; none when it is about the log as a whole.
    pub line: Option<usize>,
    /// Column, by its name or as `column 2`; none when it is about the whole line.
    pub column: Option<String>,
    /// What is wrong and how to mend it.
    pub message: String,
}

impl Problem {
    pub(super) fn whole(message: impl Into<String>) -> Self {
        Self { line: None, column: None, message: message.into() }
    }

    pub(super) fn line(line: usize, message: impl Into<String>) -> Self {
        Self { line: Some(line), column: None, message: message.into() }
    }

    pub(super) fn at(line: usize, column: impl Into<String>, message: impl Into<String>) -> Self {
        Self { line: Some(line), column: Some(column.into()), message: message.into() }
    }
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match (self.line, &self.column) {
            (Some(line), Some(column)) => write!(f, "line {line}, {column}: {}", self.message),
            (Some(line), None) => write!(f, "line {line}: {}", self.message),
            (None, _) => f.write_str(&self.message),
        }
    }
}

/// A piece of the log to show in a sentence: short, on one line.
pub(super) fn excerpt(text: &str) -> String {
    const LONGEST: usize = 30;
    let flat: String = text.trim().chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
    match flat.char_indices().nth(LONGEST) {
        Some((end, _)) => format!("{}…", flat.get(..end).unwrap_or_default()),
        None => flat,
    }
}
