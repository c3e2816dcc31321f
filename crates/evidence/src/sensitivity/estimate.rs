//! Estimators of the indices from the results of the runs, and their bootstrap.

use super::{Design, FirstOrder, Index, Indices, Influence};
use crate::propagation::PropagationError;
use rand::{RngExt, SeedableRng};
use rand_chacha::ChaCha8Rng;
use std::ops::Range;

/// Random stream of the resampling, apart from those of the blocks.
const RESAMPLING: u64 = u64::MAX;

/// Rows are resampled in so many groups of neighbours, or one by one when they are fewer: sums over a group are taken
/// once, and the spread of several hundred group sums says as much as that of all rows.
const GROUPS: usize = 500;

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

/// Sums over rows from which all indices follow.
#[derive(Clone)]
struct Tally {
    rows: f64,
    /// Of f(A) + f(B), and of their squares.
    sum: f64,
    squares: f64,
    inputs: Vec<Sums>,
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

    /// Sums over some of the rows.
    fn tally(&self, rows: Range<usize>) -> Tally {
        let part = |at: usize| self.get(at).get(rows.clone()).unwrap_or_default();
        let (a, b) = (part(0), part(1));
        let of_input = |input: usize| {
            let mut sums = Sums::default();
            for ((a, b), ab) in a.iter().zip(b).zip(part(input + 2)) {
                let (from_a, from_b) = (ab - a, ab - b);
                sums.product += b * from_a;
                sums.difference += from_a;
                sums.from_a += from_a * from_a;
                sums.from_b += from_b * from_b;
            }
            sums
        };
        Tally {
            rows: a.len() as f64,
            sum: a.iter().chain(b).sum(),
            squares: a.iter().chain(b).map(|y| y * y).sum(),
            inputs: (0..self.columns.len().saturating_sub(2)).map(of_input).collect(),
        }
    }
}

impl Tally {
    /// Nothing counted yet, for so many inputs.
    fn empty(inputs: usize) -> Self {
        Self { rows: 0.0, sum: 0.0, squares: 0.0, inputs: vec![Sums::default(); inputs] }
    }

    fn add(&mut self, other: &Self) {
        self.rows += other.rows;
        self.sum += other.sum;
        self.squares += other.squares;
        for (own, more) in self.inputs.iter_mut().zip(&other.inputs) {
            own.product += more.product;
            own.difference += more.difference;
            own.from_a += more.from_a;
            own.from_b += more.from_b;
        }
    }

    /// Mean and variance over A and B.
    fn spread(&self) -> (f64, f64) {
        let count = 2.0 * self.rows;
        let mean = self.sum / count;
        (mean, (self.squares - count * mean * mean) / (count - 1.0))
    }

    /// First-order and total index of every input.
    fn pairs(&self, first_order: FirstOrder) -> Vec<(f64, f64)> {
        let (mean, variance) = self.spread();
        let share = |sum: f64| sum / self.rows / variance;
        let pair = |sums: &Sums| {
            let first = match first_order {
                FirstOrder::Saltelli2010 => share(sums.product - mean * sums.difference),
                FirstOrder::Jansen1999 => 1.0 - share(0.5 * sums.from_b),
            };
            (first, share(0.5 * sums.from_a))
        };
        self.inputs.iter().map(pair).collect()
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
    let groups: Vec<Tally> = (0..rows.min(GROUPS))
        .map(|at| columns.tally(at * rows / rows.min(GROUPS)..(at + 1) * rows / rows.min(GROUPS)))
        .collect();
    let mut all = Tally::empty(names.len());
    groups.iter().for_each(|group| all.add(group));
    let (mean, variance) = all.spread();
    let round_off = 1e-14 * columns.origin.abs();
    if !(variance.is_finite() && variance > round_off * round_off) {
        return Err(PropagationError::NothingVaries);
    }
    let best = all.pairs(design.first_order);
    let spread = resample(&groups, names.len(), design);
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

/// The indices of `design.resamples` samples of as many groups of rows, drawn with replacement.
fn resample(groups: &[Tally], inputs: usize, design: &Design) -> Vec<Vec<(f64, f64)>> {
    let mut random = ChaCha8Rng::seed_from_u64(design.seed);
    random.set_stream(RESAMPLING);
    (0..design.resamples)
        .map(|_| {
            let mut tally = Tally::empty(inputs);
            for _ in groups {
                if let Some(group) = groups.get(random.random_range(0..groups.len())) {
                    tally.add(group);
                }
            }
            tally.pairs(design.first_order)
        })
        .filter(|pairs| pairs.iter().all(|pair| pair.0.is_finite() && pair.1.is_finite()))
        .collect()
}
