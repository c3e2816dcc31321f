//! Which check tells most for its time and parts, and what each of its outcomes would mean.

use super::case::Case;
use super::model::Tables;
use super::ranking::{Foreseen, NextTest};
use super::weighed::Weighed;
use crate::check::{Check, Checks};
use evidence::inquiry::information_bits;
use evidence::network::NetworkError;

/// A cause is ruled out below this probability ...
const RULED_OUT: f64 = 0.01;
/// ... and below this share of what it had.
const FALLEN: f64 = 0.2;
/// A cause is pointed to above this probability ...
const NOTABLE: f64 = 0.1;
/// ... and above this multiple of what it had.
const RISEN: f64 = 3.0;
/// A test that tells less (bits) is not listed.
const NOTHING_TOLD: f64 = 1e-4;

/// A test with what the verdict on whether more tests help needs of it.
pub(super) struct Candidate {
    pub(super) test: NextTest,
    /// Minutes with handling and parts counted.
    pub(super) cost: f64,
    /// For each outcome: its probability, and that of nothing and of each cause after it.
    pub(super) after: Vec<After>,
}

/// Probabilities after an outcome.
pub(super) struct After {
    pub(super) probability: f64,
    pub(super) nothing: f64,
    pub(super) causes: Vec<f64>,
}

/// The checks that are left and tell something, the one that tells most for its cost first.
pub(super) fn candidates(
    weighed: &Weighed<'_>,
    posterior: &[f64],
    tables: &Tables,
    checks: &Checks,
    case: &Case,
) -> Result<Vec<Candidate>, NetworkError> {
    let done: Vec<usize> = weighed.findings.done().collect();
    let before = weighed.applied.marginals(posterior);
    let mut found = Vec::new();
    for check in checks.of(case.actuator) {
        let Some(probe) = weighed.applied.probes.iter().position(|probe| probe.key == check.key) else {
            continue;
        };
        if done.contains(&probe) || case.skip.contains(&check.key) {
            continue;
        }
        let Some(joint) = weighed.foreseen(probe)? else { continue };
        let candidate = candidate(weighed, probe, &joint, &before, tables, checks, check, case);
        if candidate.test.bits > NOTHING_TOLD {
            found.push(candidate);
        }
    }
    found.sort_by(|a, b| b.test.per_minute.total_cmp(&a.test.per_minute));
    Ok(found)
}

#[allow(clippy::too_many_arguments, reason = "everything a test is described by")]
fn candidate(
    weighed: &Weighed<'_>,
    probe: usize,
    joint: &[Vec<f64>],
    before: &[f64],
    tables: &Tables,
    checks: &Checks,
    check: &Check,
    case: &Case,
) -> Candidate {
    let (minutes, minutes_off) = checks.minutes(check, &case.off);
    // A sum of nothing is -0, which would be shown.
    let minutes_off = minutes_off + 0.0;
    let parts = parts(checks, check, &case.off);
    let rules = &tables.rules;
    let cost = rules.handling_minutes + minutes + minutes_off + rules.part_minutes * parts.len() as f64;
    let bits = bits(joint);
    let after: Vec<After> = joint.iter().map(|row| after(weighed, row)).collect();
    let probe = &weighed.applied.probes[probe];
    let says = &tables.tests[probe.row].says;
    let outcomes = after
        .iter()
        .enumerate()
        .map(|(at, after)| Foreseen {
            outcome: probe.outcomes[at].clone(),
            says: check
                .outcome(&probe.outcomes[at])
                .map_or_else(|| says[at].clone(), |outcome| outcome.says.clone()),
            probability: after.probability,
            rules_out: names(weighed, tables, |cause| ruled_out(before[cause], after.causes[cause])),
            points_to: names(weighed, tables, |cause| pointed_to(before, after, cause)),
        })
        .collect();
    let per_minute = bits / cost.max(0.1);
    let test = NextTest {
        check: check.key.clone(),
        title: check.title.clone(),
        bits,
        minutes,
        minutes_off,
        parts,
        per_minute,
        outcomes,
    };
    Candidate { test, cost, after }
}

/// Mutual information between the hypothesis and the outcome.
fn bits(joint: &[Vec<f64>]) -> f64 {
    let hypotheses = joint.first().map_or(0, Vec::len);
    let by_hypothesis: Vec<f64> =
        (0..hypotheses).flat_map(|at| joint.iter().map(move |row| row[at])).collect();
    information_bits(&by_hypothesis, hypotheses, joint.len())
}

/// What the check uses up, with what is used up by taking off pieces that are not off already.
fn parts(checks: &Checks, check: &Check, off: &[String]) -> Vec<String> {
    let pieces = check.take_off.iter().filter(|key| !off.contains(key)).filter_map(|key| checks.piece(key));
    let mut parts: Vec<String> = pieces.flat_map(|piece| piece.parts.iter().cloned()).collect();
    parts.extend(check.parts.iter().cloned());
    parts
}

fn after(weighed: &Weighed<'_>, row: &[f64]) -> After {
    let probability: f64 = row.iter().sum();
    let scale = if probability > 0.0 { 1.0 / probability } else { 0.0 };
    let causes = weighed.applied.marginals(row).iter().map(|share| share * scale).collect();
    After { probability, nothing: row[0] * scale, causes }
}

fn ruled_out(before: f64, after: f64) -> bool {
    before >= RULED_OUT && after < RULED_OUT && after < FALLEN * before
}

fn pointed_to(before: &[f64], after: &After, cause: usize) -> bool {
    let (was, is) = (before[cause], after.causes[cause]);
    let top = after.causes.iter().all(|&other| other <= is);
    let was_top = before.iter().all(|&other| other <= was);
    let tops = top && is > was && (!was_top || is > was + 0.05);
    is > NOTABLE && (tops || is > RISEN * was)
}

fn names(weighed: &Weighed<'_>, tables: &Tables, holds: impl Fn(usize) -> bool) -> Vec<String> {
    let causes = weighed.applied.causes.iter().enumerate();
    causes.filter(|(at, _)| holds(*at)).map(|(_, &row)| tables.causes[row].name.clone()).collect()
}
