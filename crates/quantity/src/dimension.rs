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
    /// Power, SI unit W.
    Power,
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

impl Dimension {
    /// Every dimension, in the order of the list above.
    pub const ALL: [Dimension; 18] = [
        Self::Length,
        Self::Angle,
        Self::Area,
        Self::Volume,
        Self::Force,
        Self::Torque,
        Self::Power,
        Self::Stiffness,
        Self::TorsionRate,
        Self::Resistance,
        Self::Voltage,
        Self::Current,
        Self::Speed,
        Self::Pressure,
        Self::Temperature,
        Self::Time,
        Self::Mass,
        Self::Number,
    ];

    /// The dimension with its article, as it stands in a sentence: "a length", "an angle".
    pub fn noun(self) -> &'static str {
        match self {
            Self::Length => "a length",
            Self::Angle => "an angle",
            Self::Area => "an area",
            Self::Volume => "a volume",
            Self::Force => "a force",
            Self::Torque => "a torque",
            Self::Power => "a power",
            Self::Stiffness => "a stiffness",
            Self::TorsionRate => "the rate of a torsion spring",
            Self::Resistance => "a resistance",
            Self::Voltage => "a voltage",
            Self::Current => "a current",
            Self::Speed => "a rotational speed",
            Self::Pressure => "a pressure",
            Self::Temperature => "a temperature",
            Self::Time => "a time",
            Self::Mass => "a mass",
            Self::Number => "a plain number",
        }
    }

    /// The dimension without its article: "length", "angle".
    pub fn name(self) -> &'static str {
        self.noun().split_once(' ').map_or("", |(_, name)| name)
    }

    /// The unit to use in examples.
    pub(crate) fn first_unit(self) -> &'static str {
        self.usual_units().split([',', ' ']).next().unwrap_or("")
    }

    /// The units to offer when one is missing or wrong, the most usual first.
    pub fn usual_units(self) -> &'static str {
        match self {
            Self::Length => "mm, cm, m, µm, in or thou",
            Self::Angle => "°, rad or turns",
            Self::Area => "mm², cm² or in²",
            Self::Volume => "cm³, cc, ml, l or in³",
            Self::Force => "N, kN, kgf, gf or lbf",
            Self::Torque => "N·m, N·mm, kgf·cm, kgf·m, lbf·ft or lbf·in",
            Self::Power => "kW, W, hp or PS",
            Self::Stiffness => "N/mm, N/m, kgf/mm or lbf/in",
            Self::TorsionRate => "N·m/rad, N·m/deg, N·mm/deg or lbf·in/deg",
            Self::Resistance => "Ω, kΩ or MΩ",
            Self::Voltage => "V or mV",
            Self::Current => "A or mA",
            Self::Speed => "rpm or rad/s",
            Self::Pressure => "kPa, bar, mbar, MPa, Pa, psi, mmHg or inHg",
            Self::Temperature => "°C, °F or K",
            Self::Time => "ms, s, µs, min or h",
            Self::Mass => "g, kg, oz or lb",
            Self::Number => "no unit, or %",
        }
    }

    /// A correctly written example of the dimension.
    pub fn example(self) -> &'static str {
        match self {
            Self::Length => "10.2 ± 0.1 mm",
            Self::Angle => "92.5 ± 0.5°",
            Self::Area => "7.5 cm²",
            Self::Volume => "124.6 cm³",
            Self::Force => "25 ± 1 N",
            Self::Torque => "0.35 N·m",
            Self::Power => "14.2 kW",
            Self::Stiffness => "2.4 N/mm",
            Self::TorsionRate => "0.12 N·m/rad",
            Self::Resistance => "4.86 kΩ",
            Self::Voltage => "12.6 V",
            Self::Current => "0.8 A",
            Self::Speed => "6000 rpm",
            Self::Pressure => "101.3 kPa",
            Self::Temperature => "20 ± 2 °C",
            Self::Time => "15 ms",
            Self::Mass => "12.4 g",
            Self::Number => "0.12 ± 0.02",
        }
    }
}
