//! Suspects that no check can tell apart.

use super::applied::Applied;
use super::model::Tables;
use super::words::{inside, percent};

/// Two causes are alike when no check has an outcome whose probability differs by more than this ...
const ALIKE: f64 = 0.1;
/// ... and worth a sentence when both are above this probability.
const SUSPECT: f64 = 0.05;
/// A symptom tells them apart when its probability differs by more than this.
const TELLS: f64 = 0.15;

/// One sentence for each pair of suspects that no check tells apart, with the symptom that does best.
pub(super) fn pairs(applied: &Applied, tables: &Tables, marginals: &[f64]) -> Vec<String> {
    let suspects: Vec<usize> = (0..marginals.len()).filter(|&cause| marginals[cause] > SUSPECT).collect();
    let mut sentences = Vec::new();
    for (at, &one) in suspects.iter().enumerate() {
        for &other in &suspects[at + 1..] {
            if are_alike(applied, one, other) {
                sentences.push(sentence(applied, tables, one, other));
            }
        }
    }
    sentences
}

/// True when no check tells the causes at these positions apart.
pub(super) fn are_alike(applied: &Applied, one: usize, other: usize) -> bool {
    (0..applied.probes.len()).all(|probe| {
        let (a, b) = (outcomes(applied, probe, one), outcomes(applied, probe, other));
        let apart: f64 = a.iter().zip(&b).map(|(a, b)| (a - b).abs()).sum::<f64>() / 2.0;
        apart < ALIKE
    })
}

/// Probability of each outcome of a check with one cause alone at work and nothing else known: conditions are then
/// independent, so that P(outcome at most k) is a product over them.
pub(super) fn outcomes(applied: &Applied, probe: usize, cause: usize) -> Vec<f64> {
    let probe = &applied.probes[probe];
    let by_part: Vec<Vec<f64>> = probe
        .reads
        .iter()
        .map(|(part, by_state)| {
            let part = &applied.parts[*part];
            let states = match &part.effects[cause] {
                Some(effect) => evidence::network::worst_of(&[&part.leak, effect]),
                None => part.leak.clone(),
            };
            (0..probe.outcomes.len())
                .map(|outcome| states.iter().zip(by_state).map(|(share, row)| share * row[outcome]).sum())
                .collect()
        })
        .collect();
    let mut all: Vec<&[f64]> = by_part.iter().map(Vec::as_slice).collect();
    all.push(&probe.leak);
    evidence::network::worst_of(&all)
}

fn sentence(applied: &Applied, tables: &Tables, one: usize, other: usize) -> String {
    let name = |cause: usize| inside(&tables.causes[applied.causes[cause]].name);
    let share = |sign: usize, cause: usize| {
        let sign = &applied.signs[sign];
        1.0 - (1.0 - sign.leak) * (1.0 - sign.shares[cause])
    };
    let apart = |sign: &usize| (share(*sign, one) - share(*sign, other)).abs();
    let best = (0..applied.signs.len()).max_by(|a, b| apart(a).total_cmp(&apart(b)));
    let start = format!("No check tells {} from {}", name(one), name(other));
    match best.filter(|sign| apart(sign) > TELLS) {
        Some(sign) => format!(
            "{start}; what was noticed can: \"{}\" is {} with the first and {} with the second.",
            tables.symptoms[applied.signs[sign].row].name,
            percent(share(sign, one)),
            percent(share(sign, other)),
        ),
        None => format!("{start}, nor does anything that is noticed."),
    }
}
