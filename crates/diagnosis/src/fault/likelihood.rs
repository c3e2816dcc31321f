//! How likely the outcomes of checks are under each hypothesis: exact, from [`evidence::network`].
//!
//! Checks that share a condition depend on each other even when the hypothesis is known; others do not. So the
//! checks that were done fall into groups, and each group is a small network of its own. In such a network
//! hypotheses that differ only in causes without any effect on its conditions are one state.

use super::applied::Applied;
use evidence::network::{Network, NetworkError, Variable, noisy_max, worst_of};
use std::collections::BTreeMap;

/// A probe and its outcome, by position.
pub(super) type Read = (usize, usize);

/// Groups of probes that share conditions, directly or through others.
pub(super) fn groups(applied: &Applied, reads: &[Read]) -> Vec<Vec<Read>> {
    let mut groups: Vec<Vec<Read>> = Vec::new();
    for &read in reads {
        let (joined, apart): (Vec<_>, Vec<_>) =
            groups.into_iter().partition(|group| touches(applied, group, read.0));
        groups = apart;
        let mut group = joined.concat();
        group.push(read);
        groups.push(group);
    }
    groups
}

/// True when `probe` reads a condition that one of the group reads.
pub(super) fn touches(applied: &Applied, group: &[Read], probe: usize) -> bool {
    let reads = |probe: usize, part: usize| applied.probes[probe].reads.iter().any(|(own, _)| *own == part);
    let parts = || applied.probes[probe].reads.iter().map(|(part, _)| *part);
    group.iter().any(|&(other, _)| parts().any(|part| reads(other, part)))
}

/// Probability of all of `reads` together under each hypothesis.
///
/// # Errors
/// A question that is too large, which only tables of the user's with many conditions to a check can bring about.
pub(super) fn of_all(applied: &Applied, reads: &[Read]) -> Result<Vec<f64>, NetworkError> {
    let mut product = vec![1.0; applied.sets.len()];
    for group in groups(applied, reads) {
        multiply(&mut product, &of_group(applied, &group)?);
    }
    Ok(product)
}

pub(super) fn multiply(product: &mut [f64], factors: &[f64]) {
    product.iter_mut().zip(factors).for_each(|(share, factor)| *share *= factor);
}

/// Probability of the reads of one group under each hypothesis.
pub(super) fn of_group(applied: &Applied, group: &[Read]) -> Result<Vec<f64>, NetworkError> {
    let probes: Vec<usize> = group.iter().map(|read| read.0).collect();
    let small = Small::of(applied, &probes)?;
    let evidence: Vec<(usize, usize)> =
        group.iter().map(|&(probe, outcome)| (small.place(probe), outcome)).collect();
    let shares = match small.network.posterior(&evidence, 0) {
        Err(NetworkError::Impossible { .. }) => return Ok(vec![0.0; applied.sets.len()]),
        shares => shares?,
    };
    let together = small.network.probability(&evidence)? * small.classes as f64;
    Ok(small.class_of.iter().map(|&class| shares[class] * together).collect())
}

/// For each outcome of `asked`, the probability of that outcome and `group` together under each hypothesis, all by
/// one common factor; zero throughout when the group is impossible.
pub(super) fn with_outcomes(
    applied: &Applied,
    group: &[Read],
    asked: usize,
) -> Result<Vec<Vec<f64>>, NetworkError> {
    let mut probes: Vec<usize> = group.iter().map(|read| read.0).collect();
    probes.push(asked);
    let small = Small::of(applied, &probes)?;
    let evidence: Vec<(usize, usize)> =
        group.iter().map(|&(probe, outcome)| (small.place(probe), outcome)).collect();
    let outcomes = applied.probes[asked].outcomes.len();
    let joint = match small.network.joint(&evidence, &[small.place(asked), 0]) {
        Err(NetworkError::Impossible { .. }) => vec![0.0; outcomes * small.classes],
        joint => joint?,
    };
    let row = |outcome: usize| {
        let shares = &joint[outcome * small.classes..(outcome + 1) * small.classes];
        small.class_of.iter().map(|&class| shares[class]).collect()
    };
    Ok((0..outcomes).map(row).collect())
}

/// The network of a few probes: the class of the hypothesis, then the conditions, then the probes.
struct Small {
    network: Network,
    /// Class of each hypothesis.
    class_of: Vec<usize>,
    classes: usize,
    /// Place of each probe among the variables.
    places: BTreeMap<usize, usize>,
}

impl Small {
    fn of(applied: &Applied, probes: &[usize]) -> Result<Self, NetworkError> {
        let mut parts: Vec<usize> = probes
            .iter()
            .flat_map(|&probe| applied.probes[probe].reads.iter().map(|(part, _)| *part))
            .collect();
        parts.sort_unstable();
        parts.dedup();
        let matters = |cause: &usize| parts.iter().any(|&part| applied.parts[part].effects[*cause].is_some());
        let mut kept: BTreeMap<Vec<usize>, usize> = BTreeMap::new();
        let class_of: Vec<usize> = applied
            .sets
            .iter()
            .map(|set| {
                let rest: Vec<usize> = set.iter().copied().filter(matters).collect();
                let next = kept.len();
                *kept.entry(rest).or_insert(next)
            })
            .collect();
        let mut sets: Vec<(Vec<usize>, usize)> = kept.into_iter().collect();
        sets.sort_by_key(|(_, class)| *class);
        let sets: Vec<Vec<usize>> = sets.into_iter().map(|(set, _)| set).collect();
        let mut variables = vec![hypothesis(sets.len())];
        variables.extend(parts.iter().map(|&part| condition(applied, part, &sets)));
        let mut places = BTreeMap::new();
        for &probe in probes {
            places.insert(probe, variables.len());
            variables.push(check(applied, probe, &parts));
        }
        Ok(Self { network: Network::new(variables)?, class_of, classes: sets.len(), places })
    }

    fn place(&self, probe: usize) -> usize {
        self.places.get(&probe).copied().unwrap_or(usize::MAX)
    }
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
    let place = |part: &usize| 1 + parts.iter().position(|own| own == part).unwrap_or(usize::MAX - 1);
    let by_part: Vec<Vec<Vec<f64>>> = probe.reads.iter().map(|(_, states)| states.clone()).collect();
    Variable {
        name: format!("check {}", probe.key),
        states: probe.outcomes.clone(),
        parents: probe.reads.iter().map(|(part, _)| place(part)).collect(),
        table: noisy_max(&probe.leak, &by_part),
    }
}
