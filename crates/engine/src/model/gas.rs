//! What the gas meets on its way through the engine, and what burns. Only torque and power are computed from it.

use quantity::Measured;
use serde::{Deserialize, Serialize};

/// Everything of it; each part may be missing.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct GasPath {
    /// Pieces of the exhaust from the cylinder wall outwards; empty when it is not described.
    pub pipe: Vec<PipePiece>,
    /// The intake tract.
    pub intake: Option<Intake>,
    /// The reed block.
    pub reed: Option<ReedBlock>,
    /// The carburettor.
    pub carburettor: Option<Carburettor>,
    /// The ducts to the transfer ports.
    pub transfer_duct: Option<TransferDuct>,
    /// Ignition timing.
    pub ignition: Option<Ignition>,
    /// Fuel and mixture.
    pub fuel: Option<Fuel>,
    /// Air of the day.
    pub ambient: Option<Ambient>,
}

/// One piece of the exhaust, straight or conical.
#[derive(Debug, Clone, PartialEq)]
pub struct PipePiece {
    /// Name used in results.
    pub name: String,
    /// Length along its middle line, m.
    pub length: Measured,
    /// Inner diameter at the end nearer to the cylinder, m.
    pub inlet_diameter: Measured,
    /// Inner diameter at the other end, m.
    pub outlet_diameter: Measured,
    /// Temperature of the wall, K.
    pub wall_temperature: Option<Measured>,
    /// All bends of the piece added, rad.
    pub bend: Option<Measured>,
}

/// The intake tract with the carburettor in it.
#[derive(Debug, Clone, PartialEq)]
pub struct Intake {
    /// Mouth to reed block or cylinder wall, m.
    pub length: Measured,
    /// Inner diameter at the mouth, m.
    pub mouth_diameter: Measured,
    /// Inner diameter at the engine's end, m.
    pub inner_diameter: Measured,
    /// Volume of the airbox, m³; free air when there is none.
    pub airbox_volume: Option<Measured>,
    /// Temperature of the wall, K.
    pub wall_temperature: Option<Measured>,
}

/// The ducts from the crankcase to the transfer ports, all together.
#[derive(Debug, Clone, PartialEq)]
pub struct TransferDuct {
    /// Crankcase mouth to port, mean of all, m.
    pub length: Measured,
    /// Area at the crankcase, all added, m².
    pub foot_area: Option<Measured>,
    /// Temperature of the wall, K.
    pub wall_temperature: Option<Measured>,
}

/// What reed petals are made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum ReedMaterial {
    /// Spring steel.
    Steel,
    /// Glass fibre in resin.
    GlassFibre,
    /// Carbon fibre in resin.
    CarbonFibre,
}

impl ReedMaterial {
    /// Modulus of elasticity along the petal, Pa (from memory).
    pub fn modulus_pa(self) -> f64 {
        match self {
            Self::Steel => 207e9,
            Self::GlassFibre => 21.5e9,
            Self::CarbonFibre => 20.8e9,
        }
    }

    /// Density, kg/m³ (from memory).
    pub fn density_kg_m3(self) -> f64 {
        match self {
            Self::Steel => 7800.0,
            Self::GlassFibre => 1850.0,
            Self::CarbonFibre => 1380.0,
        }
    }
}

/// The reed block.
#[derive(Debug, Clone, PartialEq)]
pub struct ReedBlock {
    /// Number of petals.
    pub petals: u32,
    /// What they are made of.
    pub material: ReedMaterial,
    /// Free length of a petal, m.
    pub petal_length: Measured,
    /// Width of a petal, m.
    pub petal_width: Measured,
    /// Thickness of a petal, m.
    pub petal_thickness: Measured,
    /// Seat to stop at the tip, m.
    pub stop_lift: Measured,
    /// All windows under the petals, m².
    pub window_area: Measured,
}

/// Kinds of throttle.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum ThrottleKind {
    /// A slide that is lifted out of the throat.
    Slide,
    /// A plate on a shaft across the throat.
    Butterfly,
}

/// The carburettor.
#[derive(Debug, Clone, PartialEq)]
pub struct Carburettor {
    /// Diameter of the throat, m.
    pub throat_diameter: Measured,
    /// Its throttle.
    pub throttle: ThrottleKind,
    /// How far the throttle is open, 0 to 1; wide open when not given.
    pub opening: Option<Measured>,
}

/// Ignition timing.
#[derive(Debug, Clone, PartialEq)]
pub struct Ignition {
    /// Spark before top dead centre, rad.
    pub advance: Measured,
    /// Speed at which it holds, rad/s.
    pub speed: Option<Measured>,
    /// The later advance (rad before top dead centre) and its higher speed (rad/s).
    pub late: Option<(Measured, Measured)>,
}

impl Ignition {
    /// Spark before top dead centre, rad, at a speed in rad/s: straight between two speeds, held beyond.
    pub fn advance_rad(&self, speed_rad_s: f64) -> f64 {
        let (Some(speed), Some((late, late_speed))) = (&self.speed, &self.late) else {
            return self.advance.value;
        };
        let share = ((speed_rad_s - speed.value) / (late_speed.value - speed.value)).clamp(0.0, 1.0);
        self.advance.value + share * (late.value - self.advance.value)
    }
}

/// Fuel and mixture: petrol, taken as iso-octane.
#[derive(Debug, Clone, PartialEq)]
pub struct Fuel {
    /// Fuel to air over the fuel to air that burns without rest.
    pub equivalence_ratio: Measured,
    /// Share of the trapped fuel that burns.
    pub burned_share: Option<Measured>,
}

/// Air of the day.
#[derive(Debug, Clone, PartialEq)]
pub struct Ambient {
    /// Pressure, Pa.
    pub pressure: Measured,
    /// Temperature, K.
    pub temperature: Measured,
    /// Relative humidity, 0 to 1.
    pub humidity: Measured,
}
