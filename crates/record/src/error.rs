//! What can go wrong with the record, each in one sentence for a mechanic.

use rusqlite::ErrorCode;
use std::path::{Path, PathBuf};

/// Why the record could not be opened, read or written. Whatever the reason, the file is left as it was.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum RecordError {
    /// Another program holds the file.
    #[error(
        "The record {} is in use by another program and did not come free within {waited_s} seconds; close the other \
         program or wait a little, then try again. Nothing was changed.", path.display()
    )]
    Locked {
        /// The record file.
        path: PathBuf,
        /// How long it was waited for, in seconds.
        waited_s: u64,
    },
    /// The file or its folder may not be written.
    #[error(
        "The record {} may be read but not written, so nothing could be kept in it; allow writing to the file and to \
         its folder, or name another file with --record.", path.display()
    )]
    ReadOnly {
        /// The record file.
        path: PathBuf,
    },
    /// No room on the disk.
    #[error(
        "There is no room left on the disk for {}; free some space and try again. What was saved before is still \
         there.", path.display()
    )]
    Full {
        /// The file that was being written.
        path: PathBuf,
    },
    /// The file is a record, but broken.
    #[error(
        "The record {} is damaged ({detail}) and was left as it was; bring back the last backup with `portwright \
         restore`.", path.display()
    )]
    Damaged {
        /// The record file.
        path: PathBuf,
        /// What was found, in the words of the database.
        detail: String,
    },
    /// The file is something else.
    #[error(
        "{} is not a Portwright record ({why}) and was left as it was; name the right file, or one that does not \
         exist yet to begin a new record.", path.display()
    )]
    NotARecord {
        /// The file.
        path: PathBuf,
        /// What it is instead.
        why: &'static str,
    },
    /// The file was written by a later program.
    #[error(
        "The record {} was written by a newer Portwright (layout {found}, this program knows layouts up to {known}) \
         and was left as it was; use the newer program.", path.display()
    )]
    Newer {
        /// The record file.
        path: PathBuf,
        /// `user_version` of the file.
        found: i64,
        /// The last layout this program knows.
        known: i64,
    },
    /// A row that is not there.
    #[error(
        "There is no {what} with the number {number} in this record; it may stand in another record file. Choose one \
         from the list of engines."
    )]
    Missing {
        /// Engine, build, job card, picture or result.
        what: &'static str,
        /// The number asked for.
        number: i64,
    },
    /// Something handed in that the record does not take.
    #[error("{what} was not kept: {why}.")]
    Refused {
        /// What was handed in.
        what: String,
        /// Why not, and what would be taken.
        why: String,
    },
    /// An export that cannot be read.
    #[error("This file was not imported, and nothing was added to the record: {why}.")]
    Import {
        /// What is wrong and where.
        why: String,
    },
    /// The operating system refused something.
    #[error("{} could not be {action}: {cause}. Check that the folder exists and may be written.", path.display())]
    File {
        /// The file.
        path: PathBuf,
        /// Opened, written, moved.
        action: &'static str,
        /// The system's own words.
        cause: String,
    },
    /// The database said something that none of the above covers.
    #[error("The record {} could not be used: {detail}. Nothing was changed; try again.", path.display())]
    Database {
        /// The record file.
        path: PathBuf,
        /// The words of the database.
        detail: String,
    },
}

/// How long a connection waits for a file that another program is writing, in seconds.
pub(crate) const BUSY_S: u64 = 5;

impl RecordError {
    /// The meaning of a database error for the file at `path`.
    pub(crate) fn of(path: &Path, cause: &rusqlite::Error) -> Self {
        let path = path.to_path_buf();
        let detail = cause.to_string();
        let Some(code) = cause.sqlite_error_code() else {
            // Text that is not UTF-8, a column of another type: nothing this program wrote.
            return match cause {
                rusqlite::Error::FromSqlConversionFailure(..)
                | rusqlite::Error::IntegralValueOutOfRange(..)
                | rusqlite::Error::InvalidColumnType(..)
                | rusqlite::Error::Utf8Error(..) => RecordError::Damaged { path, detail },
                _ => RecordError::Database { path, detail },
            };
        };
        match code {
            ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked => {
                RecordError::Locked { path, waited_s: BUSY_S }
            }
            ErrorCode::ReadOnly
            | ErrorCode::PermissionDenied
            | ErrorCode::AuthorizationForStatementDenied => RecordError::ReadOnly { path },
            ErrorCode::DiskFull => RecordError::Full { path },
            ErrorCode::DatabaseCorrupt => RecordError::Damaged { path, detail },
            ErrorCode::NotADatabase => {
                RecordError::NotARecord { path, why: "it is no database of the kind a record is" }
            }
            ErrorCode::CannotOpen => RecordError::File { path, action: "opened", cause: detail },
            ErrorCode::SystemIoFailure => {
                RecordError::File { path, action: "read or written", cause: detail }
            }
            // All statements are written here, so one that does not fit means tables that are not ours.
            ErrorCode::Unknown if detail.contains("no such") => RecordError::Damaged { path, detail },
            _ => RecordError::Database { path, detail },
        }
    }

    /// The meaning of an error of the file system.
    pub(crate) fn of_file(path: &Path, action: &'static str, cause: &std::io::Error) -> Self {
        let path = path.to_path_buf();
        match cause.kind() {
            std::io::ErrorKind::StorageFull | std::io::ErrorKind::QuotaExceeded => RecordError::Full { path },
            std::io::ErrorKind::ReadOnlyFilesystem => RecordError::ReadOnly { path },
            _ => RecordError::File { path, action, cause: cause.to_string() },
        }
    }
}

/// Inside: a database error that does not know its file yet, or a finished one.
#[derive(Debug)]
pub(crate) enum Fault {
    Sql(rusqlite::Error),
    Record(RecordError),
}

impl Fault {
    /// With the file it happened to.
    pub(crate) fn at(self, path: &Path) -> RecordError {
        match self {
            Fault::Sql(cause) => RecordError::of(path, &cause),
            Fault::Record(error) => error,
        }
    }
}

impl From<rusqlite::Error> for Fault {
    fn from(cause: rusqlite::Error) -> Self {
        Fault::Sql(cause)
    }
}

impl From<RecordError> for Fault {
    fn from(error: RecordError) -> Self {
        Fault::Record(error)
    }
}

/// What the statements inside a transaction return.
pub(crate) type Outcome<T> = Result<T, Fault>;
