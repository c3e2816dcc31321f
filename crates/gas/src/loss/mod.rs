//! Losses: friction and heat along a duct's wall, friction of the engine's moving parts.

mod fmep;
mod friction;
mod nusselt;

pub use fmep::{Fmep, mean_piston_speed_m_s};
pub use friction::Friction;
pub use nusselt::Nusselt;
