//! A copy of the whole record in one file, made while it is in use.

use crate::connection;
use crate::connection::fault_of;
use crate::error::RecordError;
use crate::file::{self, Draft, Found};
use crate::migration::copy_whole;
use crate::record::Record;
use std::path::Path;

impl Record {
    /// Writes a copy of the record to `to`. It is made under another name, checked, and only then given its own; an
    /// earlier backup of that name is replaced, any other file is not.
    ///
    /// # Errors
    /// [`RecordError::Refused`] when `to` is the record itself; [`RecordError::NotARecord`] when something else
    /// stands there; [`RecordError::Damaged`] when the record does not stand the check; those of the disk.
    pub fn backup(&self, to: &Path) -> Result<(), RecordError> {
        if let Some(path) = self.path()
            && same_file(path, to)
        {
            return Err(RecordError::Refused {
                what: "The backup".to_string(),
                why: format!("{} is the record itself; name another file", to.display()),
            });
        }
        if file::look_at(to)? == Found::Blank {
            let why = "it is an empty database";
            return Err(RecordError::NotARecord { path: to.to_path_buf(), why });
        }
        let draft = Draft::beside(to);
        match self.path() {
            Some(path) => {
                let reader = connection::open_to_read(path).map_err(|cause| RecordError::of(path, &cause))?;
                copy_whole(&reader, path, draft.path())?;
            }
            None => copy_whole(&self.writer(), &self.place(), draft.path())?,
        }
        check(draft.path()).map_err(|error| match error {
            // It is the record that the copy was made of.
            RecordError::Damaged { detail, .. } => RecordError::Damaged { path: self.place(), detail },
            other => other,
        })?;
        draft.put(to)
    }
}

/// Reads every page of a copy that nobody else uses.
pub(crate) fn check(copy: &Path) -> Result<(), RecordError> {
    let connection = connection::open_to_read(copy).map_err(|cause| RecordError::of(copy, &cause))?;
    match fault_of(&connection).map_err(|fault| fault.at(copy))? {
        None => Ok(()),
        Some(detail) => Err(RecordError::Damaged { path: copy.to_path_buf(), detail }),
    }
}

/// Whether two paths lead to one file; false when either leads nowhere.
pub(crate) fn same_file(one: &Path, other: &Path) -> bool {
    match (std::fs::canonicalize(one), std::fs::canonicalize(other)) {
        (Ok(one), Ok(other)) => one == other,
        _ => false,
    }
}
