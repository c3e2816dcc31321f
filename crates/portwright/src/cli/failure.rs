//! What can go wrong on the command line, in sentences and exit codes.

use engine::file::Problem;
use record::RecordError;
use serde_json::json;
use std::io::Write;
use std::process::ExitCode;

/// A failed command.
#[derive(Debug)]
pub(crate) enum Failure {
    /// Wrong use of the program.
    Usage(String),
    /// An engine file that could be opened but holds errors.
    File {
        /// Name of the file as it was given.
        file: String,
        /// What is wrong, each with its line.
        problems: Vec<Problem>,
    },
    /// A file of findings, checks or tables that holds errors.
    Bench {
        /// Name of the file as it was given.
        file: String,
        /// What is wrong, each with its line.
        problems: Vec<diagnosis::check::Problem>,
    },
    /// A file that cannot be read.
    Unreadable(String),
    /// An output that cannot be written.
    Unwritable(String),
    /// The record is open in another program.
    InUse(String),
    /// A record, backup or archive that is damaged, of a newer program, or something else altogether.
    NotUsable(String),
    /// Anything else.
    Other(String),
}

impl From<RecordError> for Failure {
    fn from(error: RecordError) -> Self {
        let told = error.to_string();
        match error {
            RecordError::Locked { .. } => Self::InUse(told),
            RecordError::Damaged { .. }
            | RecordError::NotARecord { .. }
            | RecordError::Newer { .. }
            | RecordError::Import { .. } => Self::NotUsable(told),
            RecordError::ReadOnly { .. } | RecordError::Full { .. } => Self::Unwritable(told),
            _ => Self::Other(told),
        }
    }
}

impl Failure {
    /// Prints the failure (JSON to the output, sentences to the error output) and gives its exit code.
    pub(crate) fn tell(&self, json: bool) -> ExitCode {
        // A closed output leaves nobody to tell: the exit code still says it.
        let _ = if json {
            writeln!(std::io::stdout().lock(), "{:#}", self.to_json())
        } else {
            write!(std::io::stderr().lock(), "{}", self.to_text())
        };
        ExitCode::from(self.exit_code())
    }

    fn exit_code(&self) -> u8 {
        match self {
            Self::Usage(_) | Self::File { .. } | Self::Bench { .. } => 2,
            Self::Unreadable(_) | Self::Unwritable(_) | Self::Other(_) => 1,
            Self::InUse(_) => 7,
            Self::NotUsable(_) => 8,
        }
    }

    fn kind(&self) -> &'static str {
        match self {
            Self::Usage(_) => "usage",
            Self::File { .. } => "engine-file",
            Self::Bench { .. } => "bench-file",
            Self::Unreadable(_) => "unreadable",
            Self::Unwritable(_) => "unwritable",
            Self::InUse(_) => "in-use",
            Self::NotUsable(_) => "not-usable",
            Self::Other(_) => "other",
        }
    }

    fn to_text(&self) -> String {
        match self {
            Self::File { file, problems } => {
                problems.iter().fold(String::new(), |text, problem| format!("{text}{file}: {problem}\n"))
            }
            Self::Bench { file, problems } => {
                problems.iter().fold(String::new(), |text, problem| format!("{text}{file}: {problem}\n"))
            }
            Self::Usage(told)
            | Self::Unreadable(told)
            | Self::Unwritable(told)
            | Self::InUse(told)
            | Self::NotUsable(told)
            | Self::Other(told) => {
                format!("portwright: {told}\n")
            }
        }
    }

    fn to_json(&self) -> serde_json::Value {
        let mut error = json!({ "kind": self.kind(), "exit_code": self.exit_code() });
        match self {
            Self::File { file, problems } => {
                error["file"] = json!(file);
                error["problems"] = json!(problems);
                error["message"] = json!(self.to_text().trim_end());
            }
            Self::Bench { file, problems } => {
                error["file"] = json!(file);
                error["problems"] = json!(problems);
                error["message"] = json!(self.to_text().trim_end());
            }
            Self::Usage(told)
            | Self::Unreadable(told)
            | Self::Unwritable(told)
            | Self::InUse(told)
            | Self::NotUsable(told)
            | Self::Other(told) => {
                error["message"] = json!(told);
            }
        }
        json!({ "error": error })
    }
}
