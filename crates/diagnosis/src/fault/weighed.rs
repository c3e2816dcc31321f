//! The hypotheses weighed by the findings.

use super::applied::Applied;
use super::case::{Findings, Seen};
use super::likelihood::{self, Fact, multiply, touches};
use evidence::network::NetworkError;

/// Findings in the form they are reckoned with: symptoms together, checks by group.
pub(super) struct Weighed<'a> {
    pub(super) applied: &'a Applied,
    pub(super) findings: &'a Findings,
    /// Prior times the symptoms, by hypothesis.
    base: Vec<f64>,
    groups: Vec<(Vec<Fact>, Vec<f64>)>,
    /// Probability of hypothesis and findings together.
    weights: Vec<f64>,
}

impl<'a> Weighed<'a> {
    pub(super) fn of(applied: &'a Applied, findings: &'a Findings) -> Result<Self, NetworkError> {
        let base = base(applied, findings, None);
        let mut groups = Vec::new();
        for group in likelihood::groups(applied, facts(applied, findings, None)) {
            let shares = likelihood::of_group(applied, &group)?;
            groups.push((group, shares));
        }
        let mut weights = base.clone();
        groups.iter().for_each(|(_, shares)| multiply(&mut weights, shares));
        Ok(Self { applied, findings, base, groups, weights })
    }

    /// Probability of all findings together.
    pub(super) fn total(&self) -> f64 {
        self.weights.iter().sum()
    }

    /// Probability of each hypothesis; `None` when the findings cannot be by these tables.
    pub(super) fn posterior(&self) -> Option<Vec<f64>> {
        normalised(&self.weights)
    }

    /// Probability of each hypothesis together with all findings but the one at `left_out`.
    pub(super) fn without(&self, left_out: usize) -> Result<Vec<f64>, NetworkError> {
        let mut weights = base(self.applied, self.findings, Some(left_out));
        for group in likelihood::groups(self.applied, facts(self.applied, self.findings, Some(left_out))) {
            match self.groups.iter().find(|(known, _)| *known == group) {
                Some((_, shares)) => multiply(&mut weights, shares),
                None => multiply(&mut weights, &likelihood::of_group(self.applied, &group)?),
            }
        }
        Ok(weights)
    }

    /// Probability of the finding at this place by itself.
    pub(super) fn alone(&self, at: usize) -> Result<f64, NetworkError> {
        let applied = self.applied;
        let mut weights = applied.prior.clone();
        match self.findings.seen[at] {
            Seen::Sign(sign, seen) => weigh_by_sign(&mut weights, applied, sign, seen),
            Seen::Probe(probe, outcome) => {
                for group in likelihood::groups(applied, likelihood::facts(applied, (probe, outcome))) {
                    multiply(&mut weights, &likelihood::of_group(applied, &group)?);
                }
            }
        }
        Ok(weights.iter().sum())
    }

    /// Probability of each outcome of a probe that was not done and each hypothesis together, given the findings;
    /// sums to 1. `None` when the findings cannot be.
    pub(super) fn foreseen(&self, probe: usize) -> Result<Option<Vec<Vec<f64>>>, NetworkError> {
        let parts: Vec<usize> = self.applied.probes[probe].reads.iter().map(|(part, _)| *part).collect();
        let mut others = self.base.clone();
        let mut joined: Vec<Fact> = Vec::new();
        for (group, shares) in &self.groups {
            if touches(self.applied, group, &parts) {
                joined.extend(group);
            } else {
                multiply(&mut others, shares);
            }
        }
        let mut joint = likelihood::with_outcomes(self.applied, &joined, probe)?;
        joint.iter_mut().for_each(|row| multiply(row, &others));
        let sum: f64 = joint.iter().flatten().sum();
        if sum <= 0.0 {
            return Ok(None);
        }
        joint.iter_mut().flatten().for_each(|share| *share /= sum);
        Ok(Some(joint))
    }
}

/// `None` when all weights are zero.
pub(super) fn normalised(weights: &[f64]) -> Option<Vec<f64>> {
    let sum: f64 = weights.iter().sum();
    (sum > 0.0).then(|| weights.iter().map(|weight| weight / sum).collect())
}

fn base(applied: &Applied, findings: &Findings, left_out: Option<usize>) -> Vec<f64> {
    let mut base = applied.prior.clone();
    for (at, seen) in findings.seen.iter().enumerate() {
        if let Seen::Sign(sign, seen) = *seen
            && Some(at) != left_out
        {
            weigh_by_sign(&mut base, applied, sign, seen);
        }
    }
    base
}

fn weigh_by_sign(weights: &mut [f64], applied: &Applied, sign: usize, seen: bool) {
    weights.iter_mut().zip(applied.sign_likelihood(sign, seen)).for_each(|(share, factor)| *share *= factor);
}

fn facts(applied: &Applied, findings: &Findings, left_out: Option<usize>) -> Vec<Fact> {
    let seen = findings.seen.iter().enumerate().filter(|(at, _)| Some(*at) != left_out);
    seen.flat_map(|(_, seen)| match *seen {
        Seen::Probe(probe, outcome) => likelihood::facts(applied, (probe, outcome)),
        Seen::Sign(..) => Vec::new(),
    })
    .collect()
}
