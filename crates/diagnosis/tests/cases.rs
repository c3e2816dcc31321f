//! Made engines with a known fault, written by someone who had not seen the fault tables: the ranking is led from the
//! complaint to the cause by the checks it asks for, and nothing else.

#![allow(clippy::unwrap_used, reason = "a test may fail by it")]
#![allow(clippy::disallowed_methods, reason = "it reads its cases from files")]

use diagnosis::check::{Actuator, Checks};
use diagnosis::fault::{Case, Finding, Ranking, Tables, find};
use serde::Deserialize;
use std::collections::BTreeMap;
use std::path::Path;

/// Checks after which a search is given up.
const MOST_CHECKS: usize = 12;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Made {
    made: String,
    truth: Vec<String>,
    actuator: String,
    story: String,
    complaint: BTreeMap<String, bool>,
    #[serde(default)]
    symptoms: BTreeMap<String, bool>,
    checks: BTreeMap<String, String>,
}

fn cases() -> Vec<(String, Made)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/cases");
    let mut cases: Vec<(String, Made)> = std::fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "toml"))
        .map(|path| {
            let text = std::fs::read_to_string(&path).unwrap();
            let name = path.file_stem().unwrap().to_string_lossy().into_owned();
            let made: Made = toml::from_str(&text).unwrap_or_else(|error| panic!("{name}: {error}"));
            (name, made)
        })
        .collect();
    cases.sort_by(|a, b| a.0.cmp(&b.0));
    assert!(cases.iter().all(|(_, case)| !case.made.is_empty() && !case.story.is_empty()));
    cases
}

/// In which order checks are done.
#[derive(Clone, Copy, PartialEq)]
enum Order {
    /// As the ranking proposes, until it is settled.
    Proposed,
    /// The cheapest first, by minutes with what must come off: what one does without a ranking.
    Cheapest,
}

/// How a search went.
struct Search {
    asked: Vec<String>,
    /// After which number of checks the truth stood at the top and stayed there; none when it did not.
    found_after: Option<usize>,
    minutes: f64,
    last: Ranking,
}

/// Does check after check, takes off what each needs, until the ranking is settled.
fn search(case: &Made, with_symptoms: bool, order: Order) -> Search {
    let (checks, tables) = (Checks::built_in(), Tables::built_in());
    let mut known = at_the_counter(case, tables, with_symptoms);
    let (mut asked, mut minutes, mut found_after) = (Vec::new(), 0.0, None);
    loop {
        let last = find(tables, checks, &known).unwrap();
        found_after = is_found(case, &last).then_some(found_after.unwrap_or(asked.len()));
        let open = last.settled.is_none() && asked.len() < MOST_CHECKS;
        let cost = |key: &str| {
            let (own, off) = checks.minutes(checks.get(key).unwrap(), &known.off);
            own + off
        };
        let proposed = last.next.iter().map(|next| next.check.clone());
        let next = match order {
            Order::Proposed => proposed.into_iter().next(),
            Order::Cheapest => proposed.min_by(|a, b| cost(a).total_cmp(&cost(b)).then(a.cmp(b))),
        };
        let Some(next) = next.filter(|_| open) else { return Search { asked, found_after, minutes, last } };
        minutes += cost(&next);
        known.off.extend(checks.get(&next).unwrap().take_off.iter().cloned());
        known.findings.push(Finding::Check { key: next.clone(), outcome: case.checks[&next].clone() });
        asked.push(next);
    }
}

/// What is known before the first check.
fn at_the_counter(case: &Made, tables: &Tables, with_symptoms: bool) -> Case {
    let actuator = Actuator::of_key(&case.actuator).unwrap();
    let applies = |key: &str| {
        tables.symptoms.iter().any(|symptom| symptom.key == key && symptom.actuators.contains(&actuator))
    };
    let told = case.complaint.iter().chain(case.symptoms.iter().filter(|_| with_symptoms));
    let findings = told.filter(|(key, _)| applies(key));
    let findings = findings.map(|(key, seen)| Finding::Symptom { key: key.clone(), seen: *seen }).collect();
    Case { actuator, findings, off: Vec::new(), skip: Vec::new() }
}

/// True when the truth stands at the top: nothing for a healthy engine, each of several causes among the first ones.
fn is_found(case: &Made, ranking: &Ranking) -> bool {
    let top = ranking.causes.first().map_or(0.0, |cause| cause.probability);
    if case.truth.is_empty() {
        return ranking.nothing > top;
    }
    let first: Vec<&str> =
        ranking.causes.iter().take(case.truth.len()).map(|cause| cause.key.as_str()).collect();
    top > ranking.nothing && case.truth.iter().all(|cause| first.contains(&cause.as_str()))
}

/// Searches of all cases: how many ended at the truth, mean checks and mean minutes until the end.
struct Tally {
    missed: Vec<String>,
    checks: f64,
    minutes: f64,
    found_after: f64,
}

fn tally(with_symptoms: bool, order: Order) -> Tally {
    let cases = cases();
    let mut tally = Tally { missed: Vec::new(), checks: 0.0, minutes: 0.0, found_after: 0.0 };
    let all = cases.len() as f64;
    for (name, case) in &cases {
        let search = search(case, with_symptoms, order);
        let top =
            search.last.causes.iter().take(2).map(|cause| format!("{} {:.2}", cause.key, cause.probability));
        let top = top.collect::<Vec<_>>().join(", ");
        println!(
            "{name}: truth {:?}, at the top after {:?} of {:?}, nothing {:.2}, {top}",
            case.truth, search.found_after, search.asked, search.last.nothing
        );
        if search.found_after.is_none() {
            tally.missed.push(name.clone());
        }
        tally.checks += search.asked.len() as f64 / all;
        tally.minutes += search.minutes / all;
        tally.found_after += search.found_after.unwrap_or(MOST_CHECKS) as f64 / all;
    }
    println!(
        "missed {:?}; {:.1} checks, {:.0} min; at the top after {:.1}",
        tally.missed, tally.checks, tally.minutes, tally.found_after
    );
    tally
}

/// The cases on which the tables fail. They were written apart and the tables are not bent to them: each says what the
/// tables do not know. A case that leaves the list is a gain; one that joins it is a loss to be explained.
const MISSED_FROM_THE_COMPLAINT: [&str; 5] =
    // Carbon and bending feel alike by hand; routing and length both strain a cable; a dead controller and a broken wire
    // both leave the servo still; a shifted sensor leaves the slack looking wrong; a stop that gives way fails no test.
    ["bent-linkage", "cable-misrouted", "controller-dead", "sensor-shifted", "stop-stuck"];

#[test]
fn practice_made_engines_lead_from_the_complaint_to_the_cause() {
    let proposed = tally(false, Order::Proposed);
    assert_eq!(proposed.missed, MISSED_FROM_THE_COMPLAINT);
    let cheapest = tally(false, Order::Cheapest);
    assert!(proposed.missed.len() <= cheapest.missed.len());
    assert!(proposed.found_after < cheapest.found_after, "{} {}", proposed.found_after, cheapest.found_after);
}

/// The recorded kinds that a workshop meets most: each at rank one.
#[test]
fn practice_the_usual_faults_stand_at_rank_one() {
    let usual = [
        "healthy-second-hand",
        "carbon-heavy-oil",
        "sensor-dead-spot",
        "broken-teeth",
        "cable-too-tight",
        "jetting-lean",
        "jetting-rich",
    ];
    for (name, case) in cases().iter().filter(|(name, _)| usual.contains(&name.as_str())) {
        let search = search(case, true, Order::Proposed);
        let found = search.found_after;
        assert!(found.is_some_and(|after| after <= 3), "{name}: {found:?} of {:?}", search.asked);
    }
}
