//! The engine as plain data: every figure a [`quantity::Measured`] in SI.

mod figures;
mod found;
mod gas;
mod gear;
mod limits;
mod port;
mod valve;

pub use found::{Found, Gates, PistonTurn};
pub use gas::{
    Ambient, Carburettor, Fuel, GasPath, Ignition, Intake, PipePiece, ReedBlock, ReedMaterial, ThrottleKind,
    TransferDuct,
};
pub use gear::{Cable, Gear, ReturnSpring, Servo, Thread, ThreadHand};
pub use limits::{Limit, Limits};
pub use port::{EdgeDatum, Port, PortEdge, PortGroup, WidthMeasure};
pub use valve::{TravelPoint, Valve, ValveKind};

use quantity::Measured;

/// One engine: what was measured of it, with what is assumed where nothing was given.
#[derive(Debug, Clone, PartialEq)]
pub struct Engine {
    /// What the workshop calls it.
    pub name: String,
    /// True for a made-up engine (the demo); shown wherever its figures are.
    pub invented: bool,
    /// Free text: owner, frame, date.
    pub note: Option<String>,
    /// Number of like cylinders, 1 or more.
    pub cylinders: u32,
    /// Crank train.
    pub crank: Crank,
    /// Combustion chamber.
    pub head: Head,
    /// Crankcase volume with the piston at bottom dead centre, m³.
    pub crankcase_volume: Option<Measured>,
    /// Every port, in file order.
    pub ports: Vec<Port>,
    /// The exhaust power valve.
    pub valve: Valve,
    /// What joins valve and actuator.
    pub gear: Gear,
    /// The actuator.
    pub servo: Servo,
    /// When the controller opens the valve.
    pub schedule: Schedule,
    /// Acceptance limits, each with its source.
    pub limits: Limits,
    /// The state before anything is touched.
    pub found: Found,
    /// What must be checked before a first start.
    pub gates: Gates,
    /// Return values of an earlier setting, to be compared with.
    pub returns: Option<Found>,
    /// What the gas meets on its way, and what burns: only torque and power are computed from it.
    pub gas: GasPath,
    /// Stated defaults that stand in for figures that were not given.
    pub assumptions: Vec<Assumption>,
}

/// Crank train of one cylinder.
#[derive(Debug, Clone, PartialEq)]
pub struct Crank {
    /// Cylinder bore diameter, m.
    pub bore: Measured,
    /// Stroke as the maker gives it: twice the crank radius, m.
    pub stroke: Measured,
    /// Connecting rod, centre to centre, m.
    pub rod_length: Measured,
    /// Offset of the bore axis (or piston pin) from the crank centre towards the side where the
    /// crank pin goes down, m; zero for a plain crank train.
    pub pin_offset: Measured,
    /// Crown edge below the deck (top face of the cylinder) at top dead centre, m; negative when it stands proud.
    pub deck_clearance: Measured,
    /// Lower edge of the piston skirt below the crown edge, on the inlet side, m.
    pub skirt_length: Option<Measured>,
}

/// Combustion chamber.
#[derive(Debug, Clone, PartialEq)]
pub struct Head {
    /// Whole volume above the piston at top dead centre, m³.
    pub chamber_volume: Measured,
    /// Gap between squish band and piston at top dead centre, m.
    pub squish_clearance: Option<Measured>,
    /// Diameter at which the squish band ends inwards, m.
    pub squish_inner_diameter: Option<Measured>,
}

/// Commanded travel by engine speed.
#[derive(Debug, Clone, PartialEq)]
pub struct Schedule {
    /// Engine speed at which the controller begins to open the valve, rad/s.
    pub opening_speed: Measured,
    /// Engine speed at which full travel is commanded, rad/s.
    pub full_open_speed: Measured,
    /// Largest actuator travel commanded anywhere below the opening speed, rad.
    pub park_travel: Measured,
}

/// A stated default that stands in for a figure that was not given.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Assumption {
    /// Key in the engine file, e.g. `crank.pin_offset`.
    pub key: String,
    /// The default in words, with its unit and uncertainty.
    pub text: String,
    /// What giving the figure would buy.
    pub cost: String,
}
