//! Measured quantities: a value in SI, its standard uncertainty, and how it was written.
//!
//! Text with units comes in at the edges (`parse`), SI numbers are used inside,
//! text with units and uncertainty goes out (`print`).

mod dimension;
mod measured;

pub use dimension::Dimension;
pub use measured::{Measured, Shape};
