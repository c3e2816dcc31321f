//! Made from the tables themselves: each cause with what it most often shows.

use super::super::alike::outcomes;
use super::super::applied::Applied;
use super::*;

/// What a cause typically shows: each check at its likeliest outcome, symptoms that it brings on in three of ten engines
/// or more, and not those that it has nothing to do with; what lies between was not looked at.
fn of(applied: &Applied, cause: usize) -> String {
    let mut words = Vec::new();
    for sign in &applied.signs {
        match sign.shares[cause] {
            0.0 => words.push(format!("-{}", sign.key)),
            share if share >= 0.3 => words.push(sign.key.clone()),
            _ => {}
        }
    }
    for (at, probe) in applied.probes.iter().enumerate() {
        let shares = outcomes(applied, at, cause);
        let best = (0..shares.len()).max_by(|&a, &b| shares[a].total_cmp(&shares[b])).unwrap();
        words.push(format!("{}={}", probe.key, probe.outcomes[best]));
    }
    words.join(" ")
}

#[test]
fn agrees_every_cause_is_first_with_its_typical_findings() {
    let tables = Tables::built_in();
    for kind in Actuator::ALL {
        let applied = Applied::of(tables, kind);
        for (cause, &row) in applied.causes.iter().enumerate() {
            let text = of(&applied, cause);
            let ranking = built_in(kind, &text);
            let key = &tables.causes[row].key;
            let first = &ranking.causes[0];
            assert_eq!(&first.key, key, "{kind:?}, {text}: {}", first.in_words);
            assert!(
                first.probability > ranking.nothing,
                "{kind:?} {key}: {} {}",
                first.probability,
                ranking.nothing
            );
        }
    }
}
