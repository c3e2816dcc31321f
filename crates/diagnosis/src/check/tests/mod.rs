//! What the built-in checks, the reader and the judge must do.

mod built_in;
mod contract;
mod document;
mod judged;
mod mutated;
mod practice;
mod refused;

use super::{Check, Checks, Judgement};
use quantity::Units;
use std::collections::BTreeMap;

fn check(key: &str) -> &'static Check {
    Checks::built_in().get(key).unwrap_or_else(|| panic!("no check {key}"))
}

fn entries(pairs: &[(&str, &str)]) -> BTreeMap<String, String> {
    pairs.iter().map(|(key, text)| ((*key).to_owned(), (*text).to_owned())).collect()
}

fn judge(key: &str, pairs: &[(&str, &str)]) -> Judgement {
    check(key).judge(&entries(pairs), Units::Metric)
}

/// The example of the document.
fn example() -> &'static str {
    let text = include_str!("../../../../../docs/bench-checks.md");
    let start = text.find("```toml\n").expect("an example") + 8;
    let rest = &text[start..];
    &rest[..rest.find("\n```").expect("its end") + 1]
}
