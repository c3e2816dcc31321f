//! A file of checks, read: every problem at once, each with its line, its key and the mend.

mod check;
mod item;

use super::checks::Checks;
use super::model::{Check, TakeOff};
use std::collections::BTreeSet;
use userfile::{Fields, Layout, Problem};

/// What a file of checks looks like, for sentences.
const LAYOUT: Layout = Layout {
    holds: "checks",
    section: "check",
    line: "title = \"Supply voltage\"",
    key: "sensor-ends",
    longest_text: 1200,
};

/// Reads a file. `known` are pieces to take off that it may name without listing them.
pub(super) fn read(text: &str, known: &[TakeOff]) -> Result<Checks, Vec<Problem>> {
    userfile::read(text, &LAYOUT, |root| Some(whole(root, known)))
}

fn whole(root: &Fields<'_, '_>, known: &[TakeOff]) -> Checks {
    root.refuse_unknown(&["portwright", "take_off", "check"]);
    root.version("portwright", false);
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
    let minutes = minutes(fields);
    let (parts, source) = (fields.texts("parts"), fields.text("source"));
    Some(TakeOff { key: key?, name: name?, minutes: minutes?, parts, source: source? })
}

/// `minutes`: more than 0 and at most a day's work.
fn minutes(fields: &Fields<'_, '_>) -> Option<f64> {
    if !fields.gives("minutes") {
        fields.refuse("minutes", "this is missing; write minutes = 5");
        return None;
    }
    let minutes = fields.number("minutes")?;
    if minutes > 0.0 && minutes <= 600.0 {
        return Some(minutes);
    }
    fields.refuse("minutes", format!("{minutes} min is not accepted; write more than 0 and at most 600"));
    None
}
