//! Which crate may depend on which. The same list stands in ARCHITECTURE.md.

use crate::workspace::Workspace;
use anyhow::{Context, Result, bail};
use std::collections::BTreeMap;

/// Crate, and the crates of the workspace it may depend on.
const ARROWS: &[(&str, &[&str])] = &[
    (
        "portwright",
        &["diagnosis", "drawing", "engine", "gas", "gear", "quantity", "record", "sheet", "workshop"],
    ),
    ("sheet", &["drawing", "workshop"]),
    ("workshop", &["drawing", "engine", "evidence", "gas", "gear", "quantity", "userfile"]),
    ("diagnosis", &["drawing", "evidence", "quantity", "userfile"]),
    ("gear", &["engine", "quantity"]),
    ("gas", &["engine", "quantity"]),
    ("engine", &["quantity", "userfile"]),
    ("evidence", &["quantity"]),
    ("quantity", &[]),
    ("userfile", &[]),
    ("drawing", &[]),
    ("record", &[]),
    ("published", &["diagnosis", "drawing", "engine", "evidence", "gas", "gear", "quantity", "workshop"]),
    ("browser", &[]),
    ("xtask", &["engine"]),
];

/// Every dependency follows an arrow, and the document shows the same arrows.
pub(crate) fn hold(workspace: &Workspace) -> Result<String> {
    let mut faults = faults_of(workspace);
    let page = std::fs::read_to_string(workspace.root.join("ARCHITECTURE.md"))
        .context("cannot read ARCHITECTURE.md")?;
    faults.extend(differences(&drawn_in(&page)));
    if !faults.is_empty() {
        bail!("{}", faults.join("\n"));
    }
    Ok(format!("{} crates follow the arrows", workspace.crates.len()))
}

fn faults_of(workspace: &Workspace) -> Vec<String> {
    let mut faults = Vec::new();
    for from in &workspace.crates {
        let Some(targets) = targets_of(&from.name) else {
            faults.push(format!("crate {} has no arrows: list it in xtask/src/arrows.rs", from.name));
            continue;
        };
        for to in from.dependencies.iter().filter(|to| workspace.has(&to.name)) {
            // A test may build what the crate is given by its callers, as far down as the arrows lead.
            let allowed = if to.for_tests {
                reaches(&from.name, &to.name)
            } else {
                targets.contains(&to.name.as_str())
            };
            if !allowed {
                faults.push(format!("{} -> {} is not a listed arrow", from.name, to.name));
            }
        }
    }
    faults
}

fn targets_of(name: &str) -> Option<&'static [&'static str]> {
    ARROWS.iter().find(|(from, _)| *from == name).map(|(_, targets)| *targets)
}

fn reaches(from: &str, to: &str) -> bool {
    let targets = targets_of(from).unwrap_or_default();
    targets.iter().any(|next| *next == to || reaches(next, to))
}

/// The lines `crate -> crate, crate` of the block marked `arrows` in the document.
fn drawn_in(page: &str) -> BTreeMap<String, Vec<String>> {
    let block = page.lines().skip_while(|line| line.trim() != "```arrows").skip(1);
    block
        .take_while(|line| line.trim() != "```")
        .filter_map(|line| line.split_once("->"))
        .map(|(from, to)| {
            let mut targets: Vec<String> =
                to.split(',').map(|word| word.trim().to_string()).filter(|word| word != "nothing").collect();
            targets.sort();
            (from.trim().to_string(), targets)
        })
        .collect()
}

fn differences(drawn: &BTreeMap<String, Vec<String>>) -> Vec<String> {
    let listed: BTreeMap<String, Vec<String>> = ARROWS
        .iter()
        .map(|(from, to)| (from.to_string(), to.iter().map(ToString::to_string).collect()))
        .collect();
    let names: std::collections::BTreeSet<_> = listed.keys().chain(drawn.keys()).collect();
    names
        .into_iter()
        .filter(|name| listed.get(*name) != drawn.get(*name))
        .map(|name| format!("ARCHITECTURE.md and xtask/src/arrows.rs differ on the arrows of {name}"))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::workspace::{Crate, Dependency};

    fn workspace_with(from: &str, to: &str) -> Workspace {
        one_line(from, to, false)
    }

    fn one_line(from: &str, to: &str, for_tests: bool) -> Workspace {
        let make = |name: &str, dependencies| Crate {
            name: name.to_string(),
            folder: std::path::PathBuf::new(),
            dependencies,
        };
        let line = Dependency { name: to.to_string(), for_tests };
        let (root, target) = (std::path::PathBuf::new(), std::path::PathBuf::new());
        Workspace { root, target, crates: vec![make(from, vec![line]), make(to, vec![])] }
    }

    #[test]
    fn refuses_an_arrow_that_is_not_listed() {
        assert!(faults_of(&workspace_with("gear", "engine")).is_empty());
        assert_eq!(faults_of(&workspace_with("engine", "gear")), ["engine -> gear is not a listed arrow"]);
        assert!(faults_of(&workspace_with("gadget", "gear"))[0].contains("gadget has no arrows"));
    }

    #[test]
    fn exact_tests_reach_as_far_as_the_arrows_lead() {
        assert!(faults_of(&one_line("sheet", "quantity", true)).is_empty());
        assert_eq!(faults_of(&one_line("sheet", "quantity", false)).len(), 1);
        assert_eq!(faults_of(&one_line("quantity", "sheet", true)).len(), 1);
    }

    #[test]
    fn refuses_a_document_that_draws_other_arrows() {
        let mut page = String::from("text\n```arrows\n");
        for (from, to) in ARROWS {
            let targets = if to.is_empty() { "nothing".to_string() } else { to.join(", ") };
            page += &format!("{from} -> {targets}\n");
        }
        assert!(differences(&drawn_in(&format!("{page}```\n"))).is_empty());
        assert_eq!(differences(&drawn_in(&page.replace("gear -> engine, ", "gear -> "))).len(), 1);
        assert_eq!(differences(&BTreeMap::new()).len(), ARROWS.len());
    }
}
