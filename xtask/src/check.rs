//! Everything that must hold.

use crate::steps::Steps;
use crate::workspace::Workspace;
use crate::{arrows, browser, command, documents, purity, sizes, test_run, validation};
use anyhow::Result;
use std::process::{Command, ExitCode};

/// Runs all steps; cheap ones first, the browser last.
pub(crate) fn run(workspace: &Workspace) -> Result<ExitCode> {
    let cargo = |words: &[&str]| {
        let mut command = command::cargo(&workspace.root);
        command.args(words);
        command
    };
    let plain = |mut command: Command| command::run(&mut command).map(|()| String::new());
    let mut steps = Steps::begin();
    steps.step("format", || plain(cargo(&["fmt", "--all", "--check"])));
    steps.step("arrows", || arrows::hold(workspace));
    steps.step("purity", || purity::hold(workspace));
    steps.step("file sizes", || sizes::hold(workspace));
    steps.step("clippy", || {
        plain(cargo(&["clippy", "--workspace", "--all-targets", "--", "--deny", "warnings"]))
    });
    steps.step("tests", || test_run::run(workspace));
    steps.step("doc tests", || {
        plain(cargo(&["test", "--doc", "--workspace", "--exclude", "browser", "--quiet"]))
    });
    steps.step("validation", || validation::compare(workspace));
    steps.step("documents", || documents::compare(workspace));
    steps.step("fuzz", || {
        let mut check =
            cargo(&["check", "--manifest-path", "fuzz/Cargo.toml", "--no-default-features", "--quiet"]);
        check.env("CARGO_TARGET_DIR", &workspace.target);
        plain(check).map(|_| "the targets compile".to_string())
    });
    steps.step("rustdoc", || {
        let mut doc = cargo(&["doc", "--workspace", "--no-deps", "--quiet"]);
        doc.env("RUSTDOCFLAGS", "--deny warnings");
        plain(doc)
    });
    steps.step("browser", || browser::run(workspace));
    Ok(steps.end())
}
