//! The tables as they apply to one kind of actuator, by position instead of by key, with every hypothesis.

use super::model::{Condition, Reads, Shares, Tables};
use crate::check::Actuator;

/// A condition as it applies.
#[derive(Debug)]
pub(super) struct Part {
    pub(super) key: String,
    pub(super) states: Vec<String>,
    /// Distribution over the states with no cause at work.
    pub(super) leak: Vec<f64>,
    /// What each cause does to it by itself, by position of the cause; `None` for nothing.
    pub(super) effects: Vec<Option<Vec<f64>>>,
}

/// A symptom as it applies.
#[derive(Debug)]
pub(super) struct Sign {
    pub(super) key: String,
    /// Position in the table of symptoms.
    pub(super) row: usize,
    pub(super) leak: f64,
    /// How often each cause brings it on, by position of the cause.
    pub(super) shares: Vec<f64>,
}

/// A check as it applies.
#[derive(Debug)]
pub(super) struct Probe {
    pub(super) key: String,
    /// Position in the table of tests.
    pub(super) row: usize,
    pub(super) outcomes: Vec<String>,
    pub(super) leak: Vec<f64>,
    /// Position of each condition it reads, with one distribution over the outcomes for each state.
    pub(super) reads: Vec<(usize, Vec<Vec<f64>>)>,
}

/// Everything that applies to one kind of actuator.
#[derive(Debug)]
pub(super) struct Applied {
    /// Positions in the table of causes.
    pub(super) causes: Vec<usize>,
    /// Hypotheses: the causes (by position in `causes`) at work in each; the first is "nothing is wrong".
    pub(super) sets: Vec<Vec<usize>>,
    /// Probability of each hypothesis before anything was looked at; sums to 1.
    pub(super) prior: Vec<f64>,
    pub(super) parts: Vec<Part>,
    pub(super) signs: Vec<Sign>,
    pub(super) probes: Vec<Probe>,
}

impl Applied {
    pub(super) fn of(tables: &Tables, kind: Actuator) -> Self {
        let causes: Vec<usize> =
            (0..tables.causes.len()).filter(|&at| tables.causes[at].odds.contains_key(&kind)).collect();
        let odds: Vec<f64> = causes.iter().map(|&at| tables.causes[at].odds[&kind]).collect();
        let (sets, prior) = hypotheses(&odds, tables.rules.second_fault);
        let parts: Vec<Part> = tables
            .conditions
            .iter()
            .filter(|row| row.actuators.contains(&kind))
            .map(|row| part(row, tables, &causes))
            .collect();
        let signs = signs(tables, kind, &causes);
        let probes = probes(tables, kind, &parts);
        Self { causes, sets, prior, parts, signs, probes }
    }

    /// Probability of each cause: the sum over the hypotheses that hold it.
    pub(super) fn marginals(&self, posterior: &[f64]) -> Vec<f64> {
        let mut sums = vec![0.0; self.causes.len()];
        for (set, share) in self.sets.iter().zip(posterior) {
            set.iter().for_each(|&cause| sums[cause] += share);
        }
        sums
    }

    /// Probability of what was seen of a symptom under each hypothesis (leaky noisy-OR).
    pub(super) fn sign_likelihood(&self, sign: usize, seen: bool) -> impl Iterator<Item = f64> {
        let sign = &self.signs[sign];
        self.sets.iter().map(move |set| {
            let spared: f64 = set.iter().map(|&cause| 1.0 - sign.shares[cause]).product();
            let no = (1.0 - sign.leak) * spared;
            if seen { 1.0 - no } else { no }
        })
    }
}

/// Nothing, every cause alone, every pair; the weight of a pair is the product of the odds of its two, times `second`.
fn hypotheses(odds: &[f64], second: f64) -> (Vec<Vec<usize>>, Vec<f64>) {
    let (mut sets, mut weights) = (vec![vec![]], vec![1.0]);
    for (one, first) in odds.iter().enumerate() {
        sets.push(vec![one]);
        weights.push(*first);
    }
    for (one, first) in odds.iter().enumerate() {
        for (other, beside) in odds.iter().enumerate().skip(one + 1) {
            sets.push(vec![one, other]);
            weights.push(first * beside * second);
        }
    }
    let sum: f64 = weights.iter().sum();
    (sets, weights.iter().map(|weight| weight / sum).collect())
}

fn part(row: &Condition, tables: &Tables, causes: &[usize]) -> Part {
    let effect = |&cause: &usize| {
        let effects = &tables.causes[cause].conditions;
        effects.iter().find(|(key, _)| *key == row.key).map(|(_, shares)| spread(shares, &row.states))
    };
    Part {
        key: row.key.clone(),
        states: row.states.clone(),
        leak: spread(&row.leak, &row.states),
        effects: causes.iter().map(effect).collect(),
    }
}

/// The whole distribution over the states: what is not given to one of them is the first's.
fn spread(shares: &Shares, states: &[String]) -> Vec<f64> {
    let share = |state: &String| shares.iter().find(|(key, _)| key == state).map_or(0.0, |(_, share)| *share);
    let mut whole: Vec<f64> = states.iter().map(share).collect();
    whole[0] = (1.0 - whole[1..].iter().sum::<f64>()).max(0.0);
    whole
}

fn signs(tables: &Tables, kind: Actuator, causes: &[usize]) -> Vec<Sign> {
    let of = |(row, symptom): (usize, &super::model::Symptom)| {
        let share = |&cause: &usize| {
            let symptoms = &tables.causes[cause].symptoms;
            let shares = symptoms.iter().find(|(key, _)| *key == symptom.key);
            shares.and_then(|(_, shares)| shares.get(&kind)).copied().unwrap_or(0.0)
        };
        let shares = causes.iter().map(share).collect();
        Sign { key: symptom.key.clone(), row, leak: symptom.leak, shares }
    };
    let applies = |row: &(usize, &super::model::Symptom)| row.1.actuators.contains(&kind);
    tables.symptoms.iter().enumerate().filter(applies).map(of).collect()
}

/// Tests that read at least one condition this kind of actuator has.
fn probes(tables: &Tables, kind: Actuator, parts: &[Part]) -> Vec<Probe> {
    let mut probes = Vec::new();
    for (row, test) in tables.tests.iter().enumerate().filter(|(_, test)| test.actuators.contains(&kind)) {
        let mut reads = Vec::new();
        for Reads { condition: key, states } in &test.reads {
            let Some(at) = parts.iter().position(|part| part.key == *key) else { continue };
            let mut best = vec![0.0; test.outcomes.len()];
            best[0] = 1.0;
            let of = |state: &String| {
                states.iter().find(|(own, _)| own == state).map(|(_, shares)| shares.clone())
            };
            let by_state =
                parts[at].states.iter().map(|state| of(state).unwrap_or_else(|| best.clone())).collect();
            reads.push((at, by_state));
        }
        if !reads.is_empty() {
            let (key, outcomes, leak) = (test.check.clone(), test.outcomes.clone(), test.leak.clone());
            probes.push(Probe { key, row, outcomes, leak, reads });
        }
    }
    probes
}
