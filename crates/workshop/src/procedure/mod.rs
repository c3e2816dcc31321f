//! Setting procedures compared: each written as data, carried out on many drawn gears, judged by what comes of it.
//!
//! [`Procedures`] holds them (built in, or from a user's file). [`Run`] is one procedure on one engine, ready to be
//! drawn over any range of draw numbers on any thread: draw `n` is the same whoever asks for it. [`Comparison`] puts
//! the draws of several procedures side by side. How a procedure is carried out is told in `docs/procedures.md`.

mod compare;
mod conform;
mod draw;
mod drivers;
mod execute;
mod figures;
mod leaf;
mod model;
mod outcome;
mod picture;
mod read;
mod run;
mod summary;
#[cfg(test)]
mod tests;
mod told;
mod words;

pub use compare::{AGREE_SHARE, Comparison, Entry, Pair};
pub use conform::{Decision, Judged, SURE, verdict};
pub use draw::Draws;
pub use drivers::{Driver, drivers};
pub use evidence::sensitivity::{Design, Indices};
pub use execute::NotDone;
pub use leaf::{
    Leaf, LeafDemand, LeafDriver, LeafFigure, LeafShare, LeafStep, LeafWay, SIDE_BY_SIDE, Stated,
};
pub use model::{
    Check, ForSpring, FreeSheath, Hold, Parts, Procedure, Procedures, ServoHold, Side, Step, Until, ValveHold,
};
pub use outcome::{MOST_MARGIN, Measure, Outcome, Signs};
pub use run::{Posed, Run, Scope};
pub use summary::{Histogram, Quantiles, Summary};
pub use told::{Told, ToldProcedure};
pub use userfile::Problem;
pub use words::{ToldCheck, ToldDemand, Verdict};

/// Text of the built-in procedures, in the layout of a user's file.
pub const BUILT_IN: &str = include_str!("built_in.toml");
