//! Journeys through the program in Chromium.

use crate::{command, test_run, workspace::Workspace};
use anyhow::{Context, Result, bail};
use std::path::{Path, PathBuf};
use std::process::Command;

/// The accessibility checker, from the npm registry, fetched once and kept below the target folder.
const CHECKER: &str = "axe-core@4.10.3";

/// Builds the program and runs the journeys.
pub(crate) fn run(workspace: &Workspace) -> Result<String> {
    // Builds the program beside a test of its own, with the features that the other tests gave it: nothing is compiled
    // twice.
    command::run(command::cargo(&workspace.root).args([
        "test",
        "--workspace",
        "--test",
        "command_line",
        "--no-run",
    ]))?;
    let checker = fetch_checker(&workspace.target.join("axe"))?;
    let mut cargo = test_run::start(workspace, test_run::Part::Browser);
    cargo
        .env("PORTWRIGHT_BIN", workspace.target.join("debug").join("portwright"))
        // Errors carry backtraces when asked to; the harness asks the page often, which makes them dear.
        .env("RUST_BACKTRACE", "0")
        .env("BROWSER_CHECKER", checker)
        .env("BROWSER_PICTURES", workspace.target.join("browser"));
    let (passed, lines) = command::watch(&mut cargo)?;
    let note = test_run::summary_of(&lines);
    if !passed {
        bail!("{note}");
    }
    Ok(format!("{note}; pictures in target/browser"))
}

fn fetch_checker(folder: &Path) -> Result<PathBuf> {
    let script = folder.join("package").join("axe.min.js");
    if script.is_file() {
        return Ok(script);
    }
    std::fs::create_dir_all(folder).with_context(|| format!("cannot make {}", folder.display()))?;
    let name = command::text_of(Command::new("npm").args(["pack", "--silent", CHECKER]).current_dir(folder))
        .context("npm is needed once to fetch the accessibility checker")?;
    let packed = name.trim().lines().last().unwrap_or_default().to_string();
    command::run(Command::new("tar").args(["-xzf", &packed, "package/axe.min.js"]).current_dir(folder))?;
    Ok(script)
}
