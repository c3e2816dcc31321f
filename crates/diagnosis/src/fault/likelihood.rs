//! How likely the outcomes of checks are under each hypothesis: exact, from [`evidence::network`].
//!
//! Checks that share a condition depend on each other even when the hypothesis is known; others do not. So what the
//! checks came to falls into groups, and each group is a small network of its own. In such a network hypotheses that
//! differ only in causes without any effect on its conditions are one state.
//!
//! The best outcome of a check that reads several conditions says of each of them, independently, that it did not
//! bring about a worse one: P(best) is a product over the conditions. So it is split and joins nothing.

use super::applied::Applied;
use evidence::network::{Network, NetworkError, Variable, noisy_max, worst_of};
use std::collections::BTreeMap;

/// A probe and its outcome, by position.
pub(super) type Read = (usize, usize);

/// Something known from a check, by positions.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Fact {
    /// The probe came to this outcome.
    Came { probe: usize, outcome: usize },
    /// The condition at this place among those the probe reads did not spoil its best outcome.
    Spared { probe: usize, place: usize },
}

impl Fact {
    /// Positions of the conditions it is about.
    fn parts(self, applied: &Applied) -> impl Iterator<Item = usize> + '_ {
        let reads = match self {
            Self::Came { probe, .. } => &applied.probes[probe].reads[..],
            Self::Spared { probe, place } => &applied.probes[probe].reads[place..=place],
        };
        reads.iter().map(|(part, _)| *part)
    }
}

/// What a probe with this outcome says.
pub(super) fn facts(applied: &Applied, (probe, outcome): Read) -> Vec<Fact> {
    match applied.probes[probe].reads.len() {
        count if outcome == 0 && count > 1 => (0..count).map(|place| Fact::Spared { probe, place }).collect(),
        _ => vec![Fact::Came { probe, outcome }],
    }
}

/// Groups of facts that share conditions, directly or through others; facts in order within each.
pub(super) fn groups(applied: &Applied, facts: impl IntoIterator<Item = Fact>) -> Vec<Vec<Fact>> {
    let mut groups: Vec<Vec<Fact>> = Vec::new();
    for fact in facts {
        let parts: Vec<usize> = fact.parts(applied).collect();
        let (joined, apart): (Vec<_>, Vec<_>) =
            groups.into_iter().partition(|group| touches(applied, group, &parts));
        groups = apart;
        let mut group = joined.concat();
        group.push(fact);
        group.sort_unstable();
        groups.push(group);
    }
    groups
}

/// True when a fact of the group is about one of these conditions.
pub(super) fn touches(applied: &Applied, group: &[Fact], parts: &[usize]) -> bool {
    group.iter().any(|fact| fact.parts(applied).any(|part| parts.contains(&part)))
}

pub(super) fn multiply(product: &mut [f64], factors: &[f64]) {
    product.iter_mut().zip(factors).for_each(|(share, factor)| *share *= factor);
}

/// Probability of all of `reads` together under each hypothesis.
#[cfg(test)]
pub(super) fn of_all(applied: &Applied, reads: &[Read]) -> Result<Vec<f64>, NetworkError> {
    let mut product = vec![1.0; applied.sets.len()];
    for group in groups(applied, reads.iter().flat_map(|&read| facts(applied, read))) {
        multiply(&mut product, &of_group(applied, &group)?);
    }
    Ok(product)
}

/// Probability of the facts of one group under each hypothesis.
///
/// # Errors
/// A question that is too large, which only tables of the user's with many conditions to a check can bring about.
pub(super) fn of_group(applied: &Applied, group: &[Fact]) -> Result<Vec<f64>, NetworkError> {
    let small = Small::of(applied, group, None)?;
    let shares = match small.network.posterior(&small.evidence, 0) {
        Err(NetworkError::Impossible { .. }) => return Ok(vec![0.0; applied.sets.len()]),
        shares => shares?,
    };
    // With the class known the question is smaller by their number; one class gives the scale for all.
    let best = (0..small.classes).max_by(|&a, &b| shares[a].total_cmp(&shares[b])).unwrap_or(0);
    let known = [&small.evidence[..], &[(0, best)]].concat();
    let scale = small.network.probability(&known)? * small.classes as f64 / shares[best];
    Ok(small.class_of.iter().map(|&class| shares[class] * scale).collect())
}

/// For each outcome of `asked`, the probability of that outcome and `group` together under each hypothesis, all by
/// one common factor; zero throughout when the group is impossible.
pub(super) fn with_outcomes(
    applied: &Applied,
    group: &[Fact],
    asked: usize,
) -> Result<Vec<Vec<f64>>, NetworkError> {
    let small = Small::of(applied, group, Some(asked))?;
    let outcomes = applied.probes[asked].outcomes.len();
    let last = small.network.variables().len() - 1;
    let joint = match small.network.joint(&small.evidence, &[last, 0]) {
        Err(NetworkError::Impossible { .. }) => vec![0.0; outcomes * small.classes],
        joint => joint?,
    };
    let row = |outcome: usize| {
        let shares = &joint[outcome * small.classes..(outcome + 1) * small.classes];
        small.class_of.iter().map(|&class| shares[class]).collect()
    };
    Ok((0..outcomes).map(row).collect())
}

/// The network of a few facts: the class of the hypothesis, then the conditions, then the facts, then the probe that
/// is asked about.
struct Small {
    network: Network,
    /// Every fact, as a variable and its state.
    evidence: Vec<(usize, usize)>,
    /// Class of each hypothesis.
    class_of: Vec<usize>,
    classes: usize,
}

impl Small {
    fn of(applied: &Applied, facts: &[Fact], asked: Option<usize>) -> Result<Self, NetworkError> {
        let asked_parts =
            asked.iter().flat_map(|&probe| applied.probes[probe].reads.iter().map(|(part, _)| *part));
        let mut parts: Vec<usize> =
            facts.iter().flat_map(|fact| fact.parts(applied)).chain(asked_parts).collect();
        parts.sort_unstable();
        parts.dedup();
        let (class_of, sets) = classes(applied, &parts);
        let mut variables = vec![hypothesis(sets.len())];
        variables.extend(parts.iter().map(|&part| condition(applied, part, &sets)));
        let mut evidence = Vec::with_capacity(facts.len());
        for &fact in facts {
            let (variable, state) = match fact {
                Fact::Came { probe, outcome } => (check(applied, probe, &parts), outcome),
                Fact::Spared { probe, place } => (spared(applied, probe, place, &parts), 0),
            };
            evidence.push((variables.len(), state));
            variables.push(variable);
        }
        variables.extend(asked.map(|probe| check(applied, probe, &parts)));
        Ok(Self { network: Network::new(variables)?, evidence, class_of, classes: sets.len() })
    }
}

/// The class of each hypothesis by the causes in it that matter to these conditions, and those causes by class.
fn classes(applied: &Applied, parts: &[usize]) -> (Vec<usize>, Vec<Vec<usize>>) {
    let matters = |cause: &usize| parts.iter().any(|&part| applied.parts[part].effects[*cause].is_some());
    let mut known: BTreeMap<Vec<usize>, usize> = BTreeMap::new();
    let mut sets = Vec::new();
    let class = |set: &Vec<usize>| {
        let rest: Vec<usize> = set.iter().copied().filter(matters).collect();
        *known.entry(rest.clone()).or_insert_with(|| {
            sets.push(rest);
            sets.len() - 1
        })
    };
    (applied.sets.iter().map(class).collect(), sets)
}

/// Every class alike: only likelihoods are asked for.
fn hypothesis(classes: usize) -> Variable {
    Variable {
        name: "hypothesis".to_owned(),
        states: (0..classes).map(|class| class.to_string()).collect(),
        parents: vec![],
        table: vec![1.0 / classes as f64; classes],
    }
}

/// Its state is the worst that the leak or a cause brings about.
fn condition(applied: &Applied, part: usize, sets: &[Vec<usize>]) -> Variable {
    let part = &applied.parts[part];
    let row = |set: &Vec<usize>| {
        let mut at_work = vec![part.leak.as_slice()];
        at_work.extend(set.iter().filter_map(|&cause| part.effects[cause].as_deref()));
        worst_of(&at_work)
    };
    Variable {
        name: format!("condition {}", part.key),
        states: part.states.clone(),
        parents: vec![0],
        table: sets.iter().flat_map(row).collect(),
    }
}

/// Its outcome is the worst that the leak or a condition brings about.
fn check(applied: &Applied, probe: usize, parts: &[usize]) -> Variable {
    let probe = &applied.probes[probe];
    let by_part: Vec<Vec<Vec<f64>>> = probe.reads.iter().map(|(_, states)| states.clone()).collect();
    Variable {
        name: format!("check {}", probe.key),
        states: probe.outcomes.clone(),
        parents: probe.reads.iter().map(|(part, _)| variable_of(*part, parts)).collect(),
        table: noisy_max(&probe.leak, &by_part),
    }
}

/// State 0: this condition leaves the best outcome possible. The chance of a false alarm goes with the first one.
fn spared(applied: &Applied, probe: usize, place: usize, parts: &[usize]) -> Variable {
    let probe = &applied.probes[probe];
    let (part, by_state) = &probe.reads[place];
    let leak = if place == 0 { probe.leak[0] } else { 1.0 };
    Variable {
        name: format!("check {} spared by {}", probe.key, applied.parts[*part].key),
        states: vec!["yes".to_owned(), "no".to_owned()],
        parents: vec![variable_of(*part, parts)],
        table: by_state.iter().flat_map(|row| [leak * row[0], 1.0 - leak * row[0]]).collect(),
    }
}

/// Place of a condition among the variables; one that is missing is refused by the network.
fn variable_of(part: usize, parts: &[usize]) -> usize {
    parts.iter().position(|own| *own == part).map_or(usize::MAX, |at| at + 1)
}
