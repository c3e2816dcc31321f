//! Measured quantities: a value in SI, its standard uncertainty, and how it was written.
//!
//! Text with units comes in at the edges ([`parse`]), SI numbers are used inside,
//! text with units and uncertainty goes out ([`show`], [`show_value`], [`show_with`]).
//!
//! # What a text means
//! | written | value | standard uncertainty |
//! |---|---|---|
//! | `10.2 ± 0.1 mm` | 10.2 mm | limits: 0.1 mm / √3 |
//! | `10.2 ± 0.1 mm (k=2)` | 10.2 mm | expanded: 0.1 mm / 2 |
//! | `10.2 mm ± 5 %` | 10.2 mm | limits: 0.51 mm / √3 |
//! | `4.86 kΩ ± (0.5 % + 2 digits)` | 4860 Ω | limits: (0.005 x 4860 Ω + 2 x 10 Ω) / √3 |
//! | `10.2 mm by calliper` | 10.2 mm | limits of [`instruments`] / √3 |
//! | `10.2 mm` | 10.2 mm | limits of half the last digit: 0.05 mm / √3 |
//! | `1 3/32 in` | 1.09375 in | limits of half a step of the fraction: (1/64 in) / √3 |
//! | `10.2 mm exact` | 10.2 mm | none |

mod dimension;
mod error;
mod figure;
mod instrument;
mod measured;
mod parse;
mod show;
mod tidy;
mod unit;

pub use dimension::Dimension;
pub use error::ParseError;
pub use instrument::{Instrument, Limits, instruments};
pub use measured::{Measured, Shape};
pub use parse::{LONGEST_TEXT, parse};
pub use show::{DisplayUnit, Units, display_unit, show, show_value, show_with};
