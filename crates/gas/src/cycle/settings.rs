//! How a run is made: grid, closures, when it counts as settled.

use crate::loss::Fmep;
use crate::reed::ReedMotion;
use crate::vessel::{BurnLaw, Scavenging, WallHeat};

/// How the reed's petals follow the pressure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ReedChoice {
    /// At once: the lift that the pressure holds.
    QuasiSteady,
    /// As swinging masses with a tenth of critical damping, see [`ReedMotion::ESTIMATE`]. Petals softer than the speed asks
    /// for then bounce and swing with twice the period of the engine or without any: such a run ends without a figure.
    Swinging,
}

impl ReedChoice {
    pub(crate) fn motion(self) -> ReedMotion {
        match self {
            Self::Swinging => ReedMotion::ESTIMATE,
            Self::QuasiSteady => ReedMotion::QuasiSteady,
        }
    }
}

/// What leaves the cylinder while it is scavenged.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ScavengingChoice {
    /// [`Scavenging::LOOP_ESTIMATE`].
    LoopEstimate,
    /// Nothing fresh leaves until all burned gas has: the upper bound.
    PerfectDisplacement,
    /// What leaves is what is in.
    PerfectMixing,
    /// A model of one's own.
    Model(Scavenging),
}

impl ScavengingChoice {
    pub(crate) fn model(self) -> Scavenging {
        match self {
            Self::LoopEstimate => Scavenging::LOOP_ESTIMATE,
            Self::PerfectDisplacement => Scavenging::PerfectDisplacement,
            Self::PerfectMixing => Scavenging::PerfectMixing,
            Self::Model(model) => model,
        }
    }
}

/// Which duct a place is in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Tract {
    /// From the cylinder wall to the tail.
    Exhaust,
    /// From the mouth to the reed block.
    Intake,
    /// From the crankcase to the transfer ports.
    Transfer,
}

/// A place in a duct at which the pressure is recorded.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Probe {
    /// Which duct.
    pub tract: Tract,
    /// From its beginning along the middle line, m; beyond its end the end is taken.
    pub distance_m: f64,
}

/// How a run is made. [`Settings::default`] is what the stated accuracy holds for.
#[derive(Debug, Clone, PartialEq)]
pub struct Settings {
    /// Length of a cell that is aimed at, m, 0.002 to 0.05; sections are cut into whole cells. In the transfer ducts it is
    /// [`Self::TRANSFER_SHARE`] of this at most and shrinks towards the port: how far burned gas gets into them matters. In
    /// the intake, where waves are weak, it is [`Self::INTAKE_SHARE`] of it.
    pub cell_length_m: f64,
    /// Throttle: 0 shut to 1 wide open; none takes the engine file's.
    pub throttle: Option<f64>,
    /// The reed.
    pub reed: ReedChoice,
    /// Scavenging.
    pub scavenging: ScavengingChoice,
    /// Heat from the cylinder's gas to its walls; none for none.
    pub wall_heat: Option<WallHeat>,
    /// Mean temperature of the walls round the cylinder's gas, K.
    pub cylinder_wall_k: f64,
    /// How start and duration of burning follow speed and residual gas.
    pub burn: BurnLaw,
    /// False leaves the spark out: a motored engine.
    pub fired: bool,
    /// Friction of the moving parts.
    pub friction: Fmep,
    /// Area of the gap past the blade of a valve that is not fully open, m².
    pub leak_m2: f64,
    /// Friction and heat along the walls of the ducts.
    pub duct_walls: bool,
    /// Whether what is still to come down the pipe is put there at once (`docs/model.md`, 27). Without it the same cycle is
    /// reached in about twice the turns: to check the one by the other.
    pub carry: bool,
    /// Most cycles before a run is given up, 3 or more.
    pub most_cycles: usize,
    /// A lane has settled when what a cycle still changes is below this, see [`super::Change`].
    pub tolerance: f64,
    /// Places at which the pressure is recorded, besides cylinder, crankcase and exhaust port.
    pub probes: Vec<Probe>,
}

impl Settings {
    /// Length of a cell in the transfer ducts over that in the exhaust, at most.
    pub const TRANSFER_SHARE: f64 = 0.5;
    /// Length of the cell at a transfer port over that in the exhaust, and by how much cells grow from there.
    pub const PORT_SHARE: f64 = 0.25;
    /// See [`Self::PORT_SHARE`].
    pub const PORT_GROWTH: f64 = 1.25;
    /// Length of a cell in the intake over that in the exhaust.
    pub const INTAKE_SHARE: f64 = 1.0;
}

impl Default for Settings {
    fn default() -> Self {
        Self {
            cell_length_m: 0.012,
            throttle: None,
            reed: ReedChoice::QuasiSteady,
            scavenging: ScavengingChoice::LoopEstimate,
            wall_heat: Some(WallHeat::Annand { a: 0.5, radiation: 0.075 }),
            cylinder_wall_k: 450.0,
            burn: BurnLaw::estimate(),
            fired: true,
            friction: Fmep::RollingBearings,
            leak_m2: 2e-6,
            duct_walls: true,
            carry: true,
            most_cycles: 80,
            tolerance: 2e-3,
            probes: Vec::new(),
        }
    }
}
