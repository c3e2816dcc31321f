//! What joins valve and actuator, and the actuator itself.

use quantity::Measured;
use serde::{Deserialize, Serialize};

/// Hand of a thread.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum ThreadHand {
    /// Turning clockwise, seen from the head, screws in.
    Right,
    /// Turning clockwise, seen from the head, screws out.
    Left,
}

/// Thread of an adjuster.
#[derive(Debug, Clone, PartialEq)]
pub struct Thread {
    /// Designation as written, e.g. "M6 x 1".
    pub designation: Option<String>,
    /// Pitch: axial travel for one turn, m.
    pub pitch: Measured,
    /// Hand.
    pub hand: ThreadHand,
}

/// One pull cable: wire in a sheath with an adjuster at the valve end.
#[derive(Debug, Clone, PartialEq)]
pub struct Cable {
    /// Groove radius of the servo pulley for this cable (to the wire's centre), m.
    pub servo_radius: Measured,
    /// Groove radius of the valve pulley for this cable (to the wire's centre), m.
    pub valve_radius: Measured,
    /// Adjuster thread. Screwing the adjuster out of its bracket moves the sheath end away from the
    /// pulley: the gap grows and slack is taken up.
    pub thread: Thread,
    /// Stiffness of the wire, end to end, N/m.
    pub wire_stiffness: Measured,
    /// Stiffness of the sheath against shortening, N/m.
    pub sheath_stiffness: Measured,
    /// Sum of the magnitudes of all bends along the sheath, rad.
    pub bends: Measured,
    /// Friction coefficient of wire in sheath.
    pub friction: Measured,
}

/// The return (closing) spring.
#[derive(Debug, Clone, PartialEq)]
pub enum ReturnSpring {
    /// On the valve shaft: torque = at_closed + rate·travel, always closing.
    Shaft {
        /// Torque with the valve on its stop pin, N·m.
        at_closed: Measured,
        /// Rate, N·m/rad.
        rate: Measured,
    },
    /// A compression spring between the closing cable's adjuster and the closing sheath's end. The adjuster moves its
    /// seat: screwing out compresses it, pulls the closing wire tighter and so pulls the valve closed.
    ClosingAdjuster {
        /// Rate, N/m.
        rate: Measured,
        /// Length with no load, m.
        free_length: Measured,
        /// Length with all coils touching, m; from there on the closing wire is taut.
        solid_length: Measured,
    },
}

/// The gear between actuator and valve.
#[derive(Debug, Clone, PartialEq)]
pub struct Gear {
    /// The cable whose pull opens the valve.
    pub opening: Cable,
    /// The cable whose pull closes the valve.
    pub closing: Cable,
    /// The return spring.
    pub spring: ReturnSpring,
    /// Friction torque at the valve shaft and blade, N·m, never negative.
    pub shaft_friction: Measured,
    /// Stiffness of the actuator's mount as a cable feels it, N/m.
    pub mount_stiffness: Measured,
    /// Torque of exhaust gas on the valve, N·m, opening positive.
    pub gas_torque: Measured,
    /// Clockwise turn of the valve pulley opens the valve, seen from `seen_from`.
    pub opens_clockwise: bool,
    /// From where directions of turning are seen, e.g. "the left side of the machine, looking at the pulley".
    pub seen_from: String,
    /// From where the adjusters' turning is seen.
    pub adjuster_seen_from: String,
    /// Distance across which the pulley's witness mark is read, from the shaft centre, m.
    pub mark_radius: Option<Measured>,
}

/// A servo with a position sensor and one pulley for both cables.
#[derive(Debug, Clone, PartialEq)]
pub struct Servo {
    /// Pulley travel from closed park to full open, rad.
    pub travel: Measured,
    /// Stall torque at the pulley, N·m.
    pub stall_torque: Measured,
    /// Reduction, motor turns per pulley turn.
    pub reduction: Measured,
    /// Pitch radius of the last gear wheel, m: tooth load = pulley torque / this.
    pub last_gear_radius: Option<Measured>,
    /// Sensor reading at closed park, Ω.
    pub sensor_closed: Option<Measured>,
    /// Sensor reading at full open, Ω.
    pub sensor_open: Option<Measured>,
    /// The servo's pulley also works an oil pump.
    pub works_oil_pump: bool,
}
