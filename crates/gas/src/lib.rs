//! One-dimensional unsteady gas flow through an engine: ducts, ends, cylinder, crankcase, the cycle and the map.
//!
//! SI throughout; angles, where there are any, say from where. Valve travels at one speed are computed side by side
//! as lanes of one state; the caller runs speeds in parallel. Nothing here touches a file, a clock or a thread.

pub mod correction;
pub mod cycle;
pub mod duct;
pub mod end;
pub mod gas;
pub mod loss;
pub mod map;
pub mod port;
pub mod reed;
pub mod throttle;
pub mod vessel;
