//! Is the valve gear healthy, and if not, what next?
//!
//! - [`check`]: bench checks as data, and the verdict on what was read in one.
//! - [`sweep`]: the position sensor over its whole travel.
//! - [`fault`]: causes ranked by what was seen, and the test that tells most for its time.
//! - [`normal`]: what a healthy valve does at key-on, start, each speed and key-off.
//! - [`session`]: one visit on the bench, its entries by key.
//! - [`care`]: what is due by hours, distance and season.
//!
//! Everything is pure: files, clock and addresses belong to the program.

pub mod care;
pub mod check;
pub mod fault;
pub mod normal;
pub mod session;
pub mod sweep;
