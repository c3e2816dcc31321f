//! One idea a file, and a file that can be read in one go.

use crate::purity::rust_files;
use crate::workspace::Workspace;
use anyhow::{Context, Result, bail};

const MOST_LINES: usize = 600;
const MANY_LINES: usize = 400;

/// No source file is too long; long ones are named.
pub(crate) fn hold(workspace: &Workspace) -> Result<String> {
    let mut too_long = Vec::new();
    let mut long = 0;
    let files = rust_files(&workspace.root)?;
    for file in &files {
        let text =
            std::fs::read_to_string(file).with_context(|| format!("cannot read {}", file.display()))?;
        let shown = file.strip_prefix(&workspace.root).unwrap_or(file).display();
        match text.lines().count() {
            lines if lines > MOST_LINES => {
                too_long.push(format!("{shown}: {lines} lines, at most {MOST_LINES}"));
            }
            lines if lines > MANY_LINES => {
                long += 1;
                println!("note: {shown} has {lines} lines; over {MANY_LINES} a split is worth a thought");
            }
            _ => {}
        }
    }
    if !too_long.is_empty() {
        bail!("{}", too_long.join("\n"));
    }
    Ok(format!("{} source files, {long} over {MANY_LINES} lines", files.len()))
}
