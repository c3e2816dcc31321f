//! The trade on top of mechanics and statistics: gates, settings, verdicts, advice, and what is shown of them.
//!
//! [`answer()`] is the one door: an engine file that was read goes in, report and drawings come out.

pub mod answer;
pub mod cautions;
pub mod compare;
pub mod fitting;
pub mod form;
pub mod gates;
pub mod picture;
pub mod power;
pub mod procedure;
pub mod report;
pub mod setting;
pub mod timing_table;

pub use answer::{Answer, Shown, answer};
