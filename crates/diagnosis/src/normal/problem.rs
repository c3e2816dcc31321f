//! What is wrong in a file of the user.

use serde::Serialize;
use std::fmt;

/// One thing that is wrong in a file, in one sentence.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Problem {
    /// Line in the file, counted from 1; `None` when no line stands for it.
    pub line: Option<usize>,
    /// Record and key, e.g. `clean-valve.hours`; empty for the file as a whole.
    pub key: String,
    /// What is wrong, what is accepted and how to mend it.
    pub message: String,
}

impl Problem {
    pub(crate) fn of(key: impl Into<String>, message: impl Into<String>) -> Self {
        Self { line: None, key: key.into(), message: message.into() }
    }

    /// What the TOML reader says, with the line it points at.
    pub(crate) fn of_toml(text: &str, error: &toml::de::Error) -> Self {
        let line = error.span().and_then(|span| text.get(..span.start)).map(|t| t.matches('\n').count() + 1);
        let message = format!("The file cannot be read: {}.", error.message().trim_end_matches('.'));
        Self { line, key: String::new(), message }
    }
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(line) = self.line {
            write!(f, "Line {line}: ")?;
        }
        if !self.key.is_empty() {
            write!(f, "{}: ", self.key)?;
        }
        f.write_str(&self.message)
    }
}
