//! The program under test, started as a user starts it.

use anyhow::{Context, Result, bail};
use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use tempfile::TempDir;

/// A running Portwright with an empty folder of its own; it ends when this is dropped.
pub struct App {
    child: Child,
    address: String,
    folder: TempDir,
}

impl App {
    /// Starts the program on a free port and waits for the address that it prints.
    ///
    /// # Errors
    /// When the program was not built, or ends without printing an address.
    pub fn start() -> Result<Self> {
        let folder = tempfile::tempdir().context("no folder for the program")?;
        let (child, address) = begin(folder.path())?;
        Ok(Self { child, address, folder })
    }

    /// Stops the program without a warning, as when the power fails, and starts it again on the same folder. The
    /// address is another one afterwards.
    ///
    /// # Errors
    /// As for [`Self::start`].
    pub fn restart(&mut self) -> Result<()> {
        self.child.kill().context("the program cannot be stopped")?;
        self.child.wait().context("the program does not stop")?;
        (self.child, self.address) = begin(self.folder.path())?;
        Ok(())
    }

    /// Address of a page, for a path that begins with a slash.
    pub fn url(&self, path: &str) -> String {
        format!("{}{path}", self.address)
    }

    /// Writes a file into the program's folder and returns its path, for uploads.
    ///
    /// # Errors
    /// When it cannot be written.
    pub fn file(&self, name: &str, bytes: &[u8]) -> Result<PathBuf> {
        let path = self.folder.path().join(name);
        std::fs::write(&path, bytes).with_context(|| format!("cannot write {}", path.display()))?;
        Ok(path)
    }
}

impl Drop for App {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// Starts the program on what is in a folder, and waits for its address.
fn begin(folder: &Path) -> Result<(Child, String)> {
    let program = program()?;
    let mut child = Command::new(&program)
        .args(["--port", "0"])
        .current_dir(folder)
        .env("HOME", folder)
        .env("XDG_DATA_HOME", folder)
        .stdin(Stdio::null())
        .stdout(Stdio::piped())
        .stderr(Stdio::inherit())
        .spawn()
        .with_context(|| format!("cannot start {}", program.display()))?;
    let mut lines = BufReader::new(child.stdout.take().context("no output")?).lines();
    let address = lines.by_ref().map_while(Result::ok).find_map(|line| address_in(&line));
    // What it prints later is read on, so that the program never waits for a reader.
    std::thread::spawn(move || lines.for_each(drop));
    match address {
        Some(address) => Ok((child, address)),
        None => {
            let _ = child.kill();
            bail!("the program printed no address such as http://127.0.0.1:8000/")
        }
    }
}

fn program() -> Result<PathBuf> {
    let path = std::env::var_os("PORTWRIGHT_BIN")
        .map(PathBuf::from)
        .context("PORTWRIGHT_BIN is not set: run the journeys with `cargo xtask browser`")?;
    if !path.is_file() {
        bail!("{} is missing: run `cargo build -p portwright`", path.display());
    }
    Ok(path)
}

/// The address of the app without the slash at its end.
fn address_in(line: &str) -> Option<String> {
    let start = line.find("http://")?;
    let end = line[start..].find(char::is_whitespace).map_or(line.len(), |length| start + length);
    Some(line[start..end].trim_end_matches(['/', '.', ',']).to_string())
}

#[cfg(test)]
mod tests {
    use super::address_in;

    #[test]
    fn exact_address_of_a_line() {
        let expected = Some("http://127.0.0.1:4321".to_string());
        assert_eq!(address_in("Open http://127.0.0.1:4321/ in a browser"), expected);
        assert_eq!(address_in("http://127.0.0.1:4321"), expected);
        assert_eq!(address_in("starting"), None);
    }
}
