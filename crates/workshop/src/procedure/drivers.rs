//! Which figures make a procedure's result spread.

use super::outcome::Measure;
use super::run::Run;
use super::words::figure_name;
use evidence::propagation::{PropagationError, first_order};
use evidence::sensitivity::{Block, Design, Indices, Plan, indices};

/// One figure's part in the spread of a result.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Driver {
    /// Key of the figure, or the step and what the hand does in it.
    pub key: String,
    /// The same in words.
    pub name: String,
    /// Share of the variance, 0 to 1.
    pub share: f64,
}

/// What drives the spread of `measure`, largest first; shares of the first-order variance (JCGM 100:2008, 5.1.2), for a
/// result that is nearly straight over the spread of its inputs. Shares below 0.1 % are left out. Empty when the
/// procedure cannot be carried out at best values.
pub fn drivers(run: &Run, measure: Measure) -> Vec<Driver> {
    let Ok(budget) = first_order(run.inputs(), |values| Some(run.outcome(values).ok()?.value(measure)))
    else {
        return Vec::new();
    };
    let whole = budget.u.powi(2);
    let mut drivers: Vec<Driver> = budget
        .contributions
        .into_iter()
        .map(|part| Driver { name: figure_name(&part.name), key: part.name, share: part.u.powi(2) / whole })
        .filter(|driver| driver.share > 1e-3)
        .collect();
    drivers.sort_by(|a, b| b.share.total_cmp(&a.share));
    drivers
}

impl Run {
    /// First-order and total indices of every input for one measure (variance-based; Saltelli et al. 2010): unlike
    /// [`drivers`] right for results that bend or meet a stop. The gear is solved rows x (uncertain inputs + 2) times.
    ///
    /// # Errors
    /// [`PropagationError`] when the design is out of range, fewer than half of its rows can be carried out, or the
    /// measure does not vary at all.
    pub fn influences(&self, measure: Measure, design: Design) -> Result<Indices, PropagationError> {
        indices(self.inputs(), design, |values| Some(self.outcome(values).ok()?.value(measure)))
    }

    /// The same cut into blocks that may be run on any thread: see [`Run::influence_block`] and [`Plan::indices`].
    ///
    /// # Errors
    /// [`PropagationError`] when the design is out of range.
    pub fn influence_plan(&self, design: Design) -> Result<Plan, PropagationError> {
        Plan::new(self.inputs(), 1, design)
    }

    /// One block of a plan.
    pub fn influence_block(&self, plan: &Plan, block: usize, measure: Measure) -> Block {
        plan.run(block, |values, out| match (self.outcome(values), out.first_mut()) {
            (Ok(outcome), Some(slot)) => {
                *slot = outcome.value(measure);
                true
            }
            _ => false,
        })
    }
}
