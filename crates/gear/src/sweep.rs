//! The travel curve: the servo up from closed park to full and back.

use crate::regime::Regime;
use crate::{Direction, Mechanism, Setting, State};
use serde::Serialize;

/// The gear at one servo travel of a sweep.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct SweepPoint {
    /// Servo travel, rad.
    pub servo_travel_rad: f64,
    /// On the way up.
    pub rising: State,
    /// On the way back, friction fully developed.
    pub falling: State,
    /// Valve travel on the way back from full, rad. Just after the servo turns round the valve stays where rising
    /// travel has left it, until the falling balance comes down to that place.
    pub returning_valve_rad: f64,
}

/// Valve travel against servo travel, both ways.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Sweep {
    /// Points from closed park to full, evenly spaced in servo travel.
    pub points: Vec<SweepPoint>,
}

impl Mechanism {
    /// The travel curve at `count` evenly spaced servo travels (at least two are taken).
    pub fn sweep(&self, setting: Setting, count: usize) -> Sweep {
        let steps = count.max(2) - 1;
        let (up, down) = (Regime::new(self, Direction::Rising), Regime::new(self, Direction::Falling));
        let highest_rad = up.solve(setting, self.servo_travel_rad).valve_travel_rad;
        let points = (0..=steps)
            .map(|step| {
                let servo_travel_rad = self.servo_travel_rad * (step as f64 / steps as f64);
                let rising = up.solve(setting, servo_travel_rad);
                let falling = down.solve(setting, servo_travel_rad);
                let held = falling.valve_travel_rad > highest_rad;
                let returning_valve_rad = if held { highest_rad } else { falling.valve_travel_rad };
                SweepPoint { servo_travel_rad, rising, falling, returning_valve_rad }
            })
            .collect();
        Sweep { points }
    }
}
