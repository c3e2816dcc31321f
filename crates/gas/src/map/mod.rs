//! Torque over engine speed and valve lift; the best opening schedule; what a wrong setting costs.
//!
//! The figures come from operating points that were run to a steady cycle; here they are only read between, and never
//! beyond: outside the speeds and lifts that were run there is no figure, and a point that did not settle leaves a hole.

mod cost;
mod crossing;
mod curve;
mod grid;
mod schedule;

pub use cost::{Cost, Wrong, cost};
pub use crossing::crossings;
pub use grid::{Grid, GridError, Peak};
pub use schedule::{Schedule, best};

#[cfg(test)]
mod tests;
