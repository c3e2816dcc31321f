//! Estimators of the indices from the results of the runs, and their bootstrap.

use super::{Design, FirstOrder, Index, Indices, Influence};
use crate::propagation::PropagationError;
use rand::{RngExt, SeedableRng};
use rand_chacha::ChaCha8Rng;

/// Random stream of the resampling, apart from those of the blocks.
const RESAMPLING: u64 = u64::MAX;

/// The results of one output: one column for each run of a row.
pub(super) struct Columns {
    /// f(A), f(B), then f(A with column i from B), all less `origin`.
    columns: Vec<Vec<f64>>,
    origin: f64,
}

/// Sums over rows from which one input's indices follow.
#[derive(Clone, Copy, Default)]
struct Sums {
    /// Of f(B) (f(AB) - f(A)).
    product: f64,
    /// Of f(AB) - f(A).
    difference: f64,
    /// Of (f(AB) - f(A))².
    from_a: f64,
    /// Of (f(AB) - f(B))².
    from_b: f64,
}

impl Columns {
    pub(super) fn of<'a>(
        rows: impl Iterator<Item = &'a [f64]>,
        output: usize,
        outputs: usize,
        runs: usize,
        count: usize,
    ) -> Self {
        let mut columns = vec![Vec::with_capacity(count); runs];
        for row in rows {
            for (column, results) in columns.iter_mut().zip(row.chunks_exact(outputs)) {
                column.extend(results.get(output));
            }
        }
        // Taken from the mean of A and B, so that a small spread on a large value keeps its digits.
        let mean = |column: &Vec<f64>| {
            let origin = column.first().copied().unwrap_or(0.0);
            origin + column.iter().map(|y| y - origin).sum::<f64>() / column.len().max(1) as f64
        };
        let origin = 0.5 * columns.iter().take(2).map(mean).sum::<f64>();
        columns.iter_mut().flatten().for_each(|y| *y -= origin);
        Self { columns, origin }
    }

    fn get(&self, at: usize) -> &[f64] {
        self.columns.get(at).map_or(&[], Vec::as_slice)
    }

    /// Mean and variance over A and B, each row counted `weight` times.
    fn spread(&self, weights: &[f64]) -> (f64, f64) {
        let (mut sum, mut squares) = (0.0, 0.0);
        for ((a, b), weight) in self.get(0).iter().zip(self.get(1)).zip(weights) {
            sum += weight * (a + b);
            squares += weight * (a * a + b * b);
        }
        let count = 2.0 * weights.len() as f64;
        let mean = sum / count;
        (mean, (squares - count * mean * mean) / (count - 1.0))
    }

    fn sums(&self, input: usize, weights: &[f64]) -> Sums {
        let mut sums = Sums::default();
        let ab = self.get(input + 2);
        for (((a, b), ab), weight) in self.get(0).iter().zip(self.get(1)).zip(ab).zip(weights) {
            let from_a = ab - a;
            let from_b = ab - b;
            sums.product += weight * b * from_a;
            sums.difference += weight * from_a;
            sums.from_a += weight * from_a * from_a;
            sums.from_b += weight * from_b * from_b;
        }
        sums
    }

    /// First-order and total index of every input, each row counted `weight` times.
    fn pairs(&self, weights: &[f64], first_order: FirstOrder) -> Vec<(f64, f64)> {
        let (mean, variance) = self.spread(weights);
        let count = weights.len() as f64;
        (0..self.columns.len().saturating_sub(2))
            .map(|input| {
                let sums = self.sums(input, weights);
                let first = match first_order {
                    FirstOrder::Saltelli2010 => (sums.product - mean * sums.difference) / count / variance,
                    FirstOrder::Jansen1999 => 1.0 - 0.5 * sums.from_b / count / variance,
                };
                (first, 0.5 * sums.from_a / count / variance)
            })
            .collect()
    }
}

/// The indices of one output, with intervals.
pub(super) fn estimate(
    columns: Columns,
    names: &[&str],
    failed: usize,
    design: &Design,
) -> Result<Indices, PropagationError> {
    let rows = columns.get(0).len();
    let once = vec![1.0; rows];
    let (mean, variance) = columns.spread(&once);
    let round_off = 1e-14 * columns.origin.abs();
    if !(variance.is_finite() && variance > round_off * round_off) {
        return Err(PropagationError::NothingVaries);
    }
    let best = columns.pairs(&once, design.first_order);
    let spread = resample(&columns, rows, design);
    let interval = |value: f64, mut drawn: Vec<f64>| {
        drawn.sort_unstable_by(f64::total_cmp);
        let tail = 0.5 * (1.0 - design.coverage);
        let at = |share: f64| {
            let position = (share * drawn.len().saturating_sub(1) as f64).round() as usize;
            drawn.get(position).copied().unwrap_or(value)
        };
        Index { value, low: at(tail), high: at(1.0 - tail) }
    };
    let influences = names
        .iter()
        .zip(&best)
        .enumerate()
        .map(|(at, (name, (first, total)))| {
            let drawn: Vec<(f64, f64)> = spread.iter().filter_map(|pairs| pairs.get(at).copied()).collect();
            Influence {
                name: (*name).to_string(),
                first_order: interval(*first, drawn.iter().map(|pair| pair.0).collect()),
                total: interval(*total, drawn.iter().map(|pair| pair.1).collect()),
            }
        })
        .collect();
    Ok(Indices { mean: columns.origin + mean, variance, influences, failed })
}

/// The indices of `design.resamples` samples of as many rows, drawn from the rows with replacement.
fn resample(columns: &Columns, rows: usize, design: &Design) -> Vec<Vec<(f64, f64)>> {
    let mut random = ChaCha8Rng::seed_from_u64(design.seed);
    random.set_stream(RESAMPLING);
    let mut weights = vec![0.0; rows];
    (0..design.resamples)
        .map(|_| {
            weights.fill(0.0);
            for _ in 0..rows {
                if let Some(weight) = weights.get_mut(random.random_range(0..rows)) {
                    *weight += 1.0;
                }
            }
            columns.pairs(&weights, design.first_order)
        })
        .filter(|pairs| pairs.iter().all(|pair| pair.0.is_finite() && pair.1.is_finite()))
        .collect()
}
