//! A value with its standard uncertainty and the words it was written in.

use crate::Dimension;
use serde::{Deserialize, Serialize};

/// How the possible values of a quantity spread round the stated one (JCGM 100:2008, 4.3).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Shape {
    /// Limits ±a and nothing known between them: u = a/√3.
    Rectangular,
    /// Bell-shaped, stated as a standard or expanded uncertainty.
    Normal,
}

/// A quantity in SI with its standard uncertainty.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Measured {
    /// Best value, in the SI unit of [`Measured::dimension`].
    pub value: f64,
    /// Standard uncertainty in the same unit, never negative; zero for an exact figure.
    pub u: f64,
    /// Shape of the spread that `u` summarises.
    pub shape: Shape,
    /// What kind of quantity it is.
    pub dimension: Dimension,
    /// The text it was read from, kept so that nothing is lost by showing other units.
    pub written: Option<String>,
}

impl Measured {
    /// An exact figure, in SI.
    pub fn exact(value: f64, dimension: Dimension) -> Self {
        Self { value, u: 0.0, shape: Shape::Rectangular, dimension, written: None }
    }

    /// A figure with limits ±`half_width` (rectangular), in SI.
    pub fn within(value: f64, half_width: f64, dimension: Dimension) -> Self {
        Self { u: half_width.abs() / 3f64.sqrt(), ..Self::exact(value, dimension) }
    }

    /// A figure with standard uncertainty `u` (normal), in SI.
    pub fn normal(value: f64, u: f64, dimension: Dimension) -> Self {
        Self { u: u.abs(), shape: Shape::Normal, ..Self::exact(value, dimension) }
    }
}

impl Measured {
    /// Expanded uncertainty 2u (k = 2, about 95 % for a bell shape), in the unit of the value.
    pub fn expanded(&self) -> f64 {
        2.0 * self.u
    }

    /// Where the figure comes from, for a list of measurements: "as written: 10.2 ± 0.1 mm".
    pub fn describe_origin(&self) -> String {
        match &self.written {
            Some(text) => format!("as written: {text}"),
            None if self.u == 0.0 => "set here, taken as exact".to_owned(),
            None => "computed or assumed here".to_owned(),
        }
    }
}
