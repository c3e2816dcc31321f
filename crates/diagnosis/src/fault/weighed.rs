//! The hypotheses weighed by the findings.

use super::applied::Applied;
use super::case::{Findings, Seen};
use super::likelihood::{self, Read, multiply, touches};
use evidence::network::NetworkError;

/// Findings in the form they are reckoned with: symptoms together, checks by group.
pub(super) struct Weighed<'a> {
    pub(super) applied: &'a Applied,
    pub(super) findings: &'a Findings,
    /// Prior times the symptoms, by hypothesis.
    base: Vec<f64>,
    groups: Vec<(Vec<Read>, Vec<f64>)>,
    /// Probability of hypothesis and findings together.
    weights: Vec<f64>,
}

impl<'a> Weighed<'a> {
    pub(super) fn of(applied: &'a Applied, findings: &'a Findings) -> Result<Self, NetworkError> {
        let base = base(applied, findings, None);
        let mut groups = Vec::new();
        for group in likelihood::groups(applied, &reads(findings)) {
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
        match self.findings.seen[left_out] {
            Seen::Sign(..) => {
                let mut weights = base(self.applied, self.findings, Some(left_out));
                self.groups.iter().for_each(|(_, shares)| multiply(&mut weights, shares));
                Ok(weights)
            }
            Seen::Probe(probe, outcome) => {
                let mut weights = self.base.clone();
                for (group, shares) in &self.groups {
                    if !group.contains(&(probe, outcome)) {
                        multiply(&mut weights, shares);
                        continue;
                    }
                    let rest: Vec<Read> = group.iter().copied().filter(|read| read.0 != probe).collect();
                    multiply(&mut weights, &likelihood::of_all(self.applied, &rest)?);
                }
                Ok(weights)
            }
        }
    }

    /// Probability of the finding at this place by itself.
    pub(super) fn alone(&self, at: usize) -> Result<f64, NetworkError> {
        let applied = self.applied;
        let mut weights = applied.prior.clone();
        match self.findings.seen[at] {
            Seen::Sign(sign, seen) => {
                weights
                    .iter_mut()
                    .zip(applied.sign_likelihood(sign, seen))
                    .for_each(|(share, factor)| *share *= factor);
            }
            Seen::Probe(probe, outcome) => {
                multiply(&mut weights, &likelihood::of_group(applied, &[(probe, outcome)])?)
            }
        }
        Ok(weights.iter().sum())
    }

    /// Probability of each outcome of a probe that was not done and each hypothesis together, given the findings;
    /// sums to 1. `None` when the findings cannot be.
    pub(super) fn foreseen(&self, probe: usize) -> Result<Option<Vec<Vec<f64>>>, NetworkError> {
        let mut others = self.base.clone();
        let mut joined: Vec<Read> = Vec::new();
        for (group, shares) in &self.groups {
            if touches(self.applied, group, probe) {
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
            base.iter_mut()
                .zip(applied.sign_likelihood(sign, seen))
                .for_each(|(share, factor)| *share *= factor);
        }
    }
    base
}

fn reads(findings: &Findings) -> Vec<Read> {
    let read = |seen: &Seen| match *seen {
        Seen::Probe(probe, outcome) => Some((probe, outcome)),
        Seen::Sign(..) => None,
    };
    findings.seen.iter().filter_map(read).collect()
}
