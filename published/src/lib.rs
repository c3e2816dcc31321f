//! Checks against published sources.
//!
//! A check reads `cite("ISO-261", "table 2, M6").near("pitch, mm", ours, 1.0, Tolerance::absolute(1e-12, "why"))`.
//! The key must stand in `published/refs.bib`, the place within the source and the reason of the tolerance
//! must be given. A check that misses panics and prints all of it; one that holds is recorded, and
//! `docs/validation.md` is generated from those records.
#![allow(clippy::disallowed_methods, reason = "a crate of tests: it records what it checked in a file")]

mod bib;
pub mod bif;
mod check;
pub mod flow;
mod record;
pub mod riemann;
pub mod table;
mod tolerance;

pub use bib::{Entry, entries, find};
pub use check::{Source, cite, practice};
pub use record::RECORDS_VARIABLE;
pub use tolerance::Tolerance;
