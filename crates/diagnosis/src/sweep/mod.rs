//! The position sensor over its whole travel.

mod log;

pub use log::{Log, MOST_SAMPLES, Problem, Reading, Sample};
