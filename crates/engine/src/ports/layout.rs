//! All ports of an engine at one lift, ready for areas.

use super::timing::{Placed, is_exhaust, is_transfer, place, skirt_length_m, valve_edge_depth_m};
use super::{AngleArea, CrownPath, GeometryError, OutlineShape, PortOutline, arc_of_chord_m};
use crate::geometry_error::number;
use crate::model::{Engine, Port, PortGroup, WidthMeasure};
use std::f64::consts::PI;

/// The ports of one engine with the valve at one lift: asks cheap enough for a page that follows a slider.
#[derive(Debug, Clone)]
pub struct Layout<'a> {
    pub(crate) path: CrownPath,
    pub(crate) valve_edge_depth_m: Option<f64>,
    pub(crate) ports: Vec<LaidOut<'a>>,
}

/// One port in its place.
#[derive(Debug, Clone)]
pub(crate) struct LaidOut<'a> {
    pub(crate) port: &'a Port,
    pub(crate) placed: Placed,
    pub(crate) outline: PortOutline,
    /// Skirt length of an inlet port, m; zero for the others.
    skirt_m: f64,
}

impl<'a> Layout<'a> {
    /// Places every port of `engine` with the valve edge `lift_m` above its closed position.
    ///
    /// # Errors
    /// When crank train or a port is impossible; a lift at which the exhaust stays shut is no error here.
    pub fn of(engine: &'a Engine, lift_m: f64) -> Result<Self, GeometryError> {
        let path = CrownPath::of(&engine.crank)?;
        let valve_edge_depth_m = valve_edge_depth_m(engine, &path, lift_m)?;
        let lay_out = |port| LaidOut::of(engine, &path, port, valve_edge_depth_m);
        let ports = engine.ports.iter().map(lay_out).collect::<Result<_, _>>()?;
        Ok(Self { path, valve_edge_depth_m, ports })
    }

    /// Crown edge by crank angle.
    pub fn path(&self) -> &CrownPath {
        &self.path
    }

    /// Open flow area of all exhaust ports of one cylinder, m², at an angle after top dead centre.
    pub fn exhaust_area_m2(&self, angle_rad: f64) -> f64 {
        self.area_m2(angle_rad, is_exhaust)
    }

    /// Open flow area of all transfer and boost ports of one cylinder, m², at an angle after top dead centre.
    pub fn transfer_area_m2(&self, angle_rad: f64) -> f64 {
        self.area_m2(angle_rad, is_transfer)
    }

    /// Open flow area of all inlet ports of one cylinder, m², at an angle after top dead centre.
    pub fn inlet_area_m2(&self, angle_rad: f64) -> f64 {
        self.area_m2(angle_rad, |group| group == PortGroup::Inlet)
    }

    fn area_m2(&self, angle_rad: f64, chosen: impl Fn(PortGroup) -> bool) -> f64 {
        let crown_m = self.path.depth_m(angle_rad);
        self.ports.iter().filter(|laid| chosen(laid.port.group)).map(|laid| laid.open_area_m2(crown_m)).sum()
    }
}

impl<'a> LaidOut<'a> {
    fn of(
        engine: &Engine,
        path: &CrownPath,
        port: &'a Port,
        valve_edge_m: Option<f64>,
    ) -> Result<Self, GeometryError> {
        let placed = place(engine, path, port, valve_edge_m)?;
        let skirt_m = if port.group == PortGroup::Inlet { skirt_length_m(engine, port)? } else { 0.0 };
        let shape = OutlineShape {
            roof_depth_m: placed.roof_depth_m,
            floor_depth_m: placed.floor_depth_m,
            width_m: arc_width_m(port, engine.crank.bore.value)?,
            roof_radius_m: port.roof_radius.value,
            floor_radius_m: port.floor_radius.value,
            roof_tilt_rad: port.roof_tilt.value,
            duct_angle_rad: port.duct_angle.value,
        };
        Ok(Self { port, placed, outline: PortOutline::new(&port.name, shape)?, skirt_m })
    }

    /// Open flow area of all `count`, m², with the crown edge at a depth.
    pub(crate) fn open_area_m2(&self, crown_m: f64) -> f64 {
        let one_m2 = if self.port.group == PortGroup::Inlet {
            self.outline.area_below_skirt_m2(crown_m + self.skirt_m)
        } else {
            self.outline.open_area_m2(crown_m, self.placed.effective_roof_depth_m)
        };
        one_m2 * f64::from(self.port.count)
    }

    /// Crown edge at the place where the port is widest open: bottom dead centre, for an inlet port top dead centre.
    pub(crate) fn widest_crown_m(&self, path: &CrownPath) -> f64 {
        if self.port.group == PortGroup::Inlet { path.highest_m() } else { path.lowest_m() }
    }

    /// Height that is open there, m.
    pub(crate) fn open_height_m(&self, path: &CrownPath) -> f64 {
        let (roof_m, floor_m) = (self.placed.effective_roof_depth_m, self.placed.floor_depth_m);
        let height_m = if self.port.group == PortGroup::Inlet {
            floor_m - roof_m.max(path.highest_m() + self.skirt_m)
        } else {
            floor_m.min(path.lowest_m()) - roof_m
        };
        height_m.max(0.0)
    }

    /// Angle-area of all `count` over the turn.
    pub(crate) fn angle_area(&self, path: &CrownPath) -> AngleArea {
        let one = if self.port.group == PortGroup::Inlet {
            AngleArea::by_skirt(path, &self.outline, self.skirt_m)
        } else {
            AngleArea::by_crown(path, &self.outline, self.placed.effective_roof_depth_m)
        };
        one.times(self.port.count)
    }

    /// Angle-area of all `count` from opening until an angle on the way down.
    pub(crate) fn angle_area_until(&self, path: &CrownPath, until_rad: f64) -> AngleArea {
        AngleArea::by_crown_until(path, &self.outline, self.placed.effective_roof_depth_m, until_rad)
            .times(self.port.count)
    }
}

/// Width along the bore wall, m.
fn arc_width_m(port: &Port, bore_m: f64) -> Result<f64, GeometryError> {
    let width_m = number(&format!("width of port \"{}\"", port.name), port.width.value)?;
    if width_m <= 0.0 {
        return Err(GeometryError::NoWidth { port: port.name.clone(), width_m });
    }
    let arc_m = match port.width_measure {
        WidthMeasure::Arc => width_m,
        WidthMeasure::Chord => arc_of_chord_m(width_m, bore_m)
            .ok_or_else(|| GeometryError::WiderThanBore { port: port.name.clone(), width_m, bore_m })?,
    };
    let round_m = PI * bore_m;
    if f64::from(port.count) * arc_m > round_m {
        return Err(GeometryError::WiderThanCircumference {
            port: port.name.clone(),
            count: port.count,
            arc_m,
            round_m,
        });
    }
    Ok(arc_m)
}
