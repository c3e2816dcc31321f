//! One visit on the bench: entries by key, as a job card or a file holds them, and what the checks come to.
//!
//! Keys: `bench.actuator` (`servo`, `governor`, `diaphragm`), `bench.logic`, `check.<check>.<item>`,
//! `check.sensor-sweep.log` (the text of a log), `symptom.<key>` = `yes` or `no`, `off.<piece>` = `yes` for what is
//! off already, `skip.<check>` = `yes` for what cannot be done now.

mod file;

pub use evidence::conformity::Verdict;
pub use file::read_file;

use crate::check::{Actuator, Check, Checks, Judgement, State};
use crate::fault::{Case, Finding};
use crate::sweep::{self, Limit, Limits, Log, Sweep};
use quantity::{Dimension, Units};
use std::collections::BTreeMap;

/// Item under which the text of a log is kept.
const LOG: &str = "log";

/// Texts by key.
pub type Entries = BTreeMap<String, String>;

/// The kind of actuator; a servo when nothing is said.
pub fn actuator(entries: &Entries) -> Actuator {
    entries.get("bench.actuator").and_then(|text| Actuator::of_key(text.trim())).unwrap_or(Actuator::Servo)
}

/// The entries under `prefix`, without it.
pub fn under(entries: &Entries, prefix: &str) -> Entries {
    entries
        .range(prefix.to_owned()..)
        .take_while(|(key, _)| key.starts_with(prefix))
        .map(|(key, text)| (key[prefix.len()..].to_owned(), text.clone()))
        .collect()
}

/// The entries of one check, by item.
pub fn entries_of(check: &str, entries: &Entries) -> Entries {
    under(entries, &format!("check.{check}."))
}

/// What is off already.
pub fn off(entries: &Entries) -> Vec<String> {
    let mut off = under(entries, "off.");
    off.retain(|_, text| text.trim() == "yes");
    off.into_keys().collect()
}

/// One check and what it came to.
#[derive(Debug, Clone, PartialEq)]
pub struct Judged<'a> {
    /// The check.
    pub check: &'a Check,
    /// What its entries come to.
    pub judgement: Judgement,
}

/// Every check of the actuator's kind, judged, in the order in which they are offered.
pub fn judged<'a>(checks: &'a Checks, entries: &Entries, units: Units) -> Vec<Judged<'a>> {
    let of_kind = checks.of(actuator(entries));
    of_kind.map(|check| Judged { check, judgement: judge(check, entries, units) }).collect()
}

/// One check, judged. A logged sweep answers for the eye where the eye has not: what was seen goes before the log,
/// since it may know why the log jumps.
pub fn judge(check: &Check, entries: &Entries, units: Units) -> Judgement {
    let mut own = entries_of(&check.key, entries);
    if check.key == SWEEP && own.get(SWEPT).is_none_or(|text| text.trim().is_empty()) {
        let outcome = sweep(entries).and_then(Result::ok).and_then(|sweep| sweep.outcome);
        own.extend(outcome.map(|outcome| (SWEPT.to_owned(), outcome.key().to_owned())));
    }
    check.judge(&own, units)
}

/// Item of that check which says how the reading moves.
const SWEPT: &str = "swept";

/// The check that a logged sweep belongs to.
pub const SWEEP: &str = "sensor-sweep";

/// The logged sweep of the position sensor, judged; none when there is no log.
///
/// # Errors
/// What cannot be read in the log, with its line.
pub fn sweep(entries: &Entries) -> Option<Result<Sweep, sweep::Problem>> {
    let text = entries.get(&format!("check.{SWEEP}.{LOG}")).filter(|text| !text.trim().is_empty())?;
    Some(Log::read(text).map(|log| Sweep::of(&log, &limits(&log, entries))))
}

/// The end value of a resistance sweep is held to what is held of the whole track.
fn limits(log: &Log, entries: &Entries) -> Limits {
    let sure = entries.get(&format!("check.{SWEEP}.{LOG}.sure")).is_some_and(|text| text.trim() == "yes");
    let highest = (log.dimension == Dimension::Resistance)
        .then(|| Limit::between(3_500.0, 6_500.0, "common practice, no source"));
    Limits { highest, sure, ..Limits::default() }
}

/// What is known, for finding the fault: symptoms, outcomes of checks, what is off and what cannot be done now.
pub fn case(checks: &Checks, entries: &Entries, units: Units) -> Case {
    let symptoms = under(entries, "symptom.").into_iter().filter_map(|(key, text)| match text.trim() {
        "yes" => Some(Finding::Symptom { key, seen: true }),
        "no" => Some(Finding::Symptom { key, seen: false }),
        _ => None,
    });
    let outcomes = judged(checks, entries, units).into_iter().filter_map(|one| {
        let key = one.check.key.clone();
        one.judgement
            .outcome
            .filter(|_| one.judgement.state == State::Done)
            .map(|outcome| Finding::Check { key, outcome })
    });
    let mut skip = under(entries, "skip.");
    skip.retain(|_, text| text.trim() == "yes");
    Case {
        actuator: actuator(entries),
        findings: symptoms.chain(outcomes).collect(),
        off: off(entries),
        skip: skip.into_keys().collect(),
    }
}

/// True once the check says something: an outcome, or that its measurements cannot tell.
pub fn is_done(judgement: &Judgement) -> bool {
    judgement.state == State::Done
}

#[cfg(test)]
mod tests {
    use super::*;

    fn entries(pairs: &[(&str, &str)]) -> Entries {
        pairs.iter().map(|(key, text)| ((*key).to_owned(), (*text).to_owned())).collect()
    }

    #[test]
    fn exact_entries_are_found_by_their_check() {
        let all = entries(&[
            ("check.a.x", "1"),
            ("check.ab.x", "2"),
            ("check.a.y.limit", "3"),
            ("bench.actuator", " governor "),
            ("off.tank", "yes"),
            ("off.pipe", ""),
        ]);
        assert_eq!(entries_of("a", &all), entries(&[("x", "1"), ("y.limit", "3")]));
        assert_eq!(actuator(&all), Actuator::Governor);
        assert_eq!(off(&all), ["tank"]);
        assert_eq!(actuator(&Entries::new()), Actuator::Servo);
    }

    #[test]
    fn agrees_a_log_answers_for_the_eye_and_the_eye_goes_before_it() {
        let log = include_str!("../sweep/data/worn_track_made.csv");
        let case_of =
            |pairs: &[(&str, &str)]| case(Checks::built_in(), &entries(pairs), Units::Metric).findings;
        let finding = |outcome: &str| Finding::Check { key: SWEEP.to_owned(), outcome: outcome.to_owned() };
        let log_key = "check.sensor-sweep.log";
        assert!(
            matches!(&case_of(&[(log_key, log)])[..], [Finding::Check { outcome, .. }] if outcome != "clean")
        );
        assert_eq!(case_of(&[(log_key, log), ("check.sensor-sweep.swept", "clean")]), [finding("clean")]);
        assert!(case_of(&[(log_key, "no figures at all")]).is_empty());
    }

    #[test]
    fn practice_a_sensor_of_4_24_kiloohm_passes_and_4_24_ohm_is_asked_about() {
        let checks = Checks::built_in();
        let check = checks.get("sensor-ends").unwrap();
        let item = &check.items.iter().find(|item| !item.optional).unwrap().key;
        let with = |text: &str| {
            judge(check, &entries(&[(&format!("check.sensor-ends.{item}"), text)]), Units::Metric)
        };
        assert_eq!(with("4.24 kΩ").passes, Some(true));
        assert_eq!(with("4.24 Ω").state, State::Asked);
    }
}
