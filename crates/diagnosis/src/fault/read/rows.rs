//! The four kinds of rows.

use super::super::model::{ByKind, Cause, Condition, Reads, Shares, Symptom, Tables, Test};
use super::row::{Row, unknown};

/// Odds beyond these are no knowledge but a slip.
const LEAST_ODDS: f64 = 1e-6;
const MOST_ODDS: f64 = 1e3;

pub(super) fn condition(row: &Row<'_, '_>, base: &Tables, inherited: Option<String>) -> Option<Condition> {
    row.refuse_unknown(&["key", "name", "actuators", "states", "leak", "source"]);
    let key = row.text("key", "valve-motion")?;
    let states = names(row, "states", 12)?;
    if let Some(known) = base.condition(&key)
        && let Some(gone) = known.states.iter().find(|state| !states.contains(state))
    {
        row.wrong("states", format!("'{gone}' is missing; other rows use it, so keep it and add yours"));
    }
    let leak = match row.inner("leak") {
        Some(inner) => shares(&inner, &states),
        None => Vec::new(),
    };
    Some(Condition {
        key,
        name: row.text("name", "how the valve moves")?,
        actuators: row.kinds(),
        states,
        leak,
        source: source(row, inherited)?,
    })
}

pub(super) fn symptom(row: &Row<'_, '_>, inherited: Option<String>) -> Option<Symptom> {
    row.refuse_unknown(&["key", "name", "actuators", "yes", "no", "leak", "source"]);
    Some(Symptom {
        key: row.text("key", "rattle")?,
        name: row.text("name", "Rattle at the valve")?,
        actuators: row.kinds(),
        yes: row.text("yes", "it rattles at the valve")?,
        no: row.text("no", "nothing rattles")?,
        leak: row.number("leak", 0.0, 1.0)?,
        source: source(row, inherited)?,
    })
}

pub(super) fn test(row: &Row<'_, '_>, known: &Tables, inherited: Option<String>) -> Option<Test> {
    row.refuse_unknown(&["check", "actuators", "outcomes", "says", "leak", "reads", "source"]);
    let check = row.text("check", "free-turn")?;
    let outcomes = names(row, "outcomes", 12)?;
    let says = names(row, "says", 12)?;
    if says.len() != outcomes.len() {
        row.wrong("says", format!("there are {} clauses for {} outcomes", says.len(), outcomes.len()));
    }
    let leak = row.distribution("leak", outcomes.len());
    let mut reads = Vec::new();
    match row.inner("reads") {
        Some(inner) => {
            for key in inner.keys() {
                let Some(condition) = known.condition(&key) else {
                    inner.wrong(&key, unknown(&key, "condition", keys(&known.conditions)));
                    continue;
                };
                let Some(by_state) = inner.inner(&key) else { continue };
                by_state.refuse_unknown(&words(&condition.states[1..]));
                let states = condition.states[1..].iter().filter(|state| by_state.has(state));
                let rows = states
                    .filter_map(|state| Some((state.clone(), by_state.distribution(state, outcomes.len())?)));
                reads.push(Reads { condition: key, states: rows.collect() });
            }
        }
        None => row.wrong("reads", "it is missing; name at least one condition that the check reads"),
    }
    Some(Test {
        check,
        actuators: row.kinds(),
        outcomes,
        says,
        leak: leak?,
        reads,
        source: source(row, inherited)?,
    })
}

pub(super) fn cause(row: &Row<'_, '_>, known: &Tables, inherited: Option<String>) -> Option<Cause> {
    row.refuse_unknown(&[
        "key",
        "name",
        "not-the-valve",
        "odds",
        "remedy",
        "conditions",
        "symptoms",
        "source",
    ]);
    let odds = row.by_kind("odds", LEAST_ODDS, MOST_ODDS);
    let mut conditions = Vec::new();
    if let Some(inner) = row.inner("conditions") {
        for key in inner.keys() {
            match known.condition(&key) {
                Some(condition) => {
                    let Some(effect) = inner.inner(&key) else { continue };
                    conditions.push((key, shares(&effect, &condition.states)));
                }
                None => inner.wrong(&key, unknown(&key, "condition", keys(&known.conditions))),
            }
        }
    }
    Some(Cause {
        key: row.text("key", "carbon")?,
        name: row.text("name", "Carbon on the valve")?,
        not_the_valve: row.flag("not-the-valve"),
        odds,
        remedy: row.text("remedy", "Clean the valve and set its ends anew.")?,
        conditions,
        symptoms: row.inner("symptoms").map(|inner| symptoms(&inner, known)).unwrap_or_default(),
        source: source(row, inherited)?,
    })
}

fn symptoms(row: &Row<'_, '_>, known: &Tables) -> Vec<(String, ByKind)> {
    let mut found = Vec::new();
    for key in row.keys() {
        if known.symptoms.iter().any(|symptom| symptom.key == key) {
            let shares = row.by_kind(&key, 0.0, 1.0);
            found.push((key, shares));
        } else {
            row.wrong(&key, unknown(&key, "symptom", known.symptoms.iter().map(|row| row.key.as_str())));
        }
    }
    found
}

/// Probabilities by state, without the first, which takes the rest.
fn shares(row: &Row<'_, '_>, states: &[String]) -> Shares {
    row.refuse_unknown(&words(&states[1..]));
    let named = states[1..].iter().filter(|state| row.has(state));
    let shares: Shares =
        named.filter_map(|state| Some((state.clone(), row.number(state, 0.0, 1.0)?))).collect();
    let sum: f64 = shares.iter().map(|(_, share)| share).sum();
    if sum > 1.0 + 1e-9 {
        let first = shares.first().map_or("", |(state, _)| state.as_str());
        row.wrong(
            first,
            format!("the states together have {sum:.3}; at most 1, the rest is '{}'", states[0]),
        );
    }
    shares
}

/// A list of at least two different names.
fn names(row: &Row<'_, '_>, key: &str, most: usize) -> Option<Vec<String>> {
    if !row.has(key) {
        row.wrong(key, "it is missing; write a list of texts in square brackets, the best first");
        return None;
    }
    let names = row.texts(key)?;
    let twice = names.iter().enumerate().find(|(at, name)| names[..*at].contains(name));
    if let Some((_, name)) = twice {
        row.wrong(key, format!("'{name}' stands twice; each needs its own name"));
        return None;
    }
    if !(2..=most).contains(&names.len()) {
        row.wrong(key, format!("there are {} entries; from 2 to {most} are accepted", names.len()));
        return None;
    }
    Some(names)
}

fn source(row: &Row<'_, '_>, inherited: Option<String>) -> Option<String> {
    if row.has("source") {
        return row.text("source", "estimate");
    }
    if inherited.is_none() {
        let how =
            "no source is given; write source = \"...\" in the row, or once for all rows under [sources]";
        row.wrong("source", how);
    }
    inherited
}

fn keys(rows: &[Condition]) -> impl Iterator<Item = &str> {
    rows.iter().map(|row| row.key.as_str())
}

fn words(texts: &[String]) -> Vec<&str> {
    texts.iter().map(String::as_str).collect()
}
