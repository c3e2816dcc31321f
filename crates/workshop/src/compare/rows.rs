//! Field by field: texts, and figures with the uncertainty of their difference.

use crate::form::full_label;
use crate::report::Figure;
use engine::file::fields::{Field, sections_of};
use engine::file::spec::{Kind, spec};
use quantity::{Measured, Units};
use serde::Serialize;
use std::collections::{BTreeMap, BTreeSet};

type Fields = BTreeMap<String, String>;

/// One field that is not the same on both sides.
#[derive(Debug, Clone, Serialize)]
pub struct Change {
    /// Key; for a port the number it has in b.
    pub key: String,
    /// What it is called.
    pub label: String,
    /// Text in a; `None` when it has none.
    pub a: Option<String>,
    /// Text in b; `None` when it has none.
    pub b: Option<String>,
    /// b minus a, when both are figures.
    pub difference: Option<Figure>,
    /// True when the difference is larger than its expanded uncertainty (k = 2).
    pub real: Option<bool>,
    /// What it means, in a few words.
    pub text: String,
}

/// The fields of `a` with each port and each piece of the pipe under the number that the one of the same name has in `b`.
pub(super) fn with_numbers_of(a: &Fields, b: &Fields) -> Fields {
    let repeated = spec().sections.iter().filter(|section| section.repeated);
    let numbers: BTreeMap<&str, BTreeMap<u32, u32>> =
        repeated.map(|section| (section.path, renumbered(section.path, a, b))).collect();
    a.iter()
        .map(|(key, text)| {
            let renamed = Field::named(key).and_then(|field| {
                let number = *numbers.get(field.section.path)?.get(&field.place?)?;
                Some(Field { place: Some(number), ..field }.to_string())
            });
            (renamed.unwrap_or_else(|| key.clone()), text.clone())
        })
        .collect()
}

/// For each number of a section in `a` the number of the one of the same name in `b`, or a free one.
fn renumbered(path: &str, a: &Fields, b: &Fields) -> BTreeMap<u32, u32> {
    let name = |fields: &Fields, place: u32| {
        fields
            .get(&format!("{path}.{place}.name"))
            .map(|name| name.trim().to_owned())
            .filter(|name| !name.is_empty())
    };
    let theirs: Vec<(u32, Option<String>)> =
        sections_of(b, path).into_iter().map(|at| (at, name(b, at))).collect();
    let mut taken = BTreeSet::new();
    let mut numbers = BTreeMap::new();
    let mut free = theirs.iter().map(|(at, _)| *at).max().unwrap_or(0);
    for place in sections_of(a, path) {
        let ours = name(a, place);
        let like = theirs.iter().find(|(at, name)| ours.is_some() && *name == ours && !taken.contains(at));
        let number = like.map_or_else(
            || {
                free = free.saturating_add(1);
                free
            },
            |(at, _)| *at,
        );
        taken.insert(number);
        numbers.insert(place, number);
    }
    numbers
}

/// Every field that differs, in the order of the engine file (fields that it does not know last), and how many are
/// the same.
pub(super) fn rows(a: &Fields, b: &Fields, units: Units) -> (Vec<Change>, usize) {
    let keys: BTreeSet<&String> = a.keys().chain(b.keys()).collect();
    let mut keys: Vec<&String> = keys.into_iter().collect();
    keys.sort_by_key(|key| order(key));
    let mut unchanged = 0;
    let mut rows = Vec::new();
    for key in keys {
        let text = |fields: &Fields| {
            fields.get(key).map(|text| text.trim().to_owned()).filter(|text| !text.is_empty())
        };
        let (one, two) = (text(a), text(b));
        if one == two {
            unchanged += usize::from(one.is_some());
            continue;
        }
        let label = full_label(if two.is_some() { b } else { a }, key);
        rows.push(change(key, label, one, two, units));
    }
    (rows, unchanged)
}

fn order(key: &str) -> (usize, u32, usize) {
    let Some(field) = Field::named(key) else { return (usize::MAX, 0, 0) };
    let section = spec().sections.iter().position(|section| section.path == field.section.path);
    let name = field.section.keys.iter().position(|key| key.name == field.key.name);
    (section.unwrap_or(usize::MAX), field.place.unwrap_or(0), name.unwrap_or(usize::MAX))
}

fn change(key: &str, label: String, a: Option<String>, b: Option<String>, units: Units) -> Change {
    let figures = figure(key, a.as_deref()).zip(figure(key, b.as_deref()));
    let (difference, real, text) = match figures {
        Some((a, b)) => {
            let (value, u) = (b.value - a.value, b.u.hypot(a.u));
            // Round-off of unit conversion is no difference.
            let real = value.abs() > (2.0 * u).max(1e-12 * a.value.abs().max(b.value.abs()));
            let text = match (real, value > 0.0) {
                (true, true) => "larger",
                (true, false) => "smaller",
                (false, _) => "no difference that the figures can show",
            };
            (Some(Figure::of(&Measured::normal(value, u, a.dimension), units)), Some(real), text)
        }
        None => {
            let text = match (&a, &b) {
                (None, _) => "only in the later one",
                (_, None) => "only in the earlier one",
                _ => "changed",
            };
            (None, None, text)
        }
    };
    Change { key: key.to_owned(), label, a, b, difference, real, text: text.to_owned() }
}

/// The figure that a field's text says; limits are chosen and therefore exact.
fn figure(key: &str, text: Option<&str>) -> Option<Measured> {
    let field = Field::named(key).filter(|field| !field.source)?;
    match field.key.holds {
        Kind::Figure(figure) => quantity::parse(text?, figure.dimension).ok(),
        Kind::Limit(figure) => {
            quantity::parse(text?, figure.dimension).ok().map(|limit| Measured { u: 0.0, ..limit })
        }
        _ => None,
    }
}
