//! What the two sets of fields mean for the valve, when both can be worked out.

use crate::answer::{Answer, answer};
use crate::form::path;
use crate::report::{Drift, EndError, ErrorBand, Figure, Turn};
use engine::file::Reading;
use engine::file::fields::{Field, read_fields};
use quantity::{Dimension, Measured, Units};
use serde::Serialize;
use std::collections::BTreeMap;

type Fields = BTreeMap<String, String>;

/// The valve edge at one end of its travel, in both.
#[derive(Debug, Clone, Serialize)]
pub struct EndChange {
    /// "closed" or "fully open".
    pub end: String,
    /// What is measured.
    pub what: String,
    /// The edge as found in a; `None` when no reading tells.
    pub a: Option<Figure>,
    /// The edge as found in b.
    pub b: Option<Figure>,
    /// b minus a along the cylinder axis.
    pub difference: Option<Figure>,
    /// The same in crank degrees of exhaust opening, positive: opens earlier in b.
    pub crank: Option<Figure>,
    /// True when the difference is larger than its expanded uncertainty.
    pub real: Option<bool>,
    /// b against what is accepted: "pass", "fail" or "cannot tell".
    pub verdict: Option<String>,
    /// One sentence.
    pub text: String,
}

/// What follows from both.
pub(super) struct Answers {
    pub(super) ends: Vec<EndChange>,
    pub(super) drift: Vec<Drift>,
    pub(super) turns: Vec<Turn>,
    pub(super) words: Vec<String>,
}

pub(super) fn answers(a: &Fields, b: &Fields, units: Units) -> Answers {
    let (one, two) = (reading(a), reading(b));
    let mut words = Vec::new();
    for (which, fields, reading) in [("earlier", a, &one), ("later", b, &two)] {
        if reading.is_none() {
            let next = path(fields).next.map_or(String::new(), |next| format!(" {}", next.text));
            words.push(format!(
                "The {which} one cannot be worked out yet, so only its entries are compared.{next}"
            ));
        }
    }
    let Some(mut later) = two else {
        return Answers { ends: Vec::new(), drift: Vec::new(), turns: Vec::new(), words };
    };
    let own = later.engine.returns.is_some();
    if let (None, Some(earlier)) = (&later.engine.returns, &one) {
        later.engine.returns.clone_from(&earlier.engine.returns);
    }
    let earlier = one.map(|reading| answer(&reading, units));
    let later = answer(&later, units);
    let ends = earlier.as_ref().map_or_else(Vec::new, |earlier| ends(earlier, &later, units));
    words.extend(ends.iter().map(|end| end.text.clone()));
    let drift = later.report.drift.clone();
    words.extend(drift_words(&later, own));
    let turns: Vec<Turn> = later.report.steps.iter().filter_map(|step| step.turn.clone()).collect();
    words.extend(turns.iter().map(|turn| turn.text.clone()));
    if turns.is_empty() {
        words.push(later.report.headline.clone());
    }
    Answers { ends, drift, turns, words }
}

/// The engine of the fields; ticks and free notes are no part of it.
fn reading(fields: &Fields) -> Option<Reading> {
    let known = fields.iter().filter(|(key, _)| Field::named(key).is_some());
    read_fields(&known.map(|(key, text)| (key.clone(), text.clone())).collect()).reading
}

fn ends(earlier: &Answer, later: &Answer, units: Units) -> Vec<EndChange> {
    let pairs = earlier.report.ends.iter().zip(&later.report.ends);
    pairs.map(|(a, b)| end_change(a, b, units)).collect()
}

fn end_change(a: &EndError, b: &EndError, units: Units) -> EndChange {
    let both = a.found.as_ref().zip(b.found.as_ref());
    // The two share the engine's figures, so their true difference is known better than this: on the safe side.
    let minus = |part: fn(&ErrorBand) -> &Figure, dimension: Dimension| {
        both.map(|(a, b)| {
            let (a, b) = (part(a), part(b));
            let u = a.standard_uncertainty.hypot(b.standard_uncertainty);
            Figure::of(&Measured::normal(b.value - a.value, u, dimension), units)
        })
    };
    let difference = minus(|band| &band.height, Dimension::Length);
    let crank = minus(|band| &band.crank, Dimension::Angle);
    let real = difference.as_ref().map(|figure| figure.value.abs() > 2.0 * figure.standard_uncertainty);
    let figure = |end: &EndError| end.found.as_ref().map(|band| band.height.clone());
    EndChange {
        end: b.end.clone(),
        what: b.what.clone(),
        text: end_words(a, b, difference.as_ref(), crank.as_ref(), real, units),
        a: figure(a),
        b: figure(b),
        difference,
        crank,
        real,
        verdict: b.found.as_ref().map(|band| band.verdict.clone()),
    }
}

fn end_words(
    a: &EndError,
    b: &EndError,
    difference: Option<&Figure>,
    crank: Option<&Figure>,
    real: Option<bool>,
    units: Units,
) -> String {
    let end = crate::form::upper(&b.end);
    let (Some(before), Some(now), Some(difference), Some(crank)) = (&a.found, &b.found, difference, crank)
    else {
        let which = match (&a.found, &b.found) {
            (None, None) => "neither of the two",
            (None, _) => "the earlier one",
            _ => "the later one",
        };
        return format!("{end}: no reading tells the edge in {which}.");
    };
    let stood = format!("{end}: the edge stood at {}, now at {}", before.height.text, now.height.text);
    if real != Some(true) {
        return format!("{stood}: no difference that the readings can show.");
    }
    let way = if difference.value > 0.0 { ("higher", "earlier") } else { ("lower", "later") };
    let shown =
        |value: f64, u: f64, dimension| quantity::show(&Measured::normal(value.abs(), u, dimension), units);
    format!(
        "{stood}: {} {}, the exhaust opens {} {}.",
        shown(difference.value, difference.standard_uncertainty, Dimension::Length),
        way.0,
        shown(crank.value, crank.standard_uncertainty, Dimension::Angle),
        way.1
    )
}

fn drift_words(later: &Answer, own: bool) -> Vec<String> {
    if later.engine.returns.is_none() {
        return vec![
            "Neither of the two keeps return values: keep them once the setting is right.".to_owned(),
        ];
    }
    let whose = if own { "" } else { " of the earlier one" };
    let drift = &later.report.drift;
    if drift.is_empty() {
        return vec![format!(
            "None of the return values{whose} was read again, so the way back cannot be told."
        )];
    }
    let real: Vec<&Drift> = drift.iter().filter(|drift| drift.real).collect();
    if real.is_empty() {
        return vec![format!(
            "All {} readings that can be compared stand at the return values{whose}, as far as they can show.",
            drift.len()
        )];
    }
    let mut words =
        vec![format!("{} of {} readings are off the return values{whose}:", real.len(), drift.len())];
    words.extend(
        real.iter().map(|drift| format!("{}: off by {}, {}.", drift.name, drift.difference.text, drift.text)),
    );
    words
}
