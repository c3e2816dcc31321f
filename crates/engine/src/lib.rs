//! What an engine is: geometry, ports, valve, gear and actuator; the engine file; port timing and areas.

pub mod model;
