//! What was found on one engine.

use super::applied::Applied;
use super::model::Tables;
use crate::check::{Actuator, Checks};
use serde::{Deserialize, Serialize};

/// Something that was looked at.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "kebab-case", deny_unknown_fields)]
pub enum Finding {
    /// A symptom: noticed, or looked for and not there. What was not looked at is no finding.
    Symptom {
        /// Key of the symptom.
        key: String,
        /// True when it was noticed.
        seen: bool,
    },
    /// A bench check that came to an outcome.
    Check {
        /// Key of the check.
        key: String,
        /// Key of its outcome.
        outcome: String,
    },
}

impl Finding {
    /// Key of the symptom or the check.
    pub fn key(&self) -> &str {
        match self {
            Self::Symptom { key, .. } | Self::Check { key, .. } => key,
        }
    }
}

/// One engine on the bench.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Case {
    /// What moves its valve.
    pub actuator: Actuator,
    /// What was found, in any order.
    #[serde(default)]
    pub findings: Vec<Finding>,
    /// Keys of pieces that are off already: a check that needs them off pays nothing for it.
    #[serde(default)]
    pub off: Vec<String>,
    /// Keys of checks that cannot or shall not be done.
    #[serde(default)]
    pub skip: Vec<String>,
}

/// A finding with its place in the tables.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Seen {
    /// Position of the sign, and whether it was seen.
    Sign(usize, bool),
    /// Position of the probe, and of its outcome.
    Probe(usize, usize),
}

/// The findings of a case that count, with their clauses.
pub(super) struct Findings {
    pub(super) seen: Vec<Seen>,
    /// The clause for "because ..." of each.
    pub(super) clauses: Vec<String>,
    /// Key of each.
    pub(super) keys: Vec<String>,
    /// Sentences on findings that do not count.
    pub(super) left_out: Vec<String>,
}

impl Findings {
    /// Finds the places of all findings of `case`.
    ///
    /// # Errors
    /// One sentence: a name that no table has, something that this kind of actuator does not have, or the same thing
    /// found twice with different answers.
    pub(super) fn of(
        case: &Case,
        tables: &Tables,
        applied: &Applied,
        checks: &Checks,
    ) -> Result<Self, String> {
        let mut found = Self { seen: vec![], clauses: vec![], keys: vec![], left_out: vec![] };
        for finding in &case.findings {
            let placed = match finding {
                Finding::Symptom { key, seen } => Some(sign(key, *seen, case.actuator, tables, applied)?),
                Finding::Check { key, outcome } => {
                    probe(key, outcome, case.actuator, tables, applied, checks)?
                }
            };
            match placed {
                Some((seen, clause)) => found.add(finding.key(), seen, clause)?,
                None => found.left_out.push(format!(
                    "The check '{}' with the outcome '{}' stands in no table of faults, so it does not count.",
                    finding.key(),
                    if let Finding::Check { outcome, .. } = finding { outcome } else { "" }
                )),
            }
        }
        Ok(found)
    }

    fn add(&mut self, key: &str, seen: Seen, clause: String) -> Result<(), String> {
        let same = |other: &Seen| match (*other, seen) {
            (Seen::Sign(a, _), Seen::Sign(b, _)) | (Seen::Probe(a, _), Seen::Probe(b, _)) => a == b,
            _ => false,
        };
        match self.seen.iter().position(same) {
            Some(at) if self.seen[at] == seen => Ok(()),
            Some(at) => Err(format!(
                "'{key}' was found both ways: \"{}\" and \"{clause}\"; keep the finding that holds and remove the other",
                self.clauses[at]
            )),
            None => {
                self.seen.push(seen);
                self.clauses.push(clause);
                self.keys.push(key.to_owned());
                Ok(())
            }
        }
    }

    /// The checks that were done, as positions of probes.
    pub(super) fn done(&self) -> impl Iterator<Item = usize> {
        self.seen.iter().filter_map(|seen| match seen {
            Seen::Probe(probe, _) => Some(*probe),
            Seen::Sign(..) => None,
        })
    }
}

fn sign(
    key: &str,
    seen: bool,
    kind: Actuator,
    tables: &Tables,
    applied: &Applied,
) -> Result<(Seen, String), String> {
    if let Some(at) = applied.signs.iter().position(|sign| sign.key == key) {
        let row = &tables.symptoms[applied.signs[at].row];
        return Ok((Seen::Sign(at, seen), if seen { row.yes.clone() } else { row.no.clone() }));
    }
    if tables.symptoms.iter().any(|row| row.key == key) {
        return Err(format!("the symptom '{key}' does not belong to a {}; remove the finding", kind.key()));
    }
    let known: Vec<&str> = applied.signs.iter().map(|sign| sign.key.as_str()).collect();
    Err(format!("'{key}' is no symptom that is known; known are: {}", known.join(", ")))
}

/// `None` for a check of the user's that no table of faults knows.
fn probe(
    key: &str,
    outcome: &str,
    kind: Actuator,
    tables: &Tables,
    applied: &Applied,
    checks: &Checks,
) -> Result<Option<(Seen, String)>, String> {
    if let Some(check) = checks.get(key) {
        if !check.actuators.contains(&kind) {
            return Err(format!("the check '{key}' does not belong to a {}; remove the finding", kind.key()));
        }
        if check.outcome(outcome).is_none() {
            let known: Vec<&str> = check.outcomes.iter().map(|row| row.key.as_str()).collect();
            return Err(format!(
                "'{outcome}' is no outcome of the check '{key}'; it has: {}",
                known.join(", ")
            ));
        }
    } else if !tables.tests.iter().any(|row| row.check == key) {
        let known: Vec<&str> = checks.of(kind).map(|check| check.key.as_str()).collect();
        return Err(format!("'{key}' is no check that is known; known are: {}", known.join(", ")));
    }
    let Some(at) = applied.probes.iter().position(|probe| probe.key == key) else { return Ok(None) };
    let row = &tables.tests[applied.probes[at].row];
    match row.outcomes.iter().position(|own| own == outcome) {
        Some(place) => Ok(Some((Seen::Probe(at, place), row.says[place].clone()))),
        None if checks.get(key).is_some() => Ok(None),
        None => Err(format!(
            "'{outcome}' is no outcome of the check '{key}'; it has: {}",
            row.outcomes.join(", ")
        )),
    }
}
