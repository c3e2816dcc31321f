//! The runs of the model that indices need, in blocks that can be run anywhere.

use super::estimate::{Columns, estimate};
use super::{Design, Indices, MOST_RESAMPLES, MOST_ROWS};
use crate::Input;
use crate::propagation::PropagationError;
use crate::propagation::draw::Spread;
use crate::propagation::first_order::check;
use rand::SeedableRng;
use rand_chacha::ChaCha8Rng;

/// Rows in a block. It decides which random numbers a row gets: another size is another sample.
const BLOCK_ROWS: usize = 256;

/// What is to be run: inputs and design, cut into blocks.
///
/// Every block has a random stream of its own (ChaCha with eight rounds, stream = position of the block), so that
/// blocks can be run in any order, in several threads, and the indices come out the same bit for bit.
#[derive(Debug, Clone)]
pub struct Plan {
    names: Vec<String>,
    /// Positions of the inputs that are not exact.
    uncertain: Vec<usize>,
    spreads: Vec<Spread>,
    outputs: usize,
    design: Design,
}

/// The results of one block's runs.
#[derive(Debug, Clone, PartialEq)]
pub struct Block {
    at: usize,
    /// Row by row, each as run by run (A, B, then A with one column from B), each as result by result.
    results: Vec<f64>,
    failed: usize,
}

impl Plan {
    /// A plan for `outputs` results of a model of `inputs`.
    ///
    /// # Errors
    /// [`PropagationError`] when an input is no number, or rows, resamplings or coverage are out of range.
    pub fn new(inputs: &[Input], outputs: usize, design: Design) -> Result<Self, PropagationError> {
        check(inputs)?;
        if !(2..=MOST_ROWS).contains(&design.rows) {
            return Err(PropagationError::BadDraws { draws: design.rows, most: MOST_ROWS });
        }
        let covers = design.coverage > 0.0 && design.coverage < 1.0;
        if design.resamples > MOST_RESAMPLES || !covers {
            return Err(PropagationError::BadResampling {
                resamples: design.resamples,
                most: MOST_RESAMPLES,
                coverage: design.coverage,
            });
        }
        Ok(Self {
            names: inputs.iter().map(|input| input.name.clone()).collect(),
            uncertain: (0..inputs.len())
                .filter(|at| inputs.get(*at).is_some_and(|input| input.u > 0.0))
                .collect(),
            spreads: inputs.iter().map(Spread::of).collect(),
            outputs,
            design,
        })
    }

    /// Number of blocks; they count from 0.
    pub fn blocks(&self) -> usize {
        self.design.rows.div_ceil(BLOCK_ROWS)
    }

    /// Number of times the model will run in all blocks together, failures aside.
    pub fn runs(&self) -> usize {
        self.design.rows * self.runs_a_row()
    }

    fn runs_a_row(&self) -> usize {
        self.uncertain.len() + 2
    }

    /// Runs the model for one block; a block beyond the last has no rows.
    pub fn run(&self, block: usize, model: impl Fn(&[f64], &mut [f64]) -> bool) -> Block {
        let first = block.saturating_mul(BLOCK_ROWS).min(self.design.rows);
        let rows = BLOCK_ROWS.min(self.design.rows - first);
        let mut random = ChaCha8Rng::seed_from_u64(self.design.seed);
        random.set_stream(block as u64);
        let width = self.runs_a_row() * self.outputs;
        let mut results = Vec::with_capacity(rows * width);
        let mut failed = 0;
        for _ in 0..rows {
            let a: Vec<f64> = self.spreads.iter().map(|spread| spread.draw(&mut random)).collect();
            let b: Vec<f64> = self.spreads.iter().map(|spread| spread.draw(&mut random)).collect();
            let start = results.len();
            results.resize(start + width, 0.0);
            let row = results.get_mut(start..).unwrap_or_default();
            if !self.run_row(a, &b, row, &model) {
                results.truncate(start);
                failed += 1;
            }
        }
        Block { at: block, results, failed }
    }

    /// Fills one row of results; false as soon as a run gives none.
    fn run_row(
        &self,
        mut a: Vec<f64>,
        b: &[f64],
        row: &mut [f64],
        model: &impl Fn(&[f64], &mut [f64]) -> bool,
    ) -> bool {
        let run = |values: &[f64], out: Option<&mut [f64]>| match out {
            Some(out) => model(values, out) && out.iter().all(|result| result.is_finite()),
            None => true,
        };
        let mut slots = row.chunks_exact_mut(self.outputs.max(1));
        if !run(&a, slots.next()) || !run(b, slots.next()) {
            return false;
        }
        self.uncertain.iter().all(|at| {
            let (Some(own), Some(other)) = (a.get(*at).copied(), b.get(*at)) else { return false };
            a[*at] = *other;
            let good = run(&a, slots.next());
            a[*at] = own;
            good
        })
    }

    /// The indices of every result, from all blocks in any order.
    ///
    /// # Errors
    /// [`PropagationError`] when a block is missing or twice there, fewer than half of the rows gave results, or a
    /// result does not vary.
    pub fn indices(&self, blocks: &[Block]) -> Result<Vec<Indices>, PropagationError> {
        let mut order: Vec<&Block> = blocks.iter().collect();
        order.sort_by_key(|block| block.at);
        if order.len() != self.blocks() || order.iter().enumerate().any(|(at, block)| block.at != at) {
            return Err(PropagationError::WrongSize { given: order.len(), wanted: self.blocks() });
        }
        let failed: usize = order.iter().map(|block| block.failed).sum();
        let usable = self.design.rows - failed;
        if usable < 2 || usable < self.design.rows / 2 {
            return Err(PropagationError::TooFewResults { usable, draws: self.design.rows });
        }
        let names: Vec<&str> =
            self.uncertain.iter().filter_map(|at| self.names.get(*at)).map(String::as_str).collect();
        let width = self.runs_a_row() * self.outputs;
        (0..self.outputs)
            .map(|output| {
                let rows = order.iter().flat_map(|block| block.results.chunks_exact(width));
                let columns = Columns::of(rows, output, self.outputs, self.runs_a_row(), usable);
                estimate(columns, &names, failed, &self.design)
            })
            .collect()
    }
}
