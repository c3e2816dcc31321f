//! Causes ranked by what was seen, and the next best test.
//!
//! [`find`] weighs every hypothesis (nothing is wrong, each cause alone, each pair) by the symptoms and the outcomes of
//! bench checks, says why, and orders the checks that are left by what they tell for their time. All figures stand
//! in tables beside this file, each row with its source; a user's file replaces rows ([`Tables::read`],
//! [`Tables::with`]). `docs/faults.md` tells how it works.
//!
//! - hypothesis -> symptoms: leaky noisy-OR of the causes at work;
//! - hypothesis -> conditions -> outcomes of checks: noisy-MAX over states and outcomes ordered from best to worst;
//! - weight of a finding: the odds of a cause with all findings, over those without it;
//! - worth of a test: mutual information between hypothesis and outcome, for each minute of its cost.

mod alike;
mod applied;
mod case;
mod find;
mod likelihood;
mod model;
mod next;
mod ranking;
mod read;
mod settled;
mod tables;
#[cfg(test)]
mod tests;
mod weighed;
mod words;

pub use case::{Case, Finding};
pub use find::find;
pub use model::{ByKind, Cause, Condition, Reads, Rules, Shares, Symptom, Tables, Test};
pub use ranking::{Foreseen, NextTest, RankedCause, Ranking, Reason};
