//! What was not measured, estimated from a few readings of how the valve follows the servo.
//!
//! A reading says where the servo stood, which way it had come, perhaps what gap the opening adjuster showed, and what
//! was seen at the valve. The gear's own mechanics ([`gear`]) say what should be seen; the unknowns are those for which
//! both agree best (least squares, `evidence::fit`). What the readings cannot tell apart is said by name, never guessed.

mod chain;
mod entries;
mod picture;
mod read;
mod readings;
mod solve;
#[cfg(test)]
mod tests;
mod told;

pub use entries::{Entries, MOST_ROWS, ROW_KEYS, entries_from, entries_of, row_count, text_of_entries};
pub use readings::{Readings, Row, Seen, SeenKind, ServoAt, Unknown};
pub use solve::{Estimate, Fitted, NotFitted, fit};
pub use told::{Told, ToldEstimate, ToldRow};

pub use userfile::Problem;

/// Invented readings of the invented demo engine, in the layout of a user's file.
pub const DEMO: &str = include_str!("demo.toml");

/// Reads a file of readings.
///
/// # Errors
/// Every problem of the file, each with its line, key and mend.
pub fn read(text: &str) -> Result<Readings, Vec<Problem>> {
    read::read(text)
}
