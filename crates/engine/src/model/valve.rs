//! The valve: from valve-pulley angle to edge height.

use quantity::Measured;

/// The exhaust power valve.
#[derive(Debug, Clone, PartialEq)]
pub struct Valve {
    /// Its kind and shape.
    pub kind: ValveKind,
    /// How far the closed valve edge lies below the port roof, along the cylinder axis, m.
    pub closed_drop: Measured,
    /// Names of the ports whose roof the valve moves.
    pub covers: Vec<String>,
    /// Pulley angle from the stop pin at which the valve meets its mechanical end, rad.
    pub mechanical_end: Option<Measured>,
}

/// Kinds of valve. Travel is the angle of the valve pulley from its stop pin, opening positive.
#[derive(Debug, Clone, PartialEq)]
pub enum ValveKind {
    /// A blade that slides along a line; an arm on the pulley shaft drives it.
    /// Blade travel = arm·(sin(start + travel) − sin(start)); lift = blade travel·cos(slide angle).
    Blade {
        /// Angle between the direction of sliding and the cylinder axis, rad.
        slide_angle: Measured,
        /// Arm length from shaft centre to drive pin, m.
        arm: Measured,
        /// Angle of the arm from its square position (arm at right angles to the blade) when closed, rad; negative before it.
        arm_start: Measured,
    },
    /// A flap on a pivot. Lift = radius·(sin(start + travel·ratio) − sin(start)).
    Flap {
        /// Pivot to edge, m.
        radius: Measured,
        /// Angle of the line pivot to edge above the level through the pivot (square to the cylinder axis) when closed, rad; negative below.
        start: Measured,
        /// Flap angle per pulley angle.
        ratio: Measured,
    },
    /// A drum cut away at its edge, turning in the port roof; same law as the flap with the drum radius.
    Drum {
        /// Drum radius to the edge, m.
        radius: Measured,
        /// Angle of the edge above the level through the drum axis when closed, rad; negative below.
        start: Measured,
        /// Drum angle per pulley angle.
        ratio: Measured,
    },
    /// Measured points, the first at travel zero and lift zero, both rising.
    Table {
        /// The points.
        points: Vec<TravelPoint>,
    },
}

/// One measured point of a valve.
#[derive(Debug, Clone, PartialEq)]
pub struct TravelPoint {
    /// Pulley angle from the stop pin, rad.
    pub travel: Measured,
    /// Edge above its closed position along the cylinder axis, m.
    pub lift: Measured,
}
