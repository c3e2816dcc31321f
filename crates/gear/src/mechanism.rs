//! The gear as plain numbers, ready to be solved or perturbed.

use engine::model::{Cable, Engine, ReturnSpring};
use serde::{Deserialize, Serialize};

/// How the adjusters stand, as the slack of each wire with the servo at closed park and the valve on its stop pin.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Setting {
    /// Slack of the opening wire, m; negative when the wire is stretched by that much.
    pub opening_slack_m: f64,
    /// Slack of the closing wire, m; negative when wire, sheath, mount and (where there is one) the spring on the
    /// closing adjuster are together taken up by that much.
    pub closing_slack_m: f64,
}

/// Which way the servo, and with it valve and wires, last moved.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Direction {
    /// Towards full travel: the valve opens, friction holds it back.
    Rising,
    /// Towards closed park: the valve closes, friction holds it open.
    Falling,
}

/// One cable in SI numbers.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CableLine {
    /// Groove radius of the servo pulley, to the wire's centre, m, above zero.
    pub servo_radius_m: f64,
    /// Groove radius of the valve pulley, to the wire's centre, m, above zero.
    pub valve_radius_m: f64,
    /// Stiffness of the wire from end to end, N/m.
    pub wire_stiffness_n_per_m: f64,
    /// Stiffness of the sheath against shortening, N/m.
    pub sheath_stiffness_n_per_m: f64,
    /// Sum of the magnitudes of all bends, rad, never negative.
    pub bends_rad: f64,
    /// Friction coefficient of wire in sheath, never negative.
    pub friction: f64,
}

impl CableLine {
    /// The numbers of one cable of an engine file.
    pub fn of(cable: &Cable) -> Self {
        Self {
            servo_radius_m: cable.servo_radius.value,
            valve_radius_m: cable.valve_radius.value,
            wire_stiffness_n_per_m: cable.wire_stiffness.value,
            sheath_stiffness_n_per_m: cable.sheath_stiffness.value,
            bends_rad: cable.bends.value,
            friction: cable.friction.value,
        }
    }

    /// The friction exponent x = friction coefficient times sum of bends.
    pub fn friction_exponent(&self) -> f64 {
        // Past 50 the cable is locked for good; the bound keeps e^x finite. A negative draw of a sampled friction is none.
        (self.friction * self.bends_rad).clamp(0.0, 50.0)
    }
}

/// The return spring in SI numbers.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Spring {
    /// On the valve shaft: closing torque = at_closed + rate·travel.
    Shaft {
        /// Closing torque with the valve on its pin, N·m.
        at_closed_n_m: f64,
        /// Rate, N·m/rad.
        rate_n_m_per_rad: f64,
    },
    /// A compression spring between the closing cable's adjuster and its sheath.
    ClosingAdjuster {
        /// Rate, N/m.
        rate_n_per_m: f64,
        /// Length with no load, m.
        free_length_m: f64,
        /// Length with all coils touching, m.
        solid_length_m: f64,
    },
}

/// Valve gear and servo in SI numbers: everything that does not change when an adjuster is turned.
/// Plain and `Copy`, so that a Monte Carlo run can perturb it field by field.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mechanism {
    /// The cable whose pull opens the valve.
    pub opening: CableLine,
    /// The cable whose pull closes the valve.
    pub closing: CableLine,
    /// The return spring.
    pub spring: Spring,
    /// Friction torque at valve shaft and blade, N·m, never negative.
    pub shaft_friction_n_m: f64,
    /// Stiffness of the servo's mount as each cable feels it on its own, N/m.
    pub mount_stiffness_n_per_m: f64,
    /// Torque of exhaust gas on the valve, N·m, opening positive.
    pub gas_torque_n_m: f64,
    /// Valve travel from the stop pin to the mechanical end, rad; infinite when there is none.
    pub mechanical_end_rad: f64,
    /// Servo travel from closed park to full, rad.
    pub servo_travel_rad: f64,
    /// Stall torque at the servo pulley, N·m.
    pub stall_torque_n_m: f64,
    /// Pitch radius of the servo's last gear wheel, m.
    pub last_gear_radius_m: Option<f64>,
}

impl Mechanism {
    /// The best values of an engine's valve gear and servo.
    pub fn of(engine: &Engine) -> Self {
        let gear = &engine.gear;
        Self {
            opening: CableLine::of(&gear.opening),
            closing: CableLine::of(&gear.closing),
            spring: match &gear.spring {
                ReturnSpring::Shaft { at_closed, rate } => {
                    Spring::Shaft { at_closed_n_m: at_closed.value, rate_n_m_per_rad: rate.value }
                }
                ReturnSpring::ClosingAdjuster { rate, free_length, solid_length } => {
                    Spring::ClosingAdjuster {
                        rate_n_per_m: rate.value,
                        free_length_m: free_length.value,
                        solid_length_m: solid_length.value,
                    }
                }
            },
            shaft_friction_n_m: gear.shaft_friction.value,
            mount_stiffness_n_per_m: gear.mount_stiffness.value,
            gas_torque_n_m: gear.gas_torque.value,
            mechanical_end_rad: engine.valve.mechanical_end.as_ref().map_or(f64::INFINITY, |end| end.value),
            servo_travel_rad: engine.servo.travel.value,
            stall_torque_n_m: engine.servo.stall_torque.value,
            last_gear_radius_m: engine.servo.last_gear_radius.as_ref().map(|radius| radius.value),
        }
    }
}
