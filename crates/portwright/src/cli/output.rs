//! Writing results: to the output, or whole into a file.

use super::failure::Failure;
use std::ffi::OsString;
use std::fs::{self, File, OpenOptions};
use std::io::{self, ErrorKind, Write};
use std::path::{Path, PathBuf};

/// Where a result goes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Target {
    /// The standard output.
    Output,
    /// A file.
    File(PathBuf),
}

impl Target {
    /// `-` is the standard output, everything else a file.
    pub(crate) fn of(path: PathBuf) -> Self {
        if path.as_os_str() == "-" { Self::Output } else { Self::File(path) }
    }

    /// Opens the place, so that one that cannot be written is refused before any work is done.
    pub(crate) fn open(&self) -> Result<Place, Failure> {
        match self {
            Self::Output => Ok(Place::Output),
            Self::File(path) => Part::create(path).map(Place::Part),
        }
    }

    /// Writes all of it or nothing.
    pub(crate) fn write(&self, bytes: &[u8]) -> Result<(), Failure> {
        self.open()?.write(bytes)
    }
}

/// An open place.
pub(crate) enum Place {
    /// The standard output.
    Output,
    /// A file that is not there yet under its own name.
    Part(Part),
}

impl Place {
    /// Writes all of it or nothing.
    pub(crate) fn write(self, bytes: &[u8]) -> Result<(), Failure> {
        match self {
            Self::Output => print_bytes(bytes),
            Self::Part(part) => part.write(bytes),
        }
    }
}

/// A file beside the wanted one, renamed once it is whole: no half file is ever there. Goes when it is not finished.
pub(crate) struct Part {
    path: PathBuf,
    beside: PathBuf,
    file: File,
}

impl Part {
    fn create(path: &Path) -> Result<Self, Failure> {
        let refuse = |error: io::Error| Failure::Unwritable(sentence(path, &error));
        if path.is_dir() {
            return Err(refuse(ErrorKind::IsADirectory.into()));
        }
        let name = path.file_name().ok_or_else(|| refuse(ErrorKind::IsADirectory.into()))?;
        let mut part = OsString::from(".");
        part.push(name);
        part.push(format!(".{}.part", std::process::id()));
        let beside = path.with_file_name(part);
        let file = OpenOptions::new().write(true).create_new(true).open(&beside).map_err(refuse)?;
        Ok(Self { path: path.to_owned(), beside, file })
    }

    fn write(mut self, bytes: &[u8]) -> Result<(), Failure> {
        let written = self.file.write_all(bytes).and_then(|()| self.file.sync_all());
        written
            .and_then(|()| fs::rename(&self.beside, &self.path))
            .map_err(|error| Failure::Unwritable(sentence(&self.path, &error)))
    }
}

impl Drop for Part {
    fn drop(&mut self) {
        // After the renaming there is nothing of that name left to remove.
        let _ = fs::remove_file(&self.beside);
    }
}

/// Prints text to the output.
pub(crate) fn print(text: &str) -> Result<(), Failure> {
    print_bytes(text.as_bytes())
}

fn print_bytes(bytes: &[u8]) -> Result<(), Failure> {
    let mut output = io::stdout().lock();
    match output.write_all(bytes).and_then(|()| output.flush()) {
        Ok(()) => Ok(()),
        // The reader has seen enough (a pager that was left): not our failure.
        Err(error) if error.kind() == ErrorKind::BrokenPipe => Ok(()),
        Err(error) => Err(Failure::Unwritable(format!("The output cannot be written: {error}."))),
    }
}

fn sentence(path: &Path, error: &io::Error) -> String {
    let file = path.file_name().unwrap_or(path.as_os_str()).to_string_lossy().into_owned();
    let folder = match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder.display().to_string(),
        _ => "this folder".to_owned(),
    };
    let why = match error.kind() {
        ErrorKind::NotFound => {
            format!("the folder {folder} does not exist. Make it first, or choose another folder")
        }
        ErrorKind::NotADirectory => format!("{folder} is a file, not a folder. Choose a folder that exists"),
        ErrorKind::IsADirectory => format!("{} is itself a folder. Name a file in it", path.display()),
        ErrorKind::PermissionDenied => {
            format!(
                "the folder {folder} may not be written to. Choose another folder, or change its permissions"
            )
        }
        ErrorKind::ReadOnlyFilesystem => {
            format!("the folder {folder} can only be read. Choose another folder")
        }
        ErrorKind::StorageFull => {
            format!("the disk of the folder {folder} is full. Make room, or choose another folder")
        }
        _ => format!("the folder {folder} does not take it ({error}). Choose another folder"),
    };
    format!("{file} was not written: {why}.")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn folder(name: &str) -> PathBuf {
        let folder = std::env::temp_dir().join(format!("portwright-output-{}-{name}", std::process::id()));
        fs::create_dir_all(&folder).unwrap();
        folder
    }

    #[test]
    fn round_trips_bytes_and_leaves_nothing_beside() {
        let folder = folder("whole");
        let target = Target::File(folder.join("a.txt"));
        target.write(b"one").unwrap();
        target.write(b"two").unwrap();
        assert_eq!(fs::read(folder.join("a.txt")).unwrap(), b"two");
        assert_eq!(fs::read_dir(&folder).unwrap().count(), 1);
        drop(Target::File(folder.join("b.txt")).open().unwrap());
        assert_eq!(fs::read_dir(&folder).unwrap().count(), 1, "what was not finished must go");
        fs::remove_dir_all(folder).unwrap();
    }

    #[test]
    fn refuses_a_folder_that_is_not_there_and_a_file_as_folder() {
        let folder = folder("refused");
        let missing = Target::File(folder.join("none/a.txt")).write(b"x").unwrap_err();
        assert!(format!("{missing:?}").contains("does not exist"), "{missing:?}");
        fs::write(folder.join("plain"), b"").unwrap();
        let under_file = Target::File(folder.join("plain/a.txt")).write(b"x").unwrap_err();
        assert!(format!("{under_file:?}").contains("is a file, not a folder"), "{under_file:?}");
        let itself = Target::File(folder.clone()).write(b"x").unwrap_err();
        assert!(format!("{itself:?}").contains("itself a folder"), "{itself:?}");
        fs::remove_dir_all(folder).unwrap();
    }
}
