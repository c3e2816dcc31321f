//! What is wrong in a file of logics or tasks.

use crate::check::Problem;

/// A problem of one key.
pub(crate) fn problem(key: impl Into<String>, message: impl Into<String>) -> Problem {
    Problem { line: None, key: key.into(), message: message.into() }
}

/// What the TOML reader says, with the line it points at.
pub(crate) fn toml_problem(text: &str, error: &toml::de::Error) -> Problem {
    let before = error.span().and_then(|span| text.get(..span.start));
    let line = before.map(|t| t.matches('\n').count() + 1);
    let message = format!("The file cannot be read: {}.", error.message().trim_end_matches('.'));
    Problem { line, key: String::new(), message }
}
