//! What the solved balance says.

use crate::Direction;
use serde::Serialize;

/// The gear at rest at one servo travel. Angles in rad from closed park (servo) and from the stop pin (valve), opening
/// positive; tensions in N, never negative; torques in N·m.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct State {
    /// Direction in which the servo last moved.
    pub direction: Direction,
    /// Servo travel, rad.
    pub servo_travel_rad: f64,
    /// Valve travel, rad.
    pub valve_travel_rad: f64,
    /// Take-up of the opening cable, m: above zero stretched, below zero slack by that much.
    pub opening_stretch_m: f64,
    /// Take-up of the closing cable (its spring included), m: above zero loaded, below zero slack by that much.
    pub closing_stretch_m: f64,
    /// Opening wire tension at the valve pulley, N.
    pub opening_tension_valve_n: f64,
    /// Opening wire tension at the servo pulley, N.
    pub opening_tension_servo_n: f64,
    /// Closing wire tension at the valve pulley, N.
    pub closing_tension_valve_n: f64,
    /// Closing wire tension at the servo pulley, N.
    pub closing_tension_servo_n: f64,
    /// Closing torque of a spring on the valve shaft, N·m; zero for a spring on the adjuster.
    pub spring_torque_n_m: f64,
    /// Friction torque at the valve shaft as it acts, N·m, opening positive. On a stop it is what the balance leaves
    /// to it, within the band.
    pub friction_torque_n_m: f64,
    /// Torque with which the valve surely rests on its stop pin, N·m: closing less opening torque less all friction.
    /// Zero off the pin, and on it while only friction holds the valve.
    pub pin_torque_n_m: f64,
    /// Torque with which the valve surely presses on its mechanical end, N·m, counted likewise.
    pub end_torque_n_m: f64,
    /// Torque the servo must give, N·m: positive when it drives in its opening direction.
    pub servo_torque_n_m: f64,
    /// Stall torque over the magnitude of the servo torque; infinite without load.
    pub torque_margin: f64,
    /// Load on a tooth of the servo's last gear, N, when its radius is known.
    pub tooth_load_n: Option<f64>,
    /// Compression of the spring on the closing adjuster, m.
    pub spring_compression_m: Option<f64>,
    /// Travel that spring has left before its coils touch, m.
    pub spring_left_m: Option<f64>,
    /// The opening wire carries nothing.
    pub opening_wire_slack: bool,
    /// The closing wire carries nothing; a spring on its adjuster is unseated.
    pub closing_wire_slack: bool,
    /// The closing wire is taut: the spring on its adjuster is solid, or (spring on the shaft) it carries any load.
    pub closing_wire_taut: bool,
    /// The valve stands on its stop pin.
    pub on_pin: bool,
    /// The valve stands on its mechanical end.
    pub on_end: bool,
    /// Nothing holds the valve against the torque that opens it; its travel is then not determined.
    pub unrestrained: bool,
}
