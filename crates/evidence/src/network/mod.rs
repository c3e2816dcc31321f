//! Networks of discrete variables (Bayesian networks) and exact questions to them.
//!
//! A [`Network`] holds one table for each [`Variable`]: the probability of each of its states for each combination
//! of its parents' states. Questions ([`Network::posterior`], [`Network::joint`], [`Network::probability`]) are
//! answered exactly by variable elimination: variables that cannot matter are pruned, observed ones cut down their
//! tables, the rest are multiplied and summed out in min-fill order (Koller and Friedman, Probabilistic Graphical
//! Models, 2009, chapter 9). [`noisy_or`] and [`noisy_max`] build tables from one distribution for each cause.

mod error;
mod factor;
mod noisy;
mod order;

pub use error::NetworkError;
pub use noisy::{noisy_max, noisy_or, worst_of};

use factor::{Factor, Odometer, combine};
use std::borrow::Cow;

/// Most figures in one table, given or intermediate: 32 million (256 MB).
pub const MOST_FIGURES: usize = 1 << 25;

/// How far a row of a table may be from summing to 1: tables written with six decimals pass.
pub const SUM_TOLERANCE: f64 = 1e-6;

/// One discrete variable and its table.
#[derive(Debug, Clone, PartialEq)]
pub struct Variable {
    /// Its name, not empty, no other variable's.
    pub name: String,
    /// Names of its states, at least one, all different.
    pub states: Vec<String>,
    /// The variables its table depends on, by position; each stands before this one.
    pub parents: Vec<usize>,
    /// Probabilities, row by row: rows run through the parents' states, the last parent fastest, and each row has
    /// one figure for each state, summing to 1 (within [`SUM_TOLERANCE`]).
    pub table: Vec<f64>,
}

/// Variables and their tables, checked, ready for questions.
///
/// Positions of variables and of states count from 0. Rows of tables are scaled to sum to 1 to the last digit.
#[derive(Debug, Clone)]
pub struct Network {
    variables: Vec<Variable>,
    /// Rank of each variable: the more states, the higher. Tables are kept in order of rank.
    ranks: Vec<usize>,
    /// Number of states, by rank.
    sizes: Vec<usize>,
    /// One table for each variable, in the order of `variables`.
    tables: Vec<Factor<'static>>,
}

impl Network {
    /// Checks the variables and their tables.
    ///
    /// # Errors
    /// The first fault, as a sentence: names and states missing or twice, parents that do not stand before their
    /// child, tables of the wrong length, figures that are no probabilities, rows that do not sum to 1.
    pub fn new(mut variables: Vec<Variable>) -> Result<Self, NetworkError> {
        let mut names = std::collections::BTreeSet::new();
        for (position, variable) in variables.iter().enumerate() {
            if variable.name.is_empty() {
                return Err(NetworkError::NoName { position });
            }
            if !names.insert(variable.name.as_str()) {
                return Err(NetworkError::TwiceNamed { name: variable.name.clone() });
            }
            variable.check_states()?;
            check_table(&variables[..position], variable)?;
        }
        variables.iter_mut().for_each(Variable::close_rows);
        let mut by_size: Vec<usize> = (0..variables.len()).collect();
        by_size.sort_by_key(|&at| variables[at].states.len());
        let mut ranks = vec![0; variables.len()];
        by_size.iter().enumerate().for_each(|(rank, &at)| ranks[at] = rank);
        let sizes: Vec<usize> = by_size.iter().map(|&at| variables[at].states.len()).collect();
        let tables =
            (0..variables.len()).map(|at| table_by_rank(&variables[at], at, &ranks, &sizes)).collect();
        Ok(Self { variables, ranks, sizes, tables })
    }

    /// The variables, in the order they were given.
    pub fn variables(&self) -> &[Variable] {
        &self.variables
    }

    /// Position of the variable with this name.
    pub fn index(&self, name: &str) -> Option<usize> {
        self.variables.iter().position(|variable| variable.name == name)
    }

    /// Position of a state of a variable, by its name.
    pub fn state(&self, variable: usize, state: &str) -> Option<usize> {
        self.variables.get(variable)?.states.iter().position(|own| own == state)
    }

    /// Probability of each state of `target`, given `evidence`: pairs of a variable and its observed state.
    ///
    /// # Errors
    /// A position that does not exist, a variable observed in two states, evidence that the tables make impossible,
    /// or a question that needs a table beyond [`MOST_FIGURES`].
    pub fn posterior(&self, evidence: &[(usize, usize)], target: usize) -> Result<Vec<f64>, NetworkError> {
        self.joint(evidence, &[target])
    }

    /// Probability of each combination of the states of `targets`, the last target fastest, given `evidence`;
    /// sums to 1. No targets give the one figure 1.
    ///
    /// # Errors
    /// As [`Network::posterior`]; also a target named twice.
    pub fn joint(&self, evidence: &[(usize, usize)], targets: &[usize]) -> Result<Vec<f64>, NetworkError> {
        let observed = self.observe(evidence)?;
        self.check_targets(targets)?;
        let impossible = || NetworkError::Impossible { observed: self.describe(evidence) };
        let (product, _) = self.eliminate(&observed, targets)?.ok_or_else(impossible)?;
        let mut out = self.spread(&product, &observed, targets);
        let sum: f64 = out.iter().sum();
        out.iter_mut().for_each(|share| *share /= sum);
        Ok(out)
    }

    /// Probability that all of `evidence` is seen together; 0 when the tables make it impossible, 1 for none.
    ///
    /// # Errors
    /// A position that does not exist, a variable observed in two states, or a question that needs a table beyond
    /// [`MOST_FIGURES`].
    pub fn probability(&self, evidence: &[(usize, usize)]) -> Result<f64, NetworkError> {
        let observed = self.observe(evidence)?;
        let Some((product, power)) = self.eliminate(&observed, &[])? else { return Ok(0.0) };
        let power = i32::try_from(power).unwrap_or(i32::MIN);
        Ok(libm::ldexp(product.values[0], power).min(1.0))
    }

    /// Observed state by rank.
    fn observe(&self, evidence: &[(usize, usize)]) -> Result<Vec<Option<usize>>, NetworkError> {
        let mut observed = vec![None; self.variables.len()];
        for &(position, state) in evidence {
            let variable = self.variable(position)?;
            let (name, count) = (variable.name.clone(), variable.states.len());
            if state >= count {
                return Err(NetworkError::UnknownState { name, state, count });
            }
            let place = &mut observed[self.ranks[position]];
            if let Some(earlier) = place.filter(|&earlier| earlier != state) {
                let [first, second] = [earlier, state].map(|at: usize| variable.states[at].clone());
                return Err(NetworkError::Contradiction { name, first, second });
            }
            *place = Some(state);
        }
        Ok(observed)
    }

    fn variable(&self, position: usize) -> Result<&Variable, NetworkError> {
        let count = self.variables.len();
        self.variables.get(position).ok_or(NetworkError::UnknownVariable { variable: position, count })
    }

    fn check_targets(&self, targets: &[usize]) -> Result<(), NetworkError> {
        let mut figures = 1usize;
        for (at, &target) in targets.iter().enumerate() {
            let variable = self.variable(target)?;
            if targets[..at].contains(&target) {
                return Err(NetworkError::TwiceAsked { name: variable.name.clone() });
            }
            figures = figures.saturating_mul(variable.states.len());
        }
        if figures > MOST_FIGURES {
            return Err(NetworkError::TooLarge { most: MOST_FIGURES });
        }
        Ok(())
    }

    fn describe(&self, evidence: &[(usize, usize)]) -> String {
        let one = |&(at, state): &(usize, usize)| {
            let variable = &self.variables[at];
            format!("{} = {}", variable.name, variable.states[state])
        };
        evidence.iter().map(one).collect::<Vec<_>>().join(", ")
    }

    /// The table over the targets that were not observed, with a power of two to multiply it by; `None` when the
    /// evidence is impossible.
    fn eliminate(
        &self,
        observed: &[Option<usize>],
        targets: &[usize],
    ) -> Result<Option<(Factor<'_>, i64)>, NetworkError> {
        let parents: Vec<&[usize]> = self.variables.iter().map(|variable| &variable.parents[..]).collect();
        let seen = (0..self.variables.len()).filter(|&at| observed[self.ranks[at]].is_some());
        let needed = order::relevant(&parents, seen.chain(targets.iter().copied()));
        let needed: Vec<usize> = (0..self.variables.len()).filter(|&at| needed[at]).collect();
        let mut factors: Vec<Factor<'_>> =
            needed.iter().map(|&at| self.tables[at].given(observed, &self.sizes)).collect();
        let to_sum = needed.iter().filter(|at| !targets.contains(at)).map(|&at| self.ranks[at]);
        let to_sum = to_sum.filter(|&rank| observed[rank].is_none()).collect();
        let scopes = factors.iter().map(|factor| &factor.scope[..]);
        let (order, largest) = order::min_fill(scopes, to_sum, &self.sizes);
        if largest > MOST_FIGURES as f64 {
            return Err(NetworkError::TooLarge { most: MOST_FIGURES });
        }
        let mut power = 0;
        for variable in order.into_iter().map(Some).chain([None]) {
            let concerned =
                |factor: &mut Factor<'_>| variable.is_none_or(|rank| factor.scope.contains(&rank));
            let bucket = factors.extract_if(.., concerned).collect();
            let Some((product, taken)) = combine(bucket, &self.sizes, variable) else { return Ok(None) };
            power += taken;
            factors.push(product);
        }
        Ok(factors.pop().map(|product| (product, power)))
    }

    /// `product` in the order of `targets`, with zeros for states that were observed not to be.
    fn spread(&self, product: &Factor<'_>, observed: &[Option<usize>], targets: &[usize]) -> Vec<f64> {
        let targets: Vec<usize> = targets.iter().map(|&at| self.ranks[at]).collect();
        let strides = Factor::strides(&targets, &self.sizes);
        let source = Factor::strides(&product.scope, &self.sizes);
        let (mut sizes, mut steps, mut base) = (Vec::new(), Vec::new(), 0);
        for (&rank, &stride) in targets.iter().zip(&strides) {
            match observed[rank] {
                Some(state) => base += state * stride,
                None => {
                    let at = product.scope.iter().position(|&own| own == rank);
                    sizes.push(self.sizes[rank]);
                    steps.extend([at.map_or(0, |at| source[at]), stride]);
                }
            }
        }
        let mut places = Odometer::new(sizes, steps, vec![0, base]);
        let mut out = vec![0.0; targets.iter().map(|&rank| self.sizes[rank]).product()];
        for _ in 0..places.turns() {
            out[places.offsets[1]] = product.values[places.offsets[0]];
            places.advance();
        }
        out
    }
}

impl Variable {
    fn check_states(&self) -> Result<(), NetworkError> {
        if self.states.is_empty() {
            return Err(NetworkError::NoStates { name: self.name.clone() });
        }
        let mut seen = std::collections::BTreeSet::new();
        match self.states.iter().find(|state| !seen.insert(state.as_str())) {
            Some(state) => Err(NetworkError::TwiceState { name: self.name.clone(), state: state.clone() }),
            None => Ok(()),
        }
    }

    /// Scales each row to sum to 1: what is pruned as barren then sums to one indeed.
    fn close_rows(&mut self) {
        for row in self.table.chunks_exact_mut(self.states.len()) {
            let sum: f64 = row.iter().sum();
            row.iter_mut().for_each(|share| *share /= sum);
        }
    }
}

fn check_table(before: &[Variable], variable: &Variable) -> Result<(), NetworkError> {
    let name = || variable.name.clone();
    let mut wanted = variable.states.len();
    for (at, &parent) in variable.parents.iter().enumerate() {
        let Some(known) = before.get(parent) else {
            return Err(NetworkError::LaterParent { name: name(), parent, before: before.len() });
        };
        if variable.parents[..at].contains(&parent) {
            return Err(NetworkError::TwiceParent { name: name(), parent: known.name.clone() });
        }
        wanted = wanted.saturating_mul(known.states.len());
    }
    if wanted > MOST_FIGURES {
        return Err(NetworkError::TableTooLarge { name: name(), most: MOST_FIGURES });
    }
    if variable.table.len() != wanted {
        return Err(NetworkError::WrongLength { name: name(), given: variable.table.len(), wanted });
    }
    for (row, shares) in variable.table.chunks_exact(variable.states.len()).enumerate() {
        if let Some(&value) = shares.iter().find(|share| !(0.0..=1.0).contains(*share)) {
            return Err(NetworkError::NotAProbability { name: name(), row, value });
        }
        let sum: f64 = shares.iter().sum();
        if (sum - 1.0).abs() > SUM_TOLERANCE {
            return Err(NetworkError::WrongSum { name: name(), row, sum });
        }
    }
    Ok(())
}

/// The table of the variable at position `at`, with its variables in order of rank.
fn table_by_rank(variable: &Variable, at: usize, ranks: &[usize], sizes: &[usize]) -> Factor<'static> {
    let given: Vec<usize> = variable.parents.iter().chain([&at]).map(|&one| ranks[one]).collect();
    let source = Factor::strides(&given, sizes);
    let mut scope = given.clone();
    scope.sort_unstable();
    let steps = scope.iter().map(|rank| given.iter().position(|own| own == rank).map_or(0, |at| source[at]));
    let mut places = Odometer::new(scope.iter().map(|&rank| sizes[rank]).collect(), steps.collect(), vec![0]);
    let values = (0..places.turns())
        .map(|_| {
            let value = variable.table[places.offsets[0]];
            places.advance();
            value
        })
        .collect();
    Factor { scope, values: Cow::Owned(values) }
}

#[cfg(test)]
mod tests;
