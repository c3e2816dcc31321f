//! What stands at the end of a duct: walls, the open air, ports and nozzles, area steps, junctions.
//!
//! Each gives the flux through the end from the gas there half a step on ([`crate::duct::EndState`]), positive into
//! the duct. What leaves a duct is what the other side must take, so that mass and energy close to rounding.

mod closed;
mod free;
mod junction;
pub(crate) mod many;
mod open;
mod orifice;
mod plate;
mod root;
mod wave;

pub use closed::closed;
pub use free::free;
pub use junction::junction;
pub use many::{Openings, Reservoirs};
pub use open::{open, open_lane, opening};
pub use orifice::{Opening, Recovery, Reservoir, Settled, settle};
pub use plate::plate;
pub use wave::{Behind, Near};
