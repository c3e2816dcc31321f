//! The workspace as `cargo metadata` tells it.

use crate::command;
use anyhow::{Context, Result};
use serde_json::Value;
use std::path::{Path, PathBuf};

/// Crates, what they depend on, and where things are.
pub(crate) struct Workspace {
    pub(crate) root: PathBuf,
    pub(crate) target: PathBuf,
    pub(crate) crates: Vec<Crate>,
}

/// One crate of the workspace.
pub(crate) struct Crate {
    pub(crate) name: String,
    pub(crate) folder: PathBuf,
    pub(crate) dependencies: Vec<Dependency>,
}

/// One line of a manifest.
pub(crate) struct Dependency {
    pub(crate) name: String,
    /// Needed by tests and benches only.
    pub(crate) for_tests: bool,
}

impl Workspace {
    /// Asks cargo.
    pub(crate) fn read() -> Result<Self> {
        let text = command::text_of(command::cargo(Path::new(".")).args([
            "metadata",
            "--format-version",
            "1",
            "--no-deps",
        ]))?;
        let all: Value = serde_json::from_str(&text).context("cargo metadata is not JSON")?;
        let mut crates =
            list(&all["packages"]).iter().map(Crate::from_metadata).collect::<Result<Vec<_>>>()?;
        crates.sort_by(|a, b| a.name.cmp(&b.name));
        Ok(Self { root: path(&all["workspace_root"])?, target: path(&all["target_directory"])?, crates })
    }

    /// Whether a crate of that name belongs to the workspace.
    pub(crate) fn has(&self, name: &str) -> bool {
        self.crates.iter().any(|known| known.name == name)
    }
}

impl Crate {
    fn from_metadata(package: &Value) -> Result<Self> {
        let manifest = path(&package["manifest_path"])?;
        let mut dependencies: Vec<Dependency> = list(&package["dependencies"])
            .iter()
            .map(|line| Dependency {
                name: word(&line["name"]),
                for_tests: line["kind"].as_str() == Some("dev"),
            })
            .collect();
        dependencies.sort_by(|a, b| a.name.cmp(&b.name));
        Ok(Self {
            name: word(&package["name"]),
            folder: manifest.parent().context("a manifest without folder")?.to_path_buf(),
            dependencies,
        })
    }
}

fn list(value: &Value) -> &[Value] {
    value.as_array().map(Vec::as_slice).unwrap_or_default()
}

fn word(value: &Value) -> String {
    value.as_str().unwrap_or_default().to_string()
}

fn path(value: &Value) -> Result<PathBuf> {
    value.as_str().map(PathBuf::from).context("cargo metadata lacks a path")
}
