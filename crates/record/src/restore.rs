//! A backup put in the place of the record.

use crate::backup::{check, same_file};
use crate::connection::{self, Marks};
use crate::error::RecordError;
use crate::file::{self, Draft, Found, beside, free_name};
use crate::migration::{LATEST, copy_whole, hold_tables, judge};
use crate::record::Record;
use std::fs::File;
use std::path::{Path, PathBuf};
use std::time::Duration;

/// What a restore did.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Restored {
    /// Where the record that stood there before is kept; `None` when there was none.
    pub kept: Option<PathBuf>,
}

impl Record {
    /// Puts a copy of the backup `from` in the place of the record `to`, after a full check of it. What stood at `to`
    /// is kept beside as `<name>.before-restore`, whatever it was. `from` stays as it is.
    ///
    /// # Errors
    /// [`RecordError::Locked`] while a program has the record at `to` open; [`RecordError::NotARecord`],
    /// [`RecordError::Damaged`] or [`RecordError::Newer`] for a backup that is not good; those of the disk. `to` is then
    /// as it was.
    pub fn restore(from: &Path, to: &Path) -> Result<Restored, RecordError> {
        if same_file(from, to) {
            return Err(RecordError::Refused {
                what: "The backup".to_string(),
                why: format!("{} is the record itself; name the backup to bring back", from.display()),
            });
        }
        if file::look_at(from)? != Found::Record {
            return Err(RecordError::NotARecord { path: from.to_path_buf(), why: "there is nothing in it" });
        }
        file::refuse_read_only(to)?;
        let draft = Draft::beside(to);
        copy_of_backup(from, &draft)?;
        let kept = set_aside(to)?;
        draft.put(to)?;
        Ok(Restored { kept })
    }
}

/// A checked copy of the backup as the draft of the record.
fn copy_of_backup(from: &Path, draft: &Draft) -> Result<(), RecordError> {
    let of_backup = |error| match error {
        RecordError::Damaged { detail, .. } => RecordError::Damaged { path: from.to_path_buf(), detail },
        other => other,
    };
    if file::exists(&beside(from, "-wal")) || file::exists(&beside(from, "-journal")) {
        // A record rather than a backup, perhaps in use: only the database can read it rightly.
        let source = connection::open_to_read(from).map_err(|cause| RecordError::of(from, &cause))?;
        copy_whole(&source, from, draft.path()).map_err(of_backup)?;
    } else {
        // The backup may lie on a disk that cannot be written, where the database could not open it.
        copy_bytes(from, draft.path())?;
    }
    let copy = connection::open_to_read(draft.path()).map_err(|cause| RecordError::of(from, &cause))?;
    let marks = Marks::of(&copy).map_err(|fault| of_backup(fault.at(from)))?;
    judge(marks, Some(from))?;
    if marks.layout == LATEST {
        hold_tables(&copy, Some(from)).map_err(|fault| of_backup(fault.at(from)))?;
    }
    drop(copy);
    check(draft.path()).map_err(of_backup)
}

/// Without the marks of the file, such as read-only.
fn copy_bytes(from: &Path, to: &Path) -> Result<(), RecordError> {
    let mut source = File::open(from).map_err(|cause| RecordError::of_file(from, "opened", &cause))?;
    File::create(to)
        .and_then(|mut target| std::io::copy(&mut source, &mut target))
        .map(|_| ())
        .map_err(|cause| RecordError::of_file(to, "written", &cause))
}

/// Keeps a second name, or a copy, of what stands at `to`, with its logs, so that the name can be given away.
fn set_aside(to: &Path) -> Result<Option<PathBuf>, RecordError> {
    if !file::exists(to) {
        return Ok(None);
    }
    if file::look_at(to).is_ok_and(|found| found == Found::Record) {
        close_log(to)?;
    }
    let kept = free_name(to, ".before-restore");
    for ending in ["", "-wal", "-journal"] {
        let (old, new) = (beside(to, ending), beside(&kept, ending));
        if file::exists(&old) {
            std::fs::hard_link(&old, &new)
                .or_else(|_| std::fs::copy(&old, &new).map(|_| ()))
                .map_err(|cause| RecordError::of_file(&new, "written", &cause))?;
        }
    }
    file::settle_folder(to);
    // A log that was left would be played into the restored record.
    for ending in ["-wal", "-journal", "-shm"] {
        let _ = std::fs::remove_file(beside(to, ending));
    }
    Ok(Some(kept))
}

/// Brings what stands in the log into the file, so that the file alone is the record. Fails while others have it open;
/// a record too damaged for this is kept with its log.
fn close_log(to: &Path) -> Result<(), RecordError> {
    let close = || -> rusqlite::Result<()> {
        let record = connection::open_to_write(to, Duration::from_secs(1))?;
        record.pragma_update_and_check(None, "locking_mode", "EXCLUSIVE", |_| Ok(()))?;
        record.execute_batch("BEGIN EXCLUSIVE; COMMIT")?;
        record.pragma_update_and_check(None, "journal_mode", "DELETE", |_| Ok(()))?;
        record.close().map_err(|(_, cause)| cause)
    };
    match close().map_err(|cause| RecordError::of(to, &cause)) {
        Err(RecordError::Locked { .. }) => Err(RecordError::Locked { path: to.to_path_buf(), waited_s: 1 }),
        Err(error @ (RecordError::Full { .. } | RecordError::ReadOnly { .. })) => Err(error),
        _ => Ok(()),
    }
}

#[cfg(test)]
mod tests;
