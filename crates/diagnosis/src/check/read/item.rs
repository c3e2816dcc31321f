//! One `[[check.item]]`: a choice when it has options, a reading when it has a dimension.

use crate::check::limits::TextLimits;
use crate::check::model::{Choice, Item, ItemKind, Reading};
use quantity::Dimension;
use std::collections::BTreeSet;
use userfile::Fields;

const BOTH: [&str; 6] = ["key", "asks", "from", "note", "optional", "options"];
const READING: [&str; 9] =
    ["dimension", "limits", "usual", "by", "below", "within", "above", "overload", "source"];

pub(super) fn read(fields: &Fields<'_, '_>, outcomes: &[&str], seen: &mut BTreeSet<String>) -> Option<Item> {
    let known: Vec<&str> = BOTH.into_iter().chain(READING).collect();
    fields.refuse_unknown(&known);
    let key = fields.new_key(seen);
    let asks = fields.text("asks");
    let (from, note, optional) = (fields.may_text("from"), fields.may_text("note"), fields.flag("optional"));
    let kind = match (fields.gives("options"), fields.gives("dimension")) {
        (true, false) => choice(fields, outcomes),
        (false, true) => reading(fields, outcomes),
        (true, true) => {
            fields.refuse(
                "options",
                "an item is a choice with options or a reading with a dimension; make two items of it",
            );
            None
        }
        (false, false) => {
            fields.refuse(
                "",
                "this item takes no answer; give it options for a choice, or a dimension for a reading",
            );
            None
        }
    };
    Some(Item { key: key?, asks: asks?, from, note, optional, kind: kind? })
}

fn choice(fields: &Fields<'_, '_>, outcomes: &[&str]) -> Option<ItemKind> {
    for key in READING.into_iter().filter(|key| fields.gives(key)) {
        fields.refuse(key, "this key belongs to a reading; this item is a choice");
    }
    let mut seen = BTreeSet::new();
    let tables = fields.tables("options", 12);
    if tables.len() < 2 {
        fields.refuse(
            "options",
            "at least two options are needed: { key = \"...\", text = \"...\", outcome = \"...\" }",
        );
    }
    let options: Vec<Choice> =
        tables.iter().filter_map(|fields| option(fields, outcomes, &mut seen)).collect();
    (options.len() >= 2).then_some(ItemKind::Choice { options })
}

fn option(fields: &Fields<'_, '_>, outcomes: &[&str], seen: &mut BTreeSet<String>) -> Option<Choice> {
    fields.refuse_unknown(&["key", "text", "outcome"]);
    let key = fields.new_key(seen);
    let (text, outcome) = (fields.text("text"), outcome(fields, "outcome", outcomes));
    Some(Choice { key: key?, text: text?, outcome: outcome? })
}

fn reading(fields: &Fields<'_, '_>, outcomes: &[&str]) -> Option<ItemKind> {
    let dimension = dimension(fields);
    let limits = range(fields, "limits", dimension);
    let usual = range(fields, "usual", dimension);
    let by = instrument(fields, dimension);
    let may = |key| fields.gives(key).then(|| outcome(fields, key, outcomes)).flatten();
    let (below, above, overload) = (may("below"), may("above"), may("overload"));
    let within = outcome(fields, "within", outcomes);
    let source = fields.text("source");
    if !fields.gives("below") && !fields.gives("above") {
        fields.refuse(
            "",
            "name the outcome below or above the limits (or both), so that a limit has a consequence",
        );
    }
    for (key, side) in [
        ("below", limits.as_ref().is_some_and(|limits| limits.1.lower.is_some())),
        ("above", limits.as_ref().is_some_and(|limits| limits.1.upper.is_some())),
    ] {
        if side && !fields.gives(key) {
            fields.refuse(
                key,
                format!("the limits have a side for which no outcome is named; write {key} = \"...\""),
            );
        }
    }
    let reading = Reading {
        dimension: dimension?,
        limits: limits.map(|limits| limits.0),
        usual: usual.map(|usual| usual.0),
        by,
        below,
        within: within?,
        above,
        overload,
        source: source?,
    };
    Some(ItemKind::Reading(reading))
}

fn dimension(fields: &Fields<'_, '_>) -> Option<Dimension> {
    let text = fields.text("dimension")?;
    let key = |dimension: Dimension| dimension.name().replace(' ', "-");
    let found =
        Dimension::ALL.into_iter().find(|dimension| word(*dimension) == text || key(*dimension) == text);
    if found.is_none() {
        fields.refuse_word("dimension", &text, &Dimension::ALL.map(word));
    }
    found
}

/// The dimension as it is written in files.
fn word(dimension: Dimension) -> &'static str {
    match dimension {
        Dimension::TorsionRate => "torsion-rate",
        Dimension::Speed => "speed",
        Dimension::Number => "number",
        other => other.name(),
    }
}

fn range(fields: &Fields<'_, '_>, key: &str, dimension: Option<Dimension>) -> Option<(String, TextLimits)> {
    let text = fields.may_text(key)?;
    match TextLimits::read(&text, dimension?) {
        Ok(limits) if limits.reversed => {
            fields.refuse(key, format!("'{text}' has its larger figure first; write the smaller one first"));
            None
        }
        Ok(limits) => Some((text, limits)),
        Err(error) => {
            fields.refuse(key, error.to_string());
            None
        }
    }
}

fn instrument(fields: &Fields<'_, '_>, dimension: Option<Dimension>) -> Option<String> {
    let text = fields.may_text("by")?;
    let dimension = dimension?;
    let fit = |known: &&quantity::Instrument| known.limits_for(dimension).is_some();
    let names: Vec<&str> =
        quantity::instruments().iter().filter(fit).map(quantity::Instrument::name).collect();
    if quantity::instruments().iter().filter(fit).any(|known| known.names.contains(&text.as_str())) {
        return Some(text);
    }
    fields.refuse_word("by", &text, &names);
    None
}

/// An outcome that must be one of the check's own.
pub(super) fn outcome(fields: &Fields<'_, '_>, key: &str, outcomes: &[&str]) -> Option<String> {
    let text = fields.text(key)?;
    if outcomes.contains(&text.as_str()) {
        return Some(text);
    }
    fields.refuse_word(key, &text, outcomes);
    None
}
