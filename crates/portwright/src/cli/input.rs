//! Reading the engine file.

use super::failure::Failure;
use crate::shelf::Kept;
use std::fs::File;
use std::io::{ErrorKind, Read};
use std::path::{Path, PathBuf};

/// Largest engine file that is read: a real one has a few kilobytes.
pub(crate) const LARGEST_BYTES: u64 = 1_000_000;

/// Where an engine file comes from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Source {
    /// The standard input.
    Input,
    /// A file.
    File(PathBuf),
}

impl Source {
    /// `-` is the standard input, everything else a file.
    pub(crate) fn of(path: PathBuf) -> Self {
        if path.as_os_str() == "-" { Self::Input } else { Self::File(path) }
    }

    /// Its name in messages.
    pub(crate) fn name(&self) -> String {
        match self {
            Self::Input => "standard input".to_owned(),
            Self::File(path) => path.display().to_string(),
        }
    }

    /// Reads the engine.
    pub(crate) fn read(&self) -> Result<Kept, Failure> {
        Kept::read(&self.bytes()?).map_err(|problems| Failure::File { file: self.name(), problems })
    }

    /// Reads a text.
    pub(crate) fn text(&self) -> Result<String, Failure> {
        String::from_utf8(self.bytes()?).map_err(|_| {
            Failure::Usage(format!(
                "{} is no text in UTF-8. Save it as UTF-8, or give another file.",
                self.name()
            ))
        })
    }

    fn bytes(&self) -> Result<Vec<u8>, Failure> {
        let mut bytes = Vec::new();
        match self {
            Self::Input => std::io::stdin().lock().take(LARGEST_BYTES + 1).read_to_end(&mut bytes),
            Self::File(path) => {
                File::open(path).and_then(|file| file.take(LARGEST_BYTES + 1).read_to_end(&mut bytes))
            }
        }
        .map_err(|error| self.unreadable(&error))?;
        if bytes.len() as u64 > LARGEST_BYTES {
            return Err(Failure::Usage(format!(
                "{} is larger than 1 MB; a real one has a few kilobytes. Is it the right file?",
                self.name()
            )));
        }
        Ok(bytes)
    }

    fn unreadable(&self, error: &std::io::Error) -> Failure {
        let name = self.name();
        Failure::Unreadable(match error.kind() {
            ErrorKind::NotFound => format!(
                "There is no file {name}. Give the path of an engine file, or write one with: portwright demo {}",
                self.file_name()
            ),
            ErrorKind::IsADirectory => format!("{name} is a folder. Give the path of an engine file in it."),
            ErrorKind::PermissionDenied => {
                format!("{name} may not be read. Change its permissions, or copy it.")
            }
            _ => format!("{name} cannot be read: {error}."),
        })
    }

    fn file_name(&self) -> String {
        match self {
            Self::Input => "my-engine.toml".to_owned(),
            Self::File(path) => path
                .file_name()
                .map_or_else(|| "my-engine.toml".to_owned(), |name| Path::new(name).display().to_string()),
        }
    }
}
