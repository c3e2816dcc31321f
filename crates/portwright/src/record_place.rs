//! Where the record stands when no file is named: one file in the folder that the platform sets aside for it.

use std::ffi::OsString;
use std::path::{Path, PathBuf};

/// Name of the record's file.
const FILE: &str = "record.sqlite";

/// The record file: the one named, or else the usual one, whose folder is made when it is missing.
///
/// # Errors
/// A sentence, when the computer names no folder for it or the folder cannot be made.
pub(crate) fn find(named: Option<&Path>) -> Result<PathBuf, String> {
    if let Some(named) = named {
        return Ok(named.to_owned());
    }
    let folder = folder(|name| std::env::var_os(name)).ok_or(
        "This computer names no folder for the record (HOME is not set); name a file with --record FILE.",
    )?;
    make(&folder).map_err(|cause| {
        format!(
            "The folder {} for the record could not be made ({cause}); name a file elsewhere with --record FILE.",
            folder.display()
        )
    })?;
    Ok(folder.join(FILE))
}

/// The data folder of the program, from the variables of the environment.
///
/// Linux: XDG Base Directory Specification (freedesktop.org), version 0.8: a relative `XDG_DATA_HOME` is not used.
/// macOS and Windows: the folders their makers set aside for data of programs.
fn folder(variable: impl Fn(&str) -> Option<OsString>) -> Option<PathBuf> {
    let path = |name: &str| variable(name).map(PathBuf::from).filter(|path| path.is_absolute());
    if cfg!(windows) {
        return path("APPDATA").map(|data| data.join("Portwright"));
    }
    if cfg!(target_os = "macos") {
        return path("HOME").map(|home| home.join("Library/Application Support/Portwright"));
    }
    let data = path("XDG_DATA_HOME").or_else(|| path("HOME").map(|home| home.join(".local/share")));
    data.map(|data| data.join("portwright"))
}

/// Makes the folder. What is in it is the workshop's own: other users of the computer need not read it.
fn make(folder: &Path) -> std::io::Result<()> {
    let mut builder = std::fs::DirBuilder::new();
    builder.recursive(true);
    #[cfg(unix)]
    std::os::unix::fs::DirBuilderExt::mode(&mut builder, 0o700);
    builder.create(folder)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_a_named_file_is_taken_as_it_is() {
        assert_eq!(find(Some(Path::new("bench/a.sqlite"))), Ok(PathBuf::from("bench/a.sqlite")));
    }

    #[cfg(all(unix, not(target_os = "macos")))]
    #[test]
    fn published_folders_of_the_xdg_specification() {
        let told = |data: Option<&str>, home: Option<&str>| {
            folder(|name| match name {
                "XDG_DATA_HOME" => data.map(OsString::from),
                "HOME" => home.map(OsString::from),
                _ => None,
            })
        };
        assert_eq!(told(Some("/data"), Some("/home/a")), Some("/data/portwright".into()));
        assert_eq!(told(None, Some("/home/a")), Some("/home/a/.local/share/portwright".into()));
        assert_eq!(told(Some("data"), Some("/home/a")), Some("/home/a/.local/share/portwright".into()));
        assert_eq!(told(Some(""), None), None);
    }
}
