//! One connection to the database, set up the same way everywhere.

use crate::error::{BUSY_S, Outcome};
use crate::file::APPLICATION_ID;
use rusqlite::config::DbConfig;
use rusqlite::{Connection, OpenFlags};
use std::path::Path;
use std::time::Duration;

/// Opens a file that may be written; makes it when it is missing.
pub(crate) fn open_to_write(path: &Path, wait: Duration) -> rusqlite::Result<Connection> {
    let flags = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_CREATE;
    let connection = Connection::open_with_flags(path, flags | OpenFlags::SQLITE_OPEN_NO_MUTEX)?;
    prepare(&connection, wait)?;
    Ok(connection)
}

/// Opens a record for reading. The flag for writing is needed to read a write-ahead log; statements that write are
/// refused all the same.
pub(crate) fn open_to_read(path: &Path) -> rusqlite::Result<Connection> {
    let flags = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let connection = Connection::open_with_flags(path, flags)?;
    prepare(&connection, Duration::from_secs(BUSY_S))?;
    connection.pragma_update(None, "query_only", true)?;
    Ok(connection)
}

/// A database that lives as long as the connection.
pub(crate) fn open_in_memory() -> rusqlite::Result<Connection> {
    let connection = Connection::open_in_memory()?;
    prepare(&connection, Duration::from_secs(BUSY_S))?;
    Ok(connection)
}

/// Settings that touch no byte of the file. A record may come from a stranger: what its tables say is not trusted.
fn prepare(connection: &Connection, wait: Duration) -> rusqlite::Result<()> {
    connection.busy_timeout(wait)?;
    connection.set_db_config(DbConfig::SQLITE_DBCONFIG_DEFENSIVE, true)?;
    connection.set_db_config(DbConfig::SQLITE_DBCONFIG_TRUSTED_SCHEMA, false)?;
    connection.pragma_update(None, "foreign_keys", true)?;
    connection.pragma_update(None, "cell_size_check", true)?;
    connection.pragma_update(None, "synchronous", "FULL")?;
    connection.set_prepared_statement_cache_capacity(64);
    Ok(())
}

/// Who made a database, and how far its layout has come.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Marks {
    pub application_id: i64,
    pub layout: i64,
    pub tables: i64,
}

impl Marks {
    /// Reads them; changes nothing.
    pub(crate) fn of(connection: &Connection) -> Outcome<Self> {
        let number = |sql: &str| connection.query_row(sql, [], |row| row.get::<_, i64>(0));
        Ok(Self {
            application_id: number("PRAGMA application_id")?,
            layout: number("PRAGMA user_version")?,
            tables: number("SELECT count(*) FROM sqlite_schema")?,
        })
    }

    /// A database in which nothing was made yet: also what is left when the program is stopped while making it.
    pub(crate) fn is_blank(self) -> bool {
        self.application_id == 0 && self.layout == 0 && self.tables == 0
    }

    /// Made by this program, as far as the marks go.
    pub(crate) fn is_ours(self) -> bool {
        self.application_id == APPLICATION_ID && self.layout >= 1
    }
}

/// The first fault of a full check of the file, in the words of the database; reads every page.
pub(crate) fn fault_of(connection: &Connection) -> Outcome<Option<String>> {
    let first: String = connection.query_row("PRAGMA integrity_check(1)", [], |row| row.get(0))?;
    if first != "ok" {
        return Ok(Some(first));
    }
    let mut loose = connection.prepare("PRAGMA foreign_key_check")?;
    let lost: Option<String> = loose.query_map([], |row| row.get(0))?.next().transpose()?;
    Ok(lost.map(|table| format!("a row of table {table} belongs to nothing")))
}
