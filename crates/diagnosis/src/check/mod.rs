//! Bench checks as data, and the verdict on what was read in one.
//!
//! The built-in checks stand in `checks.toml` beside this file; a user's own file has the same layout
//! (`docs/bench-checks.md`) and replaces or adds checks by their keys. What a check asks, in which order it is done,
//! what has to come off and what an answer means are all data; the code here only reads the data and judges
//! readings: their uncertainty against the limits, and slips of pen, unit and meter, which are asked about and never
//! corrected silently.

mod checks;
mod judge;
mod judgement;
mod limits;
mod model;
mod picture;
mod read;

pub use checks::Checks;
pub use judgement::{ItemJudgement, ItemVerdict, Judgement, PairJudgement, Slip, SlipKind, State};
pub use limits::{LimitError, TextLimits};
pub use model::{Actuator, Check, Choice, Item, ItemKind, Outcome, Pair, Reading, Sum, TakeOff};
pub use picture::picture;
pub use userfile::Problem;

#[cfg(test)]
mod tests;
