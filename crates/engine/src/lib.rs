//! What an engine is: geometry, ports, valve, gear and actuator; the engine file; port timing and areas.

pub mod file;
mod geometry_error;
pub mod kinematics;
pub mod model;
pub mod ports;
mod root;
pub mod valve_law;
pub mod volumes;

pub use geometry_error::GeometryError;
