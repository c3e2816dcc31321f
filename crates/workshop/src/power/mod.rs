//! What the setting does to torque: the map of the gas simulation read along the valve's way.
//!
//! A map tells torque by engine speed and lift; the controller's schedule tells servo travel by speed; the valve gear
//! with its two wires tells lift by servo travel. Together: torque by speed for a setting, and for the same setting
//! after half a turn of an adjuster.

mod commanded;
mod costs;
mod figures;
mod measured;
mod picture;
mod setting_curve;
mod told;
mod traces;
mod ways;

pub use commanded::commanded_rad;
pub use costs::{CostRow, costs};
pub use figures::{torque_text, torque_unit};
pub use measured::{Beside, MeasuredCurve, MeasuredPoint, MeasuredProblem};
pub use picture::{costs_scene, map_scene, power_scene, torque_scene, turned_scene};
pub use setting_curve::{SettingPoint, Turned, setting_curve, turned};
pub use told::{Told, ToldSpeed, told};
pub use traces::{Held, exchange_scene, exhaust_scene};
pub use ways::{Reached, ToldTorque, WaysTorque, ways_torque};

/// Torque within this share of the best counts as the same: the differences of a one-dimensional model are no finer.
pub const SAME: f64 = 0.005;

/// Engine speed in rpm over which an actuator needs at least to go from closed to open, when nothing is said of it: common
/// practice, no source.
pub const USUAL_FOLLOW_RPM: f64 = 500.0;

/// The steepest schedule of an actuator that needs so much engine speed for its whole travel, m of lift for each rad/s;
/// infinite for none.
pub fn steepest_m_per_rad_s(grid: &gas::map::Grid, follow_rpm: f64) -> f64 {
    let (low, high) = grid.lift_range_m();
    (high - low) / (follow_rpm * std::f64::consts::PI / 30.0)
}

#[cfg(test)]
mod tests;
