//! The version of the file's layout.

use super::problem::Problems;
use super::source::Source;
use super::spec::VERSION;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// Refuses a newer layout before anything else is read: its keys may mean something else. A missing or unreadable
/// version is found with the other keys.
pub(super) fn check(root: &Spanned<DeTable<'_>>, source: &Source<'_>, problems: &mut Problems) -> Option<()> {
    let Some(value) = root.get_ref().get("portwright") else { return Some(()) };
    let DeValue::Integer(_) = value.get_ref() else { return Some(()) };
    let written = source.text.get(value.span()).unwrap_or("");
    let version: u64 = written.parse().unwrap_or(0);
    if version <= u64::from(VERSION) {
        return Some(());
    }
    problems.add(
        Some(source.line(value.span().start)),
        "portwright",
        format!("this file was written for version {version} of the engine file, and this program reads version {VERSION}; use a newer program, or write the file anew by the reference page"),
    );
    None
}
