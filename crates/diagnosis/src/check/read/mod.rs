//! A file of checks, read: every problem at once, each with its line, its key and the mend.

mod check;
mod fields;
mod item;
mod nearest;
mod source;
mod syntax;

use super::checks::Checks;
use super::model::{Check, TakeOff};
use super::problem::Problem;
use fields::Fields;
use source::{Problems, Source};
use std::collections::BTreeSet;
use toml::de::DeTable;

/// Larger texts are refused.
const LONGEST: usize = 1_000_000;
/// Problems beyond this are not worth listing.
const MOST_PROBLEMS: usize = 60;

/// Reads a file. `known` are pieces to take off that it may name without listing them.
pub(super) fn read(text: &str, known: &[TakeOff]) -> Result<Checks, Vec<Problem>> {
    let source = Source::of(text);
    let problems = Problems::default();
    if text.len() > LONGEST {
        problems.add(None, "", "the file is larger than 1 MB; a file of checks holds only text");
        return Err(problems.sorted(MOST_PROBLEMS));
    }
    let (root, errors) = DeTable::parse_recoverable(text);
    syntax::explain(&source, &errors, &problems);
    if !errors.is_empty() {
        return Err(problems.sorted(MOST_PROBLEMS));
    }
    let checks = whole(&Fields::root(root.get_ref(), &source, &problems), known);
    if problems.is_empty() { Ok(checks) } else { Err(problems.sorted(MOST_PROBLEMS)) }
}

fn whole(root: &Fields<'_, '_>, known: &[TakeOff]) -> Checks {
    root.refuse_unknown(&["portwright", "take_off", "check"]);
    if let Some(version) = root.number("portwright")
        && version != 1.0
    {
        root.refuse(
            "portwright",
            format!("layout {version} is not known here; this version reads portwright = 1"),
        );
    }
    let mut seen = BTreeSet::new();
    let take_off: Vec<TakeOff> =
        root.tables("take_off", 100).iter().filter_map(|fields| piece(fields, &mut seen)).collect();
    let pieces: Vec<&str> = known.iter().chain(&take_off).map(|piece| piece.key.as_str()).collect();
    let mut seen = BTreeSet::new();
    let checks: Vec<Check> = root
        .tables("check", 300)
        .iter()
        .filter_map(|fields| check::read(fields, &pieces, &mut seen))
        .collect();
    if checks.is_empty() && !root.gives("check") {
        root.refuse("", "the file holds no check; begin one with [[check]] on a line of its own".to_owned());
    }
    Checks { checks, take_off }
}

fn piece(fields: &Fields<'_, '_>, seen: &mut BTreeSet<String>) -> Option<TakeOff> {
    fields.refuse_unknown(&["key", "name", "minutes", "parts", "source"]);
    let key = fields.new_key(seen);
    let name = fields.text("name");
    let minutes = fields.minutes();
    let (parts, source) = (fields.texts("parts"), fields.text("source"));
    Some(TakeOff { key: key?, name: name?, minutes: minutes?, parts, source: source? })
}
