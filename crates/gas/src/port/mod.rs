//! Ports in the cylinder wall: areas by crank angle at any valve travel, leakage past the blade, discharge.

mod area_table;
mod discharge;

pub use area_table::{AreaTable, Areas};
pub use discharge::{Discharge, FlowDirection};
