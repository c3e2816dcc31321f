//! Port timing and areas from geometry.
//!
//! Lengths are depths below the deck (top face of the cylinder) in m, growing downwards. Angles are counted from
//! true top dead centre in rad. Areas are flow areas: the arc along the bore wall times the height, times the
//! cosine of the duct angle. The valve is a level straight edge: it counts where it is lower than the port roof.

mod crown;
mod outline;

pub use crate::geometry_error::{Edge, GeometryError};
pub use crown::CrownPath;
pub use outline::{OutlineShape, PortOutline, arc_of_chord_m};
