//! One operating point, or several valve lifts side by side at one speed, run to the steady cycle.
//!
//! [`Model::of`] takes an engine apart; [`Model::run`] runs it. `docs/model.md` says what is modelled and what is not.

mod assumed;
mod carry;
mod fire;
mod job;
mod ledger;
mod missing;
mod model;
mod point;
mod rig;
mod run;
mod settings;
mod settling;
mod step;
#[cfg(test)]
mod tests;
mod timetable;
mod trace;
mod walls;
mod warm;
mod zones;

pub use ledger::Balance;
pub use missing::{AllMissing, Missing, ModelError};
pub use model::Model;
pub use point::Point;
pub use run::{Flow, NotConverged, Progress, Run, RunError, Size};
pub use settings::{Probe, ReedChoice, ScavengingChoice, Settings, Tract};
pub use settling::Change;
pub use trace::{PlaceTrace, Traces};
pub use warm::Warm;
