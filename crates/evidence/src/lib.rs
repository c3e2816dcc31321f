//! Statistics free of engines: how the uncertainty of measurements becomes that of a result, and what may be
//! concluded from it.
//!
//! - [`propagation`]: first order (JCGM 100) and Monte Carlo (JCGM 101), from the same list of [`Input`]s.
//! - [`sensitivity`]: which input drives the spread of a result.
//! - [`fit`]: unknowns from readings, and what the readings cannot tell.
//! - [`conformity`]: pass, fail or cannot tell (JCGM 106).
//! - [`network`]: what is likely, given what was seen: exact questions to networks of discrete variables.
//! - [`inquiry`]: which question tells most, and in which order to look.
//! - [`linearity`]: how straight a position sensor is.
//! - [`robust`]: medians and what follows from them, for readings of which some are wild.
//! - [`distribution`]: the few distribution functions that these need.
//!
//! Everything is pure: seeds are arguments, and the same seed gives the same result.

pub mod conformity;
pub mod distribution;
pub mod fit;
mod input;
pub mod inquiry;
pub mod linearity;
pub mod network;
pub mod propagation;
pub mod robust;
pub mod sensitivity;

pub use input::Input;
pub use quantity::Shape;
