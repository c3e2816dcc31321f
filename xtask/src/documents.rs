//! Documents that follow from the table of keys of the engine file.

use crate::workspace::Workspace;
use anyhow::{Context, Result, bail};
use std::path::PathBuf;

/// Between these lines `docs/engine-file.md` is generated; the rest of the page is written by hand.
const BEGIN: &str = "<!-- keys: begin -->\n";
const END: &str = "<!-- keys: end -->";

/// Writes them.
pub(crate) fn write(workspace: &Workspace) -> Result<String> {
    for (path, text) in wanted(workspace)? {
        if let Some(folder) = path.parent() {
            std::fs::create_dir_all(folder).with_context(|| format!("cannot make {}", folder.display()))?;
        }
        std::fs::write(&path, text).with_context(|| format!("cannot write {}", path.display()))?;
    }
    Ok("docs/engine-file.md and schema/engine.schema.json are written".to_string())
}

/// The stored copies are what the table gives.
pub(crate) fn compare(workspace: &Workspace) -> Result<String> {
    let mut stale = Vec::new();
    for (path, text) in wanted(workspace)? {
        if std::fs::read_to_string(&path).unwrap_or_default() != text {
            stale.push(path.strip_prefix(&workspace.root).unwrap_or(&path).display().to_string());
        }
    }
    if !stale.is_empty() {
        bail!("{} out of date: run `cargo xtask documents` and commit it", stale.join(", "));
    }
    Ok("engine file: reference and schema".to_string())
}

fn wanted(workspace: &Workspace) -> Result<Vec<(PathBuf, String)>> {
    let page = workspace.root.join("docs").join("engine-file.md");
    let stored = std::fs::read_to_string(&page).context("cannot read docs/engine-file.md")?;
    let text = page_with(&stored, &engine::file::reference_markdown())?;
    let schema = workspace.root.join("schema").join("engine.schema.json");
    Ok(vec![(page, text), (schema, format!("{:#}\n", engine::file::schema()))])
}

fn page_with(stored: &str, tables: &str) -> Result<String> {
    let lost = || format!("docs/engine-file.md lacks one of the lines {} and {END}", BEGIN.trim());
    let (before, rest) = stored.split_once(BEGIN).with_context(lost)?;
    let (_, after) = rest.split_once(END).with_context(lost)?;
    Ok(format!("{before}{BEGIN}\n{tables}\n{END}{after}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_hand_written_part_is_kept() {
        let stored = format!("by hand\n{BEGIN}\nold\n\n{END}\nend\n");
        let page = page_with(&stored, "new\n").expect("both lines are there");
        assert_eq!(page, format!("by hand\n{BEGIN}\nnew\n\n{END}\nend\n"));
        assert_eq!(page_with(&page, "new\n").expect("both lines are there"), page);
        assert!(page_with("by hand", "new").is_err());
    }
}
