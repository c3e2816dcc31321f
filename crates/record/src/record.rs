//! The open record: one connection that writes, several that read.

use crate::connection::{self, fault_of};
use crate::error::{BUSY_S, Outcome, RecordError};
use crate::file::{self, Found};
use crate::migration;
use rusqlite::config::DbConfig;
use rusqlite::{Connection, Transaction, TransactionBehavior};
use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard, PoisonError};
use std::time::Duration;

/// An open record file. It can be used from several threads at once; dropping it closes the file.
#[derive(Debug)]
pub struct Record {
    /// `None` for a record in memory, which has one connection only.
    path: Option<PathBuf>,
    writer: Mutex<Connection>,
    readers: Mutex<Vec<Connection>>,
}

/// Readers kept for the next question; more are opened when needed and closed again.
const IDLE_READERS: usize = 4;

impl Record {
    /// Opens the record at `path`, or begins a new one when there is no file or an empty one. Its folder must exist.
    ///
    /// A record of an earlier layout is brought up to date; before that it is copied beside as `<name>.before-N`.
    ///
    /// # Errors
    /// A sentence for a file that is no record, damaged, locked for 5 seconds, not to be written, or written by a
    /// newer program. The file is then left as it was.
    pub fn open(path: &Path) -> Result<Self, RecordError> {
        Self::open_waiting(path, Duration::from_secs(BUSY_S))
    }

    /// [`Record::open`] with another patience; tests of locked files have little of it.
    pub(crate) fn open_waiting(path: &Path, wait: Duration) -> Result<Self, RecordError> {
        let found = file::look_at(path)?;
        file::refuse_read_only(path)?;
        let as_error = |cause: rusqlite::Error| match RecordError::of(path, &cause) {
            // The mark was there, so the rest is broken.
            RecordError::NotARecord { path, .. } if found == Found::Record => {
                RecordError::Damaged { path, detail: cause.to_string() }
            }
            error => error,
        };
        let mut writer = connection::open_to_write(path, wait).map_err(as_error)?;
        // Until it is known that the file is ours, closing it must not tidy up its log.
        let keep_log = |writer: &Connection, keep| {
            writer
                .set_db_config(DbConfig::SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, keep)
                .map(|_| ())
                .map_err(as_error)
        };
        keep_log(&writer, true)?;
        migration::bring_up(&mut writer, Some(path)).map_err(|fault| match fault {
            crate::error::Fault::Sql(cause) => as_error(cause),
            crate::error::Fault::Record(error) => error,
        })?;
        keep_log(&writer, false)?;
        begin_log(&writer).map_err(as_error)?;
        Ok(Self { path: Some(path.to_path_buf()), writer: Mutex::new(writer), readers: Mutex::default() })
    }

    /// A record that is gone with the program: for trying things out and for tests.
    ///
    /// # Errors
    /// Only when there is no memory left.
    pub fn open_in_memory() -> Result<Self, RecordError> {
        let place = Path::new(":memory:");
        let mut writer = connection::open_in_memory().map_err(|cause| RecordError::of(place, &cause))?;
        migration::bring_up(&mut writer, None).map_err(|fault| fault.at(place))?;
        Ok(Self { path: None, writer: Mutex::new(writer), readers: Mutex::default() })
    }

    /// The file, or `None` for a record in memory.
    pub fn path(&self) -> Option<&Path> {
        self.path.as_deref()
    }

    /// Reads every page of the file and checks that it hangs together.
    ///
    /// # Errors
    /// [`RecordError::Damaged`] with the first fault found.
    pub fn check(&self) -> Result<(), RecordError> {
        match self.read(|rows| fault_of(rows))? {
            None => Ok(()),
            Some(detail) => Err(RecordError::Damaged { path: self.place(), detail }),
        }
    }

    /// Runs `ask` on one unchanging state of the record.
    pub(crate) fn read<T>(&self, ask: impl FnOnce(&Transaction<'_>) -> Outcome<T>) -> Result<T, RecordError> {
        let Some(path) = &self.path else {
            let mut writer = self.writer();
            return within(&mut writer, TransactionBehavior::Deferred, ask)
                .map_err(|fault| fault.at(&self.place()));
        };
        let idle = self.readers().pop();
        let mut reader = match idle {
            Some(reader) => reader,
            None => connection::open_to_read(path).map_err(|cause| RecordError::of(path, &cause))?,
        };
        let answer = within(&mut reader, TransactionBehavior::Deferred, ask);
        let mut readers = self.readers();
        if readers.len() < IDLE_READERS {
            readers.push(reader);
        }
        answer.map_err(|fault| fault.at(path))
    }

    /// Runs `change` as a whole or not at all; when it returns, it is on the disk.
    pub(crate) fn write<T>(
        &self,
        change: impl FnOnce(&Transaction<'_>) -> Outcome<T>,
    ) -> Result<T, RecordError> {
        let mut writer = self.writer();
        within(&mut writer, TransactionBehavior::Immediate, change).map_err(|fault| fault.at(&self.place()))
    }

    /// For sentences.
    pub(crate) fn place(&self) -> PathBuf {
        self.path.clone().unwrap_or_else(|| PathBuf::from("in memory"))
    }

    /// A panic of another thread has rolled its transaction back, so the connection is as good as before.
    pub(crate) fn writer(&self) -> MutexGuard<'_, Connection> {
        self.writer.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn readers(&self) -> MutexGuard<'_, Vec<Connection>> {
        self.readers.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

fn within<T>(
    connection: &mut Connection,
    behaviour: TransactionBehavior,
    work: impl FnOnce(&Transaction<'_>) -> Outcome<T>,
) -> Outcome<T> {
    let rows = connection.transaction_with_behavior(behaviour)?;
    let answer = work(&rows)?;
    rows.commit()?;
    Ok(answer)
}

/// Where the disk cannot do a write-ahead log (some network drives) SQLite keeps its older journal, as safe but slower.
fn begin_log(writer: &Connection) -> rusqlite::Result<()> {
    let mode: String = writer.query_row("PRAGMA journal_mode", [], |row| row.get(0))?;
    if mode != "wal" {
        writer.pragma_update_and_check(None, "journal_mode", "WAL", |_| Ok(()))?;
    }
    Ok(())
}

#[cfg(test)]
mod tests;
