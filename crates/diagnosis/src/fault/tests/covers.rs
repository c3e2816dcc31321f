//! The built-in tables: read without a problem, complete, and of one mind with the table of checks.

use super::*;
use std::collections::BTreeSet;

const CAUSES: &str = "carbon wrong-assembly bent-linkage worn-linkage stop-stuck blade-worn broken-teeth motor-worn \
    cable-too-tight cable-too-slack cable-misrouted sheath-collapsed wire-frayed spring-weak spring-wrong sensor-worn \
    sensor-shifted wire-broken earth-poor supply-low controller schedule-late schedule-early governor-worn \
    diaphragm-torn feed-blocked feed-leaking jetting-lean jetting-rich reeds-leak crankcase-leak ignition-off \
    pipe-leak pipe-blocked";
const NOT_THE_VALVE: &str =
    "jetting-lean jetting-rich reeds-leak crankcase-leak ignition-off pipe-leak pipe-blocked";
const SYMPTOMS: &str = "flat-low dip-mid flat-top no-step step-early step-late hunting servo-silent fault-lamp-lit \
    speed-limited rattle oil-weep hard-start overheats comes-and-goes after-top-end-work after-long-storage \
    follows-the-weather thirsty";

fn set(words: &str) -> BTreeSet<&str> {
    words.split_whitespace().collect()
}

#[test]
fn exact_built_in_tables_read_without_a_problem() {
    let problems = super::super::tables::problems_of_built_in();
    assert!(problems.is_empty(), "{problems:#?}");
    assert_eq!(Tables::built_in().conditions.len(), 22);
}

#[test]
fn exact_every_cause_and_symptom_is_there() {
    let tables = Tables::built_in();
    assert_eq!(tables.causes.iter().map(|row| row.key.as_str()).collect::<BTreeSet<_>>(), set(CAUSES));
    let others: BTreeSet<_> =
        tables.causes.iter().filter(|row| row.not_the_valve).map(|row| row.key.as_str()).collect();
    assert_eq!(others, set(NOT_THE_VALVE));
    assert_eq!(tables.symptoms.iter().map(|row| row.key.as_str()).collect::<BTreeSet<_>>(), set(SYMPTOMS));
    // Causes that only look like the valve are suspects on every engine.
    assert!(tables.causes.iter().filter(|row| row.not_the_valve).all(|row| row.odds.len() == 3));
}

#[test]
fn agrees_with_the_table_of_checks() {
    let (tables, checks) = (Tables::built_in(), Checks::built_in());
    assert!(checks.checks.len() >= 30, "only {} checks", checks.checks.len());
    for check in &checks.checks {
        let test = tables.tests.iter().find(|test| test.check == check.key);
        let test = test.unwrap_or_else(|| panic!("{} has no row", check.key));
        let outcomes: Vec<&str> = check.outcomes.iter().map(|outcome| outcome.key.as_str()).collect();
        assert_eq!(test.outcomes, outcomes, "{}", check.key);
        for kind in Actuator::ALL {
            let applied = super::super::applied::Applied::of(tables, kind);
            let read = applied.probes.iter().any(|probe| probe.key == check.key);
            assert_eq!(read, check.actuators.contains(&kind), "{} on a {kind:?}", check.key);
        }
    }
    for test in &tables.tests {
        assert!(checks.get(&test.check).is_some(), "{} is no check", test.check);
    }
}

#[test]
fn exact_every_row_says_where_it_comes_from() {
    let tables = Tables::built_in();
    let sources = tables.conditions.iter().map(|row| &row.source);
    let sources = sources.chain(tables.causes.iter().map(|row| &row.source));
    let sources = sources.chain(tables.symptoms.iter().map(|row| &row.source));
    let mut sources = sources.chain(tables.tests.iter().map(|row| &row.source)).chain([&tables.rules.source]);
    assert!(sources.all(|source| source.contains("estimate") || source.contains("common practice")));
}

#[test]
fn exact_every_finding_can_come_out_false() {
    // A finding that nothing but its causes can bring about would rule hypotheses out for good.
    let tables = Tables::built_in();
    assert!(tables.symptoms.iter().all(|row| row.leak > 0.0));
    for kind in Actuator::ALL {
        let applied = super::super::applied::Applied::of(tables, kind);
        assert!(applied.causes.iter().all(|&row| tables.causes[row].odds[&kind] <= 0.2));
        for probe in &applied.probes {
            for outcome in 0..probe.outcomes.len() {
                let text = format!("{}={}", probe.key, probe.outcomes[outcome]);
                let ranking = built_in(kind, &text);
                assert!(ranking.nothing > 0.0 && ranking.nothing < 1.0, "{text}");
            }
        }
    }
}
