//! Timing alone, without areas: the light way for curves and for uncertainty.

use super::{CrownPath, Edge, GeometryError, Opening};
use crate::geometry_error::{positive_length, signed_length};
use crate::model::{Engine, Port, PortGroup};
use serde::Serialize;

/// When exhaust and transfer open and close at one lift.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Timing {
    /// The exhaust port that opens first.
    pub exhaust: Opening,
    /// Its effective roof below the deck, m.
    pub effective_roof_depth_m: f64,
    /// The transfer or boost port that opens first; none when the engine has none.
    pub transfer: Option<Opening>,
    /// Angle from exhaust opening to the first transfer or boost port opening, rad; negative when that opens first.
    pub blowdown_rad: Option<f64>,
    /// Piston travel from exhaust closing up to top dead centre, m.
    pub effective_stroke_m: f64,
}

/// A port with its edges as depths below the deck, m, and the roof as the valve leaves it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Placed {
    pub(crate) roof_depth_m: f64,
    pub(crate) floor_depth_m: f64,
    pub(crate) effective_roof_depth_m: f64,
    pub(crate) opening: Option<Opening>,
}

/// When exhaust and transfer open and close with the valve edge `lift_m` above its closed position.
///
/// # Errors
/// When crank train or ports are impossible, or no exhaust port opens at this lift.
pub fn timing(engine: &Engine, lift_m: f64) -> Result<Timing, GeometryError> {
    let path = CrownPath::of(&engine.crank)?;
    let edge_m = valve_edge_depth_m(engine, &path, lift_m)?;
    let (effective_roof_depth_m, exhaust) = first_exhaust(engine, &path, edge_m)?;
    let mut transfer: Option<Opening> = None;
    for port in engine.ports.iter().filter(|port| is_transfer(port.group)) {
        transfer = earlier(transfer, place(engine, &path, port, edge_m)?.opening);
    }
    Ok(Timing {
        exhaust,
        effective_roof_depth_m,
        transfer,
        blowdown_rad: transfer.map(|transfer| transfer.opens_rad - exhaust.opens_rad),
        effective_stroke_m: effective_roof_depth_m - path.highest_m(),
    })
}

/// When the exhaust opens and closes (the port that opens first); lighter still.
///
/// # Errors
/// As [`timing`], of the exhaust ports only.
pub fn exhaust_angles(engine: &Engine, lift_m: f64) -> Result<Opening, GeometryError> {
    let path = CrownPath::of(&engine.crank)?;
    let edge_m = valve_edge_depth_m(engine, &path, lift_m)?;
    first_exhaust(engine, &path, edge_m).map(|(_, opening)| opening)
}

/// The valve's level edge below the deck, m; none when the valve covers no port. It lies `closed_drop` less the lift
/// below the roof of the first port that the valve covers, and may lie above that roof (over-travel).
///
/// # Errors
/// When the valve names a port that is not there, or a figure is no number.
pub fn valve_edge_depth_m(
    engine: &Engine,
    path: &CrownPath,
    lift_m: f64,
) -> Result<Option<f64>, GeometryError> {
    let lift_m = signed_length("lift", lift_m)?;
    let mut first = None;
    for name in &engine.valve.covers {
        let port = engine.ports.iter().find(|port| port.name == *name);
        let port = port.ok_or_else(|| GeometryError::UnknownCovered { name: name.clone() })?;
        first = first.or(Some(port));
    }
    let Some(port) = first else { return Ok(None) };
    let closed_drop_m =
        signed_length("drop of the closed valve edge below the port roof", engine.valve.closed_drop.value)?;
    let roof_m = path.edge_depth_m(&port.name, Edge::Roof, &port.roof)?;
    Ok(Some(roof_m + closed_drop_m - lift_m))
}

/// Edges, effective roof and opening of one port.
pub(crate) fn place(
    engine: &Engine,
    path: &CrownPath,
    port: &Port,
    valve_edge_m: Option<f64>,
) -> Result<Placed, GeometryError> {
    let roof_depth_m = path.edge_depth_m(&port.name, Edge::Roof, &port.roof)?;
    let floor_depth_m = path.edge_depth_m(&port.name, Edge::Floor, &port.floor)?;
    let name = || port.name.clone();
    if port.count == 0 {
        return Err(GeometryError::NoneOfThem { port: name() });
    }
    if roof_depth_m >= floor_depth_m {
        return Err(GeometryError::RoofBelowFloor {
            port: name(),
            roof_m: roof_depth_m,
            floor_m: floor_depth_m,
        });
    }
    if port.group == PortGroup::Inlet {
        return place_inlet(engine, path, port, roof_depth_m, floor_depth_m);
    }
    check_passed(path, port, roof_depth_m)?;
    let covered = engine.valve.covers.contains(&port.name);
    let effective_roof_depth_m = match valve_edge_m {
        Some(edge_m) if covered => edge_m.max(roof_depth_m),
        _ => roof_depth_m,
    };
    let opens = effective_roof_depth_m < floor_depth_m.min(path.lowest_m());
    let opening = if opens { Opening::by_crown(path, effective_roof_depth_m) } else { None };
    Ok(Placed { roof_depth_m, floor_depth_m, effective_roof_depth_m, opening })
}

/// The crown must shut the port at top dead centre and open it at bottom dead centre.
fn check_passed(path: &CrownPath, port: &Port, roof_m: f64) -> Result<(), GeometryError> {
    let name = || port.name.clone();
    if roof_m <= path.highest_m() {
        return Err(GeometryError::NeverCloses { port: name(), roof_m, crown_m: path.highest_m() });
    }
    if roof_m >= path.lowest_m() {
        return Err(GeometryError::NeverOpens { port: name(), roof_m, crown_m: path.lowest_m() });
    }
    Ok(())
}

fn place_inlet(
    engine: &Engine,
    path: &CrownPath,
    port: &Port,
    roof_depth_m: f64,
    floor_depth_m: f64,
) -> Result<Placed, GeometryError> {
    let skirt_m = skirt_length_m(engine, port)?;
    let crown_m = floor_depth_m - skirt_m;
    let misfits = |stays_open| GeometryError::SkirtMisfits {
        port: port.name.clone(),
        skirt_m,
        floor_m: floor_depth_m,
        stays_open,
    };
    if crown_m <= path.highest_m() {
        return Err(misfits(false));
    }
    if crown_m >= path.lowest_m() {
        return Err(misfits(true));
    }
    let opening = Opening::by_skirt(path, floor_depth_m, skirt_m);
    Ok(Placed { roof_depth_m, floor_depth_m, effective_roof_depth_m: roof_depth_m, opening })
}

/// Skirt length, m, which an inlet port needs.
pub(crate) fn skirt_length_m(engine: &Engine, port: &Port) -> Result<f64, GeometryError> {
    let skirt = engine.crank.skirt_length.as_ref();
    let skirt = skirt.ok_or_else(|| GeometryError::SkirtMissing { port: port.name.clone() })?;
    positive_length("skirt length", skirt.value)
}

pub(crate) fn is_exhaust(group: PortGroup) -> bool {
    matches!(group, PortGroup::ExhaustMain | PortGroup::ExhaustAuxiliary)
}

pub(crate) fn is_transfer(group: PortGroup) -> bool {
    matches!(group, PortGroup::Transfer | PortGroup::Boost)
}

/// The one that opens earlier.
pub(crate) fn earlier(a: Option<Opening>, b: Option<Opening>) -> Option<Opening> {
    match (a, b) {
        (Some(a), Some(b)) => Some(if b.opens_rad < a.opens_rad { b } else { a }),
        (a, b) => a.or(b),
    }
}

/// No exhaust port opens: why.
pub(crate) fn shut_exhaust(engine: &Engine, valve_edge_m: Option<f64>) -> GeometryError {
    match valve_edge_m {
        Some(edge_m) if engine.ports.iter().any(|port| is_exhaust(port.group)) => {
            GeometryError::ExhaustShut { edge_m }
        }
        _ => GeometryError::NoExhaust,
    }
}

fn first_exhaust(
    engine: &Engine,
    path: &CrownPath,
    edge_m: Option<f64>,
) -> Result<(f64, Opening), GeometryError> {
    let mut first: Option<(f64, Opening)> = None;
    for port in engine.ports.iter().filter(|port| is_exhaust(port.group)) {
        let placed = place(engine, path, port, edge_m)?;
        if let Some(opening) = placed.opening
            && first.is_none_or(|(roof_m, _)| placed.effective_roof_depth_m < roof_m)
        {
            first = Some((placed.effective_roof_depth_m, opening));
        }
    }
    first.ok_or_else(|| shut_exhaust(engine, edge_m))
}

#[cfg(test)]
mod tests;
