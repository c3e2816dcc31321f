//! All tests but those in the browser.

use crate::{command, validation, workspace::Workspace};
use anyhow::{Result, bail};
use std::process::Command;

/// Runs them with nextest when it is installed, else with cargo's own runner.
pub(crate) fn run(workspace: &Workspace) -> Result<String> {
    validation::clear_records(workspace)?;
    let mut cargo = start(workspace, Part::WithoutBrowser);
    cargo.env(validation::RECORDS_VARIABLE, validation::records_file(workspace));
    let (passed, lines) = command::watch(&mut cargo)?;
    let note = summary_of(&lines);
    if !passed {
        bail!("{note}");
    }
    Ok(note)
}

/// Where property tests begin to draw when nothing else is said: a change is judged by the same cases wherever it is
/// checked. `PROPTEST_RNG_SEED=7 PROPTEST_CASES=20000 cargo test` looks further.
const SEED: (&str, &str) = ("PROPTEST_RNG_SEED", "20260");

/// Which tests are run.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Part {
    WithoutBrowser,
    Browser,
    Published,
}

impl Part {
    /// Arguments for nextest and for cargo's own runner. The first two select all crates where that is possible: another
    /// selection has other features, and would compile the typesetter once more.
    fn arguments(self) -> [&'static [&'static str]; 2] {
        match self {
            Self::WithoutBrowser => {
                [&["--workspace", "-E", "not binary(journeys)"], &["--workspace", "--exclude", "browser"]]
            }
            Self::Browser => [&["--workspace", "--test", "journeys"], &["--workspace", "--test", "journeys"]],
            Self::Published => [&["--package", "published"], &["--package", "published"]],
        }
    }
}

/// A test command, documentation tests left out.
pub(crate) fn start(workspace: &Workspace, part: Part) -> Command {
    let mut cargo = command::cargo(&workspace.root);
    if std::env::var_os(SEED.0).is_none() {
        cargo.env(SEED.0, SEED.1);
    }
    let [nextest, own] = part.arguments();
    if command::works(command::cargo(&workspace.root).args(["nextest", "--version"])) {
        cargo.args(["nextest", "run", "--no-fail-fast", "--no-tests", "pass"]).args(nextest);
    } else {
        let targets: &[&str] =
            if matches!(part, Part::Browser) { &[] } else { &["--lib", "--bins", "--tests"] };
        cargo.args(["test", "--no-fail-fast"]).args(targets).args(own);
    }
    cargo
}

/// What the runner counted: nextest says it in one line, cargo's runner in one line a test binary.
pub(crate) fn summary_of(lines: &[String]) -> String {
    if let Some(line) =
        lines.iter().find(|line| line.contains(" tests run: ") || line.contains(" test run: "))
    {
        return line.split_once("] ").map_or(line.as_str(), |(_, counts)| counts.trim()).to_string();
    }
    let count = |word: &str| -> usize {
        let results = lines.iter().filter(|line| line.starts_with("test result: "));
        results.filter_map(|line| number_before(line, word)).sum()
    };
    let (passed, failed, skipped) = (count(" passed"), count(" failed"), count(" ignored"));
    if passed + failed == 0 {
        return "no test ran: they do not build, or there is none".to_string();
    }
    format!("{} tests run: {passed} passed, {failed} failed, {skipped} skipped", passed + failed)
}

fn number_before(line: &str, word: &str) -> Option<usize> {
    line.split(word).next()?.rsplit(' ').next()?.parse().ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_counts_of_both_runners() {
        let nextest = ["     Summary [   0.1s] 12 tests run: 12 passed, 1 skipped".to_string()];
        assert_eq!(summary_of(&nextest), "12 tests run: 12 passed, 1 skipped");
        let own = [
            "test result: ok. 11 passed; 0 failed; 2 ignored; 0 measured; 0 filtered out".to_string(),
            "test result: FAILED. 3 passed; 1 failed; 0 ignored; 0 measured; 0 filtered out".to_string(),
        ];
        assert_eq!(summary_of(&own), "15 tests run: 14 passed, 1 failed, 2 skipped");
        assert!(summary_of(&["error: could not compile".to_string()]).contains("no test ran"));
    }
}
