//! Closures of the vessels, cylinder and crankcase: what they hold, burning, scavenging, heat to the
//! walls, flow between two vessels.

mod contents;
mod nozzle;
mod scavenging;
mod wall_heat;
mod wiebe;

pub use contents::{Contents, Inflow};
pub use nozzle::{critical_pressure_ratio, flow_function, mass_flow_kg_s};
pub use scavenging::Scavenging;
pub use wall_heat::{Charge, WallHeat, WoschniPhase};
pub use wiebe::{BurnLaw, Wiebe};
