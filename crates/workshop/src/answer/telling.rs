//! What every part of the answer needs: the engine, the computed setting, the units and a few ways to write figures.

use crate::report::Figure;
use crate::setting::solution::Solution;
use crate::setting::spread::Band;
use engine::model::{Engine, PortGroup};
use engine::ports::CrownPath;
use quantity::{Dimension, Measured, Units};

/// The engine, its computed setting and the units they are told in.
pub(crate) struct Telling<'a> {
    pub(crate) engine: &'a Engine,
    pub(crate) solution: &'a Solution,
    pub(crate) units: Units,
    /// Depth of the port roof that the valve moves, below the deck, and the way of the crown.
    pub(crate) roof: Option<Roof>,
}

/// The exhaust port's roof against the piston.
#[derive(Debug, Clone)]
pub(crate) struct Roof {
    pub(crate) crown: CrownPath,
    pub(crate) depth_m: f64,
}

impl Roof {
    /// The first port that the valve covers, else the first main exhaust port.
    fn of(engine: &Engine) -> Option<Self> {
        let port = engine
            .ports
            .iter()
            .find(|port| engine.valve.covers.contains(&port.name))
            .or_else(|| engine.ports.iter().find(|port| port.group == PortGroup::ExhaustMain))?;
        let crown = CrownPath::of(&engine.crank).ok()?;
        let depth_m = crown.edge_depth_m(&port.name, engine::ports::Edge::Roof, &port.roof).ok()?;
        Some(Self { crown, depth_m })
    }

    /// Crank angle after top dead centre at which the piston uncovers an edge `below_roof_m` below the port roof, rad.
    pub(crate) fn opens_rad(&self, below_roof_m: f64) -> Option<f64> {
        self.crown.angle_going_down_rad(self.depth_m + below_roof_m)
    }

    /// Crank degrees of opening per millimetre of edge height, local to an edge `below_roof_m` below the port roof.
    pub(crate) fn degrees_per_mm(&self, below_roof_m: f64) -> Option<f64> {
        const STEP_M: f64 = 1e-5;
        let later = self.opens_rad(below_roof_m + STEP_M)?;
        let earlier = self.opens_rad(below_roof_m - STEP_M)?;
        Some((later - earlier).to_degrees() / (2.0 * STEP_M * 1e3))
    }
}

impl<'a> Telling<'a> {
    pub(crate) fn new(engine: &'a Engine, solution: &'a Solution, units: Units) -> Self {
        Self { engine, solution, units, roof: Roof::of(engine) }
    }

    /// A length, two decimals of a millimetre or three of an inch.
    pub(crate) fn length(&self, si: f64) -> String {
        let decimals = match self.units {
            Units::Metric => 2,
            Units::Inch => 3,
        };
        quantity::show_with(si, decimals, Dimension::Length, self.units)
    }

    /// A length with one decimal more, for small bands.
    pub(crate) fn fine(&self, si: f64) -> String {
        let decimals = match self.units {
            Units::Metric => 3,
            Units::Inch => 4,
        };
        quantity::show_with(si, decimals, Dimension::Length, self.units)
    }

    /// A length that is meant as "this much", without sign.
    pub(crate) fn amount(&self, si: f64) -> String {
        self.length(si.abs())
    }

    /// A value of another kind in sensible digits.
    pub(crate) fn value(&self, si: f64, dimension: Dimension) -> String {
        quantity::show_value(si, dimension, self.units)
    }

    /// A figure with a normal spread.
    pub(crate) fn figure(&self, value: f64, u: f64, dimension: Dimension) -> Figure {
        Figure::of(&Measured::normal(value, u, dimension), self.units)
    }

    /// A length from its spread.
    pub(crate) fn band(&self, band: &Band) -> Figure {
        self.figure(band.best, band.u, Dimension::Length)
    }

    /// Degrees per millimetre at the effective roof, local; zero when no port is given.
    pub(crate) fn degrees_per_mm(&self, below_roof_m: f64) -> f64 {
        self.roof.as_ref().and_then(|roof| roof.degrees_per_mm(below_roof_m)).unwrap_or(0.0)
    }
}

/// A probability in words that do not promise more than the draws can show.
pub(crate) fn percent(share: f64) -> String {
    if share > 0.995 {
        "over 99 %".to_owned()
    } else if share < 0.005 {
        "under 1 %".to_owned()
    } else {
        format!("{:.0} %", share * 100.0)
    }
}
