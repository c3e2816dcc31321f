//! Port timing and areas from geometry.
//!
//! Lengths are depths below the deck (top face of the cylinder) in m, growing downwards. Angles are counted from
//! true top dead centre in rad. Areas are flow areas: the arc along the bore wall times the height, times the
//! cosine of the duct angle. The valve is a level straight edge: it counts where it is lower than the port roof.
//!
//! [`report`] gives everything at one lift, [`timing`] and [`exhaust_angles`] the angles alone, [`area_curve`] open
//! areas over a turn, [`Layout`] the areas at any crank angle.

mod angle_area;
mod crown;
mod curve;
mod layout;
mod opening;
mod outline;
mod quadrature;
mod report;
#[cfg(test)]
mod sample;
mod timing;

pub use crate::geometry_error::{Edge, GeometryError};
pub use angle_area::AngleArea;
pub use crown::CrownPath;
pub use curve::{AreaPoint, area_curve};
pub use layout::Layout;
pub use opening::Opening;
pub use outline::{OutlineShape, PortOutline, arc_of_chord_m};
pub use report::{AtSpeed, Blowdown, GroupReport, PortReport, PortsReport, TimeArea, report};
pub use timing::{Timing, exhaust_angles, timing, valve_edge_depth_m};
