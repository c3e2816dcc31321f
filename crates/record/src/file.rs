//! What a file is, told from its first bytes, before the database may touch it.

use crate::error::RecordError;
use std::fs::File;
use std::io::{ErrorKind, Read};
use std::path::{Path, PathBuf};

/// `application_id` of a Portwright record: the letters PWRT.
pub(crate) const APPLICATION_ID: i64 = 0x5057_5254;

const MAGIC: &[u8; 16] = b"SQLite format 3\0";

/// What stands at a path.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Found {
    /// Nothing, or an empty file.
    Nothing,
    /// A database in which nothing was made yet, as far as its first page tells.
    Blank,
    /// A database with the mark of a record.
    Record,
}

/// Looks at the file without changing it, and without letting the database near it: that would tidy up logs that
/// belong to another program.
///
/// # Errors
/// [`RecordError::NotARecord`] for anything else than a record, [`RecordError::Damaged`] for one cut short.
pub(crate) fn look_at(path: &Path) -> Result<Found, RecordError> {
    let about = match std::fs::metadata(path) {
        Ok(about) => about,
        Err(cause) if cause.kind() == ErrorKind::NotFound => return Ok(Found::Nothing),
        Err(cause) => return Err(RecordError::of_file(path, "opened", &cause)),
    };
    let not_a_record = |why| RecordError::NotARecord { path: path.to_path_buf(), why };
    if about.is_dir() {
        return Err(not_a_record("it is a folder"));
    }
    if about.len() == 0 {
        return Ok(Found::Nothing);
    }
    let mut bytes = Vec::new();
    File::open(path)
        .and_then(|file| file.take(HEAD).read_to_end(&mut bytes))
        .map_err(|cause| RecordError::of_file(path, "opened", &cause))?;
    if !bytes.starts_with(MAGIC) {
        return Err(not_a_record("it begins differently"));
    }
    let cut_short =
        || RecordError::Damaged { path: path.to_path_buf(), detail: "it is cut short".to_string() };
    let Some(head) = Head::of(&bytes) else { return Err(cut_short()) };
    if head.application_id == 0 && head.tables == Some(0) {
        return Ok(Found::Blank);
    }
    if head.application_id != APPLICATION_ID {
        return Err(not_a_record("it is a database of another program"));
    }
    // While a log is there the file itself may lag behind its head.
    let has_log = |ending| std::fs::metadata(beside(path, ending)).is_ok_and(|log| log.len() > 0);
    if about.len() < head.least_bytes && !has_log("-wal") && !has_log("-journal") {
        return Err(cut_short());
    }
    Ok(Found::Record)
}

/// What the first page says, by the published file format of SQLite (sections 1.3 and 1.6).
struct Head {
    application_id: i64,
    /// Number of tables and indexes, when they fit on the first page.
    tables: Option<u16>,
    least_bytes: u64,
}

/// File head of 100 bytes and the head of the first page of the list of tables.
const HEAD: u64 = 108;

impl Head {
    fn of(bytes: &[u8]) -> Option<Self> {
        let u16_at = |at: usize| Some(u16::from_be_bytes(bytes.get(at..at + 2)?.try_into().ok()?));
        let u32_at = |at: usize| Some(u32::from_be_bytes(bytes.get(at..at + 4)?.try_into().ok()?));
        const LEAF: u8 = 13;
        // 1 stands for 65536.
        let page_bytes = match u16_at(16)? {
            1 => 65_536,
            bytes => u64::from(bytes),
        };
        Some(Self {
            application_id: i64::from(u32_at(68)?),
            tables: if *bytes.get(100)? == LEAF { u16_at(103) } else { None },
            least_bytes: u64::from(u32_at(28)?) * page_bytes,
        })
    }
}

/// Refuses a file, or a folder for a new one, that is marked as not to be written.
pub(crate) fn refuse_read_only(path: &Path) -> Result<(), RecordError> {
    let marked = |path: &Path| std::fs::metadata(path).is_ok_and(|about| about.permissions().readonly());
    let folder = folder_of(path);
    // Windows marks folders as read-only for reasons of its own.
    if marked(path) || (cfg!(unix) && marked(&folder)) {
        return Err(RecordError::ReadOnly { path: path.to_path_buf() });
    }
    Ok(())
}

/// The folder a file stands in.
pub(crate) fn folder_of(path: &Path) -> PathBuf {
    match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder.to_path_buf(),
        _ => PathBuf::from("."),
    }
}

/// The same path with something added to the file's name.
pub(crate) fn beside(path: &Path, ending: &str) -> PathBuf {
    let mut name = path.as_os_str().to_os_string();
    name.push(ending);
    PathBuf::from(name)
}

/// The first of `<name><ending>`, `<name><ending>.2`, `.3` ... that does not exist: nothing kept is written over.
pub(crate) fn free_name(path: &Path, ending: &str) -> PathBuf {
    let first = beside(path, ending);
    if !exists(&first) {
        return first;
    }
    (2_u32..).map(|n| beside(path, &format!("{ending}.{n}"))).find(|name| !exists(name)).unwrap_or(first)
}

/// Also true of a link that leads nowhere.
pub(crate) fn exists(path: &Path) -> bool {
    std::fs::symlink_metadata(path).is_ok()
}

/// Makes sure that a file and its name are on the disk, not only on their way there.
pub(crate) fn settle(path: &Path) -> Result<(), RecordError> {
    File::options()
        .read(true)
        .write(true)
        .open(path)
        .and_then(|file| file.sync_all())
        .map_err(|cause| RecordError::of_file(path, "written", &cause))
}

/// Makes sure that a change of names in the folder of `path` is on the disk. Not every system can; none loses the
/// file itself by it.
pub(crate) fn settle_folder(path: &Path) {
    if cfg!(unix)
        && let Ok(folder) = File::open(folder_of(path))
    {
        let _ = folder.sync_all();
    }
}

/// A file that is taken away again unless it was put in its place.
pub(crate) struct Draft {
    path: PathBuf,
}

impl Draft {
    /// A free name beside `path`.
    pub(crate) fn beside(path: &Path) -> Self {
        Self { path: free_name(path, &format!(".part-{}", std::process::id())) }
    }

    /// Where to write.
    pub(crate) fn path(&self) -> &Path {
        &self.path
    }

    /// Gives it its name, at once and whole, in place of what may stand there.
    pub(crate) fn put(self, path: &Path) -> Result<(), RecordError> {
        settle(&self.path)?;
        std::fs::rename(&self.path, path).map_err(|cause| RecordError::of_file(path, "written", &cause))?;
        settle_folder(path);
        Ok(())
    }
}

impl Drop for Draft {
    fn drop(&mut self) {
        for ending in ["", "-journal", "-wal", "-shm"] {
            let _ = std::fs::remove_file(beside(&self.path, ending));
        }
    }
}
