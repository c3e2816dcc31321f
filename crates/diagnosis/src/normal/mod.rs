//! What a healthy valve does, by control logic.
//!
//! A [`Logic`] is data: for each phase from key-on to key-off what the valve does, what one sees and hears, what looks
//! like a fault and is none, and the travel against time. [`strip`] draws it as a strip chart, [`position`] as a small
//! picture of valve and actuator at one moment. A [`Recording`] is what the user read on an engine known to be good;
//! [`compare`] says in which phase another visit differs from it.
//!
//! Travel is the valve's, as a part of its whole way: 0 closed, 1 fully open. Time is in s from key-on.

mod compare;
mod logic;
mod position;
pub(crate) mod problem;
mod recording;
mod strip;

pub use crate::check::Problem;
pub use compare::{Agreement, Comparison, PhaseComparison, Sameness, agreement, compare, likely};
pub use logic::{Logic, Phase, Picture, logic, logics, read};
pub use position::{pose, position};
pub use recording::{PREFIX, Recording, RecordingProblem, Seen, SeenPhase, Travel};
pub use strip::{strip, strip_with};
