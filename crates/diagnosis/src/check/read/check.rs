//! One `[[check]]`.

use super::item;
use crate::check::limits::TextLimits;
use crate::check::model::{Actuator, Check, Item, ItemKind, Outcome, Pair, Sum};
use quantity::Dimension;
use std::collections::BTreeSet;
use userfile::Fields;

const KEYS: [&str; 17] = [
    "key",
    "title",
    "actuators",
    "purpose",
    "minutes",
    "take_off",
    "parts",
    "tools",
    "disconnect",
    "steps",
    "cautions",
    "look",
    "source",
    "item",
    "pair",
    "sum",
    "outcome",
];

pub(super) fn read(fields: &Fields<'_, '_>, pieces: &[&str], seen: &mut BTreeSet<String>) -> Option<Check> {
    fields.refuse_unknown(&KEYS);
    let key = fields.new_key(seen);
    let outcomes = outcomes(fields);
    let keys: Vec<&str> = outcomes.iter().map(|outcome| outcome.key.as_str()).collect();
    let mut parts = BTreeSet::new();
    let items: Vec<Item> =
        fields.tables("item", 40).iter().filter_map(|fields| item::read(fields, &keys, &mut parts)).collect();
    if !fields.gives("item") {
        fields.refuse("", "this check asks nothing; add a [[check.item]]");
    } else if items.iter().all(|item| item.optional) && !items.is_empty() {
        fields.refuse("item", "every item is optional; at least one must be answered to finish the check");
    }
    let pairs = fields
        .tables("pair", 20)
        .iter()
        .filter_map(|fields| pair(fields, &items, &keys, &mut parts))
        .collect();
    let sums = fields.tables("sum", 10).iter().filter_map(|fields| sum(fields, &items)).collect();
    let title = fields.text("title");
    let (purpose, minutes) = (fields.text("purpose"), super::minutes(fields));
    let check = Check {
        key: key?,
        title: title?,
        actuators: actuators(fields),
        purpose: purpose?,
        minutes: minutes?,
        take_off: take_off(fields, pieces),
        parts: fields.texts("parts"),
        tools: fields.texts("tools"),
        disconnect: fields.texts("disconnect"),
        steps: fields.some_texts("steps"),
        cautions: fields.texts("cautions"),
        items,
        pairs,
        sums,
        outcomes,
        source: fields.text("source")?,
        look: fields.may_text("look"),
    };
    Some(check)
}

fn actuators(fields: &Fields<'_, '_>) -> Vec<Actuator> {
    let words = fields.some_texts("actuators");
    let mut kinds = BTreeSet::new();
    for word in &words {
        match Actuator::of_key(word) {
            Some(kind) => {
                kinds.insert(kind);
            }
            None if word == "all" => kinds.extend(Actuator::ALL),
            None => fields.refuse_word("actuators", word, &["all", "servo", "governor", "diaphragm"]),
        }
    }
    kinds.into_iter().collect()
}

fn take_off(fields: &Fields<'_, '_>, pieces: &[&str]) -> Vec<String> {
    let keys = fields.texts("take_off");
    for key in keys.iter().filter(|key| !pieces.contains(&key.as_str())) {
        fields.refuse_word("take_off", key, pieces);
    }
    keys
}

fn outcomes(fields: &Fields<'_, '_>) -> Vec<Outcome> {
    let mut seen = BTreeSet::new();
    let tables = fields.tables("outcome", 12);
    let outcomes: Vec<Outcome> = tables.iter().filter_map(|fields| outcome(fields, &mut seen)).collect();
    if tables.len() < 2 {
        fields.refuse("outcome", "at least two [[check.outcome]] are needed, from best to worst: one that passes and one that does not");
    }
    let first_fail = outcomes.iter().position(|outcome| !outcome.passes);
    let after = first_fail.and_then(|at| outcomes.iter().skip(at).find(|outcome| outcome.passes));
    if let Some(after) = after {
        let text = format!(
            "'{}' passes and stands after one that does not; list the outcomes from best to worst",
            after.key
        );
        fields.refuse("outcome", text);
    }
    outcomes
}

fn outcome(fields: &Fields<'_, '_>, seen: &mut BTreeSet<String>) -> Option<Outcome> {
    fields.refuse_unknown(&["key", "says", "passes", "means"]);
    let key = fields.new_key(seen);
    let (says, passes, means) = (fields.text("says"), fields.need_flag("passes"), fields.text("means"));
    Some(Outcome { key: key?, says: says?, passes, means: means? })
}

fn pair(
    fields: &Fields<'_, '_>,
    items: &[Item],
    outcomes: &[&str],
    seen: &mut BTreeSet<String>,
) -> Option<Pair> {
    fields.refuse_unknown(&["key", "asks", "items", "limits", "within", "apart", "source"]);
    let key = fields.new_key(seen);
    let asks = fields.text("asks");
    let limits = fields.text("limits");
    if let Some(text) = &limits
        && !matches!(TextLimits::read(text, Dimension::Number), Ok(TextLimits { lower: None, upper: Some(share), .. }) if share > 0.0)
    {
        fields.refuse(
            "limits",
            "the limit for a difference is one share of the larger reading; write limits = \"at most 30 %\"",
        );
    }
    let within = item::outcome(fields, "within", outcomes);
    let apart = item::outcome(fields, "apart", outcomes);
    let source = fields.text("source");
    let names = fields.some_texts("items");
    let Ok(names) = <[String; 2]>::try_from(names) else {
        fields.refuse("items", "two readings are compared; write items = [\"one\", \"other\"]");
        return None;
    };
    let dimensions = names.each_ref().map(|name| dimension(items, name));
    match dimensions {
        [Some(one), Some(other)] if one == other && names[0] != names[1] => {}
        _ => fields
            .refuse("items", "a pair names two different readings of this check with the same dimension"),
    }
    Some(Pair {
        key: key?,
        asks: asks?,
        items: names,
        limits: limits?,
        within: within?,
        apart: apart?,
        source: source?,
    })
}

fn sum(fields: &Fields<'_, '_>, items: &[Item]) -> Option<Sum> {
    fields.refuse_unknown(&["parts", "whole"]);
    let (parts, whole) = (fields.some_texts("parts"), fields.text("whole")?);
    let keys: BTreeSet<&String> = parts.iter().chain([&whole]).collect();
    let dimensions: Vec<Option<Dimension>> = keys.iter().map(|key| dimension(items, key)).collect();
    let alike = dimensions.iter().all(|one| one.is_some() && Some(one) == dimensions.first());
    let fits = keys.len() == 3 && alike;
    match <[String; 2]>::try_from(parts) {
        Ok(parts) if fits => Some(Sum { parts, whole }),
        _ => {
            fields.refuse("parts", "a sum names three different readings of this check with the same dimension: parts = [\"one\", \"other\"] and whole = \"both\"");
            None
        }
    }
}

fn dimension(items: &[Item], key: &str) -> Option<Dimension> {
    items.iter().find(|item| item.key == key).and_then(|item| match &item.kind {
        ItemKind::Reading(reading) => Some(reading.dimension),
        ItemKind::Choice { .. } => None,
    })
}
