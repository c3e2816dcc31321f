//! What was read of the present state, and the gates before a first start.

use quantity::Measured;
use serde::{Deserialize, Serialize};

/// Readings of one state of the setting, all taken with the actuator at closed park unless the name says otherwise.
/// The same readings after a setting are its return values.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Found {
    /// When, in the user's words.
    pub date: Option<String>,
    /// Free play of the opening cable, felt along the wire at the adjuster, m.
    pub opening_play: Option<Measured>,
    /// Free play of the closing cable, felt along the wire at the adjuster, m.
    pub closing_play: Option<Measured>,
    /// Gap between valve pulley and sheath end at the opening adjuster, m.
    pub opening_gap: Option<Measured>,
    /// Gap between valve pulley and sheath end at the closing adjuster, m.
    pub closing_gap: Option<Measured>,
    /// Exposed thread at the opening adjuster, m.
    pub opening_thread: Option<Measured>,
    /// Exposed thread at the closing adjuster, m.
    pub closing_thread: Option<Measured>,
    /// Length of the spring on the closing adjuster, m.
    pub spring_length: Option<Measured>,
    /// Valve edge above flush with the actuator at full travel, m; negative below flush.
    pub edge_above_flush: Option<Measured>,
    /// Valve edge above its closed position with the actuator at closed park, m.
    pub edge_above_closed: Option<Measured>,
    /// Witness mark on the valve pulley: offset from its line at full travel, m along the mark's circle, opening positive.
    pub mark_at_full: Option<Measured>,
    /// Witness mark: offset from its line at closed park, m, opening positive.
    pub mark_at_closed: Option<Measured>,
    /// Sensor at closed park, Ω.
    pub sensor_closed: Option<Measured>,
    /// Sensor at full travel, Ω.
    pub sensor_open: Option<Measured>,
    /// Where play was felt and in which direction (along or sideways), in the user's words.
    pub play_felt: Option<String>,
}

/// A full turn of the crank by hand, both valve ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum PistonTurn {
    /// Turned by hand, nothing touches.
    Clear,
    /// Something touches.
    Touches,
}

/// What must be known before a first start.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Gates {
    /// Blade edge proud of the bore at the closed end, m; negative when it lies back.
    pub proud_closed: Option<Measured>,
    /// Blade edge proud of the bore at the open end, m; negative when it lies back.
    pub proud_open: Option<Measured>,
    /// Full turn of the crank by hand with the valve closed.
    pub turn_closed: Option<PistonTurn>,
    /// Full turn of the crank by hand with the valve fully open.
    pub turn_open: Option<PistonTurn>,
}
