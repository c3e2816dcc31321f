//! The core crates compute and nothing else: no files, clock, sockets, environment, threads, hidden seeds.

use crate::workspace::{Crate, Workspace};
use anyhow::{Context, Result, bail};
use std::path::{Path, PathBuf};

/// Core crate, and the crates from outside that it may depend on.
const ALLOWED: &[(&str, &[&str])] = &[
    ("quantity", &["serde", "thiserror"]),
    ("userfile", &["serde", "toml"]),
    ("engine", &["serde", "serde_json", "thiserror", "toml"]),
    ("gear", &["serde", "thiserror"]),
    ("gas", &["libm", "serde", "thiserror"]),
    ("evidence", &["libm", "rand", "rand_chacha", "rand_distr", "serde", "thiserror"]),
    ("diagnosis", &["serde", "thiserror", "toml"]),
    ("workshop", &["rand", "rand_chacha", "rand_distr", "serde", "serde_json", "thiserror", "toml"]),
    ("drawing", &[]),
    ("sheet", &["serde", "thiserror", "typst", "typst-layout", "typst-pdf"]),
];

/// Crates from outside that tests and benches of every core crate may use besides.
const FOR_TESTS: &[&str] = &["divan", "insta", "lopdf", "proptest", "roxmltree", "serde_json", "toml"];

/// Words that reach outside, and what to do instead.
const BANNED: &[(&str, &str)] = &[
    ("std::fs", "take text or bytes as an argument"),
    ("std::io::stdin", "take text or bytes as an argument"),
    ("std::net", "the core knows no sockets"),
    ("std::env::", "take the setting as an argument"),
    ("std::process", "the core starts nothing"),
    ("std::thread", "the caller decides on threads"),
    ("Instant::now", "take time as an argument"),
    ("SystemTime", "take time as an argument"),
    ("rand::rng(", "take the seed as an argument"),
    ("thread_rng", "take the seed as an argument"),
    ("from_os_rng", "take the seed as an argument"),
];

/// Every core crate keeps to its list.
pub(crate) fn hold(workspace: &Workspace) -> Result<String> {
    let mut faults = Vec::new();
    for (name, allowed) in ALLOWED {
        let Some(core) = workspace.crates.iter().find(|known| known.name == *name) else {
            bail!("the core crate {name} is missing: mend the list in xtask/src/purity.rs");
        };
        faults.extend(manifest_faults(workspace, core, allowed));
        for file in rust_files(&core.folder.join("src"))? {
            let text =
                std::fs::read_to_string(&file).with_context(|| format!("cannot read {}", file.display()))?;
            let shown = file.strip_prefix(&workspace.root).unwrap_or(&file).display().to_string();
            faults.extend(source_faults(&shown, &text));
        }
    }
    if !faults.is_empty() {
        bail!("{}", faults.join("\n"));
    }
    Ok(format!("{} core crates are pure", ALLOWED.len()))
}

fn manifest_faults(workspace: &Workspace, core: &Crate, allowed: &[&str]) -> Vec<String> {
    core.dependencies
        .iter()
        .filter(|line| !workspace.has(&line.name))
        .filter(|line| !allowed.contains(&line.name.as_str()))
        .filter(|line| !(line.for_tests && FOR_TESTS.contains(&line.name.as_str())))
        .map(|line| {
            format!("{}: {} is not on its list of dependencies in xtask/src/purity.rs", core.name, line.name)
        })
        .collect()
}

fn source_faults(file: &str, text: &str) -> Vec<String> {
    let mut faults = Vec::new();
    for (number, line) in text.lines().enumerate() {
        let code = line.split("//").next().unwrap_or_default();
        for (word, instead) in BANNED.iter().filter(|(word, _)| code.contains(word)) {
            faults.push(format!("{file}:{}: {word} in the core: {instead}", number + 1));
        }
    }
    faults
}

/// All `.rs` files below a folder, sorted.
pub(crate) fn rust_files(folder: &Path) -> Result<Vec<PathBuf>> {
    let mut found = Vec::new();
    let mut waiting = vec![folder.to_path_buf()];
    while let Some(next) = waiting.pop() {
        for item in std::fs::read_dir(&next).with_context(|| format!("cannot list {}", next.display()))? {
            let path = item?.path();
            let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
            if path.is_dir() && name != "target" && !name.starts_with('.') {
                waiting.push(path);
            } else if name.ends_with(".rs") {
                found.push(path);
            }
        }
    }
    found.sort();
    Ok(found)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn refuses_a_core_that_reaches_outside() {
        let text = "fn f() {}\nlet t = std::time::Instant::now(); // bad\n// std::fs is only named here\n";
        assert_eq!(
            source_faults("a.rs", text),
            ["a.rs:2: Instant::now in the core: take time as an argument"]
        );
    }
}
