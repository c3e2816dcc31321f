//! Closures of the vessels, cylinder and crankcase: what they hold, burning, scavenging, heat to the
//! walls, flow between two vessels.

mod change;
mod contents;
mod heat_flux;
mod nozzle;
mod scavenging;
mod wall_heat;
mod wiebe;

pub use contents::{Contents, Inflow};
pub(crate) use heat_flux::HeatWalls;
pub use nozzle::{critical_pressure_ratio, flow_function, mass_flow_kg_s};
pub use scavenging::Scavenging;
pub use wall_heat::{Charge, WallHeat, WoschniPhase};
pub use wiebe::{BurnLaw, Wiebe};
