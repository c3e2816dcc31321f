//! Ports in the cylinder wall.

use quantity::Measured;
use serde::{Deserialize, Serialize};

/// What a port is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum PortGroup {
    /// The exhaust port whose roof the valve moves.
    ExhaustMain,
    /// A further exhaust port (side port) that the valve may or may not cover.
    ExhaustAuxiliary,
    /// A transfer port.
    Transfer,
    /// A boost (rear transfer) port.
    Boost,
    /// An inlet port that the piston skirt opens.
    Inlet,
}

/// How the width was taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum WidthMeasure {
    /// Straight across, edge to edge (calliper).
    Chord,
    /// Along the bore wall (paper rubbing laid flat).
    Arc,
}

/// Where an edge was measured from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum EdgeDatum {
    /// Length from the deck (top face of the cylinder) down to the edge.
    BelowDeck,
    /// Length from the crown edge at bottom dead centre up to the edge.
    AboveCrownAtBdc,
    /// Crank angle after top dead centre at which the crown edge meets the edge going down, rad.
    AfterTdc,
    /// Crank angle before bottom dead centre at which the crown edge meets the edge going down, rad.
    BeforeBdc,
    /// Whole open duration in crank angle, rad (symmetric about bottom dead centre when there is no pin offset).
    Duration,
}

/// A port edge as it was measured.
#[derive(Debug, Clone, PartialEq)]
pub struct PortEdge {
    /// Where it was measured from.
    pub datum: EdgeDatum,
    /// Length in m or angle in rad, by the datum.
    pub at: Measured,
}

/// One port, or `count` like ones.
#[derive(Debug, Clone, PartialEq)]
pub struct Port {
    /// Name used in the file and in results, e.g. "main transfer".
    pub name: String,
    /// What it is for.
    pub group: PortGroup,
    /// How many like this in one cylinder.
    pub count: u32,
    /// Width as taken, m.
    pub width: Measured,
    /// How the width was taken.
    pub width_measure: WidthMeasure,
    /// Roof (upper edge), at its highest point when the roof is tilted.
    pub roof: PortEdge,
    /// Floor (lower edge).
    pub floor: PortEdge,
    /// Radius of the two upper corners, m.
    pub roof_radius: Measured,
    /// Radius of the two lower corners, m.
    pub floor_radius: Measured,
    /// Tilt of the roof line across the width, rad; zero when level.
    pub roof_tilt: Measured,
    /// Angle between the duct axis and the normal of the bore wall, rad; the flow area is the wall area times its cosine.
    pub duct_angle: Measured,
}
