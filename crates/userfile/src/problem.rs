//! What is wrong in a file, and where.

use serde::Serialize;
use std::fmt;

/// Something in a file that must be mended before it can be used.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Problem {
    /// Line in the file, counted from 1; `None` when nothing in the file stands for it.
    pub line: Option<usize>,
    /// Key as the file has it, dotted, its record by name: `check "sensor-ends".minutes`; empty for the file as a whole.
    pub key: String,
    /// One sentence: what is wrong, what is accepted, how to mend it.
    pub message: String,
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match (self.line, self.key.is_empty()) {
            (Some(line), false) => write!(f, "line {line}, {}: ", self.key)?,
            (Some(line), true) => write!(f, "line {line}: ")?,
            (None, false) => write!(f, "{}: ", self.key)?,
            (None, true) => {}
        }
        f.write_str(&self.message)
    }
}
