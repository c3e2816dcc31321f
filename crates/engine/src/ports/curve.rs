//! Open area by crank angle, for plotting.

use super::{GeometryError, Layout};
use crate::model::Engine;
use serde::Serialize;
use std::f64::consts::TAU;

/// Open flow areas of one cylinder at one crank angle.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct AreaPoint {
    /// Crank angle, rad after top dead centre.
    pub angle_rad: f64,
    /// All exhaust ports, m².
    pub exhaust_m2: f64,
    /// All transfer and boost ports, m².
    pub transfer_m2: f64,
    /// All inlet ports that the skirt opens, m².
    pub inlet_m2: f64,
}

/// Open areas at `points` crank angles evenly spread over one turn, top dead centre at both ends; at least two.
///
/// # Errors
/// When crank train or a port is impossible. A lift at which the exhaust stays shut gives a curve of zeros.
pub fn area_curve(engine: &Engine, lift_m: f64, points: usize) -> Result<Vec<AreaPoint>, GeometryError> {
    let layout = Layout::of(engine, lift_m)?;
    let steps = points.max(2) - 1;
    let at = |i: usize| {
        let angle_rad = TAU * i as f64 / steps as f64;
        AreaPoint {
            angle_rad,
            exhaust_m2: layout.exhaust_area_m2(angle_rad),
            transfer_m2: layout.transfer_area_m2(angle_rad),
            inlet_m2: layout.inlet_area_m2(angle_rad),
        }
    };
    Ok((0..=steps).map(at).collect())
}
