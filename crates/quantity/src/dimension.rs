//! The kinds of quantity a workshop writes down.

use serde::{Deserialize, Serialize};

/// A kind of quantity. It decides which units a figure may carry and how it is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Dimension {
    /// Length, SI unit m.
    Length,
    /// Angle, SI unit rad. Degrees and turns are units of it.
    Angle,
    /// Area, SI unit m².
    Area,
    /// Volume, SI unit m³.
    Volume,
    /// Force, SI unit N.
    Force,
    /// Torque, SI unit N·m.
    Torque,
    /// Stiffness of a wire, sheath or compression spring, SI unit N/m.
    Stiffness,
    /// Rate of a torsion spring, SI unit N·m/rad.
    TorsionRate,
    /// Electrical resistance, SI unit Ω.
    Resistance,
    /// Voltage, SI unit V.
    Voltage,
    /// Current, SI unit A.
    Current,
    /// Rotational speed, SI unit rad/s; written in rpm.
    Speed,
    /// Pressure, SI unit Pa.
    Pressure,
    /// Temperature, SI unit K; written in °C or °F.
    Temperature,
    /// Time, SI unit s.
    Time,
    /// Mass, SI unit kg.
    Mass,
    /// A plain number (ratio, friction coefficient), no unit; per cent is allowed.
    Number,
}
