//! Which input drives the spread of a result: variance-based sensitivity indices.
//!
//! The first-order index of an input is the share of the result's variance that would go, on average, if that input
//! were known. Its total index is the share that would remain if all the others were known: what it does alone and
//! together with others. In an additive model both are the same and add up to one; where inputs act together the
//! first-order indices add up to less, the total ones to more (Sobol 1993; Homma and Saltelli 1996).
//!
//! Design: two independent random tables A and B of `rows` draws, and for each input a table A with that input's
//! column from B: rows x (inputs + 2) runs of the model. Estimators: [`FirstOrder`] for the first-order index;
//! Jansen 1999, V_T = mean of (f(A) - f(AB))² / 2, for the total one (both in table 2 of Saltelli et al. 2010,
//! "Variance based sensitivity analysis of model output", Computer Physics Communications 181, 259-270).
//! Intervals are percentiles of a bootstrap over rows (Archer, Saltelli and Sobol 1997), many rows in 500 groups.
//!
//! Inputs are independent: for correlated ones these shares have no meaning of this kind.

mod estimate;
mod plan;
#[cfg(test)]
mod tests;

pub use plan::{Block, Plan};

use crate::Input;
use crate::propagation::PropagationError;
use serde::Serialize;

/// Estimator of the first-order index.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum FirstOrder {
    /// V_i = mean of f(B) (f(AB) - f(A)), with f taken from its mean (Saltelli et al. 2010): good for small indices.
    #[default]
    Saltelli2010,
    /// V_i = V - mean of (f(B) - f(AB))² / 2 (Jansen 1999): good for an input that governs the result.
    Jansen1999,
}

/// How the indices are to be estimated.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Design {
    /// Rows of the tables A and B, from 2 to [`MOST_ROWS`]; the model runs rows x (uncertain inputs + 2) times.
    pub rows: usize,
    /// The same seed gives the same indices, bit for bit.
    pub seed: u64,
    /// Estimator of the first-order index.
    pub first_order: FirstOrder,
    /// Number of resamplings for the intervals, from 0 (no intervals) to [`MOST_RESAMPLES`].
    pub resamples: usize,
    /// Share of the resamplings that the intervals hold, above 0 and below 1.
    pub coverage: f64,
}

/// More rows than this are refused.
pub const MOST_ROWS: usize = 10_000_000;

/// More resamplings than this are refused.
pub const MOST_RESAMPLES: usize = 10_000;

impl Design {
    /// `rows` rows from `seed`, the default estimators, and intervals of 95 % from 200 resamplings.
    pub fn new(rows: usize, seed: u64) -> Self {
        Self { rows, seed, first_order: FirstOrder::default(), resamples: 200, coverage: 0.95 }
    }
}

/// One estimated index.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Index {
    /// The estimate. Random error can bring it below 0 or above 1; it is not cut, so that this can be seen.
    pub value: f64,
    /// Lower end of its interval; the estimate itself without resampling.
    pub low: f64,
    /// Upper end of its interval; the estimate itself without resampling.
    pub high: f64,
}

/// What one input does to one result.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Influence {
    /// Name of the input.
    pub name: String,
    /// Share of the variance that goes when this input becomes known.
    pub first_order: Index,
    /// Share of the variance in which this input has a part.
    pub total: Index,
}

/// The indices of one result.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Indices {
    /// Mean of the result over A and B.
    pub mean: f64,
    /// Variance of the result over A and B.
    pub variance: f64,
    /// One for each input that is not exact, in the order of the inputs.
    pub influences: Vec<Influence>,
    /// Rows in which the model gave no result somewhere; they are left out, and the indices then hold only under
    /// the condition that there is a result.
    pub failed: usize,
}

impl Indices {
    /// The influences, the largest total index first.
    pub fn ranked(&self) -> Vec<&Influence> {
        let mut list: Vec<&Influence> = self.influences.iter().collect();
        list.sort_by(|a, b| b.total.value.total_cmp(&a.total.value));
        list
    }

    /// Share of the variance that no input brings about alone: 1 less the sum of the first-order indices.
    pub fn together(&self) -> f64 {
        1.0 - self.influences.iter().map(|influence| influence.first_order.value).sum::<f64>()
    }
}

/// Indices of one result; see [`indices_many`].
///
/// # Errors
/// As [`indices_many`].
pub fn indices(
    inputs: &[Input],
    design: Design,
    model: impl Fn(&[f64]) -> Option<f64>,
) -> Result<Indices, PropagationError> {
    let all = indices_many(inputs, 1, design, |values, out| match (model(values), out.first_mut()) {
        (Some(result), Some(slot)) => {
            *slot = result;
            true
        }
        _ => false,
    })?;
    all.into_iter().next().ok_or(PropagationError::NoValue)
}

/// Indices of several results from the same runs.
///
/// The model writes `outputs` results into its second argument and gives true, or false where there are none. A row
/// with a run that fails, or gives no finite number, is left out for all results. To share the runs among threads,
/// use [`Plan`]: its blocks may be run in any order and anywhere with the same outcome.
///
/// # Errors
/// [`PropagationError`] when an input is no number; rows, resamplings or coverage are out of range; fewer than half
/// of the rows gave results; or a result does not vary.
pub fn indices_many(
    inputs: &[Input],
    outputs: usize,
    design: Design,
    model: impl Fn(&[f64], &mut [f64]) -> bool,
) -> Result<Vec<Indices>, PropagationError> {
    let plan = Plan::new(inputs, outputs, design)?;
    let blocks: Vec<Block> = (0..plan.blocks()).map(|at| plan.run(at, &model)).collect();
    plan.indices(&blocks)
}
