//! Programs started from here: never with a terminal to wait at, always with their exit code looked at.

use anyhow::{Context, Result, bail};
use std::ffi::OsString;
use std::io::{BufRead, BufReader, Read, Write};
use std::path::Path;
use std::process::{Command, Stdio};

/// The cargo that runs this program, started in `folder`.
pub(crate) fn cargo(folder: &Path) -> Command {
    let name = std::env::var_os("CARGO").unwrap_or_else(|| OsString::from("cargo"));
    let mut command = Command::new(name);
    command.current_dir(folder).stdin(Stdio::null());
    command
}

/// Runs it with its output shown; an exit code other than zero is an error.
pub(crate) fn run(command: &mut Command) -> Result<()> {
    let status = command.status().with_context(|| format!("cannot start {}", line_of(command)))?;
    if !status.success() {
        bail!("{} ended with {status}", line_of(command));
    }
    Ok(())
}

/// Runs it quietly and returns what it wrote to standard output.
pub(crate) fn text_of(command: &mut Command) -> Result<String> {
    let output = command
        .stderr(Stdio::inherit())
        .output()
        .with_context(|| format!("cannot start {}", line_of(command)))?;
    if !output.status.success() {
        bail!("{} ended with {}", line_of(command), output.status);
    }
    String::from_utf8(output.stdout).context("output is not UTF-8")
}

/// Whether it can be started and ends well; its output is dropped.
pub(crate) fn works(command: &mut Command) -> bool {
    let quiet = command.stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null());
    quiet.status().is_ok_and(|status| status.success())
}

/// Runs it with its output shown, and returns whether it ended well beside all lines it wrote.
pub(crate) fn watch(command: &mut Command) -> Result<(bool, Vec<String>)> {
    let mut child = command
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .with_context(|| format!("cannot start {}", line_of(command)))?;
    let (out, err) = (child.stdout.take(), child.stderr.take());
    let from_out = std::thread::spawn(move || out.map(|pipe| show(pipe, std::io::stdout())));
    let mut lines = err.map(|pipe| show(pipe, std::io::stderr())).unwrap_or_default();
    if let Ok(Some(more)) = from_out.join() {
        lines.extend(more);
    }
    Ok((child.wait()?.success(), lines))
}

fn show(pipe: impl Read, mut shown: impl Write) -> Vec<String> {
    let mut lines = Vec::new();
    for bytes in BufReader::new(pipe).split(b'\n').map_while(Result::ok) {
        let line = String::from_utf8_lossy(&bytes).into_owned();
        // A closed terminal is no reason to stop the checks.
        let _ = writeln!(shown, "{line}");
        lines.push(line);
    }
    lines
}

fn line_of(command: &Command) -> String {
    let words: Vec<_> = command.get_args().map(|word| word.to_string_lossy().into_owned()).collect();
    let program = Path::new(command.get_program());
    let name = program.file_name().unwrap_or(command.get_program()).to_string_lossy();
    format!("{name} {}", words.join(" "))
}
