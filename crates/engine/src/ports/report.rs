//! Everything about the ports of one engine at one lift.

use super::layout::{LaidOut, Layout};
use super::timing::{earlier, is_exhaust, is_transfer, shut_exhaust};
use super::{AngleArea, GeometryError, Opening};
use crate::kinematics::Peak;
use crate::model::{Engine, PortGroup};
use crate::volumes::{Squish, bore_area_m2, compression_ratio, squish};
use serde::Serialize;

/// One port, or `count` like ones.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PortReport {
    /// Name as in the engine file.
    pub name: String,
    /// What it is for.
    pub group: PortGroup,
    /// How many like it in one cylinder.
    pub count: u32,
    /// Roof below the deck, m.
    pub roof_depth_m: f64,
    /// Floor below the deck, m.
    pub floor_depth_m: f64,
    /// Roof as the valve leaves it, below the deck, m.
    pub effective_roof_depth_m: f64,
    /// The valve moves this port's roof.
    pub covered: bool,
    /// When it opens and closes; none when the valve shuts it altogether at this lift.
    pub opening: Option<Opening>,
    /// Height open at bottom dead centre (inlet ports: at top dead centre), m.
    pub open_height_m: f64,
    /// Width of one along the bore wall (arc), m.
    pub width_m: f64,
    /// Greatest open flow area of all `count`, m².
    pub max_area_m2: f64,
    /// Angle-area of all `count`.
    pub angle_area: AngleArea,
}

/// All exhaust ports, or all transfer and boost ports, of one cylinder.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct GroupReport {
    /// The port of the group that opens first.
    pub opening: Opening,
    /// Greatest open flow area, m².
    pub max_area_m2: f64,
    /// Angle-area.
    pub angle_area: AngleArea,
}

/// From exhaust opening to the first transfer or boost port opening.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Blowdown {
    /// Crank angle, rad; negative when a transfer port opens first.
    pub angle_rad: f64,
    /// Angle-area of the exhaust ports within it.
    pub angle_area: AngleArea,
}

/// The ports and what follows from them, of one cylinder, at one lift.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PortsReport {
    /// Valve edge above its closed position, m.
    pub lift_m: f64,
    /// Valve edge below the deck, m; none when the valve covers no port.
    pub valve_edge_depth_m: Option<f64>,
    /// Every port in file order.
    pub ports: Vec<PortReport>,
    /// All exhaust ports.
    pub exhaust: GroupReport,
    /// All transfer and boost ports; none when there are none.
    pub transfer: Option<GroupReport>,
    /// Blowdown; none without transfer ports.
    pub blowdown: Option<Blowdown>,
    /// True stroke, m.
    pub stroke_m: f64,
    /// Bottom dead centre, rad after top dead centre.
    pub bdc_rad: f64,
    /// Piston travel from exhaust closing up to top dead centre, m.
    pub effective_stroke_m: f64,
    /// Swept volume of one cylinder, m³.
    pub swept_volume_m3: f64,
    /// (Swept + chamber) / chamber.
    pub geometric_ratio: f64,
    /// (Swept after exhaust closing + chamber) / chamber.
    pub trapped_ratio: f64,
    /// (Crankcase at bottom dead centre + swept) / crankcase at bottom dead centre; none when not given.
    pub crankcase_ratio: Option<f64>,
    /// Squish; none when the head's squish figures were not given.
    pub squish: Option<Squish>,
    /// Greatest piston acceleration, m/rad², positive downwards, and where.
    pub peak_acceleration_per_rad2: Peak,
}

/// Area open times time.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct TimeArea {
    /// How long the ports stay open in a turn, s.
    pub open_s: f64,
    /// In m²·s.
    pub time_area_m2_s: f64,
    /// Over swept volume, s/m.
    pub specific_s_per_m: f64,
}

/// What depends on crank speed.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct AtSpeed {
    /// Crank speed, rad/s.
    pub speed_rad_s: f64,
    /// Exhaust ports.
    pub exhaust: TimeArea,
    /// Transfer and boost ports.
    pub transfer: Option<TimeArea>,
    /// Blowdown; none when a transfer port opens before the exhaust.
    pub blowdown: Option<TimeArea>,
    /// Mean piston speed, m/s.
    pub mean_piston_speed_m_s: f64,
    /// Greatest piston acceleration, m/s², positive downwards.
    pub peak_acceleration_m_s2: f64,
    /// Greatest speed of the gas leaving the squish band, m/s.
    pub squish_velocity_m_s: Option<f64>,
}

/// Port timing, areas, volumes and ratios with the valve edge `lift_m` above its closed position.
///
/// # Errors
/// When figures contradict each other, or no exhaust port opens at this lift.
pub fn report(engine: &Engine, lift_m: f64) -> Result<PortsReport, GeometryError> {
    let layout = Layout::of(engine, lift_m)?;
    let path = &layout.path;
    let slider = path.slider();
    let ports: Vec<PortReport> = layout.ports.iter().map(|laid| of_port(engine, &layout, laid)).collect();
    let exhaust = of_group(&ports, is_exhaust);
    let exhaust = exhaust.ok_or_else(|| shut_exhaust(engine, layout.valve_edge_depth_m))?;
    let transfer = of_group(&ports, is_transfer);
    let bore_m = engine.crank.bore.value;
    let effective_stroke_m = slider.drop_m(exhaust.opening.closes_rad);
    let swept_volume_m3 = bore_area_m2(bore_m) * slider.stroke_m();
    let ratio = |stroke_m: f64| {
        let swept_m3 = bore_area_m2(bore_m) * stroke_m;
        compression_ratio("chamber volume", swept_m3, engine.head.chamber_volume.value)
    };
    let crankcase = engine.crankcase_volume.as_ref();
    Ok(PortsReport {
        lift_m,
        valve_edge_depth_m: layout.valve_edge_depth_m,
        exhaust,
        transfer,
        blowdown: transfer.map(|transfer| blowdown(&layout, exhaust.opening, transfer.opening)),
        stroke_m: slider.stroke_m(),
        bdc_rad: slider.bdc_rad(),
        effective_stroke_m,
        swept_volume_m3,
        geometric_ratio: ratio(slider.stroke_m())?,
        trapped_ratio: ratio(effective_stroke_m)?,
        crankcase_ratio: crankcase
            .map(|below| compression_ratio("crankcase volume", swept_volume_m3, below.value))
            .transpose()?,
        squish: squish(slider, &engine.head, bore_m)?,
        peak_acceleration_per_rad2: slider.peak_acceleration_per_rad2_m(),
        ports,
    })
}

impl PortsReport {
    /// What depends on crank speed, at a speed in rad/s above zero.
    pub fn at(&self, speed_rad_s: f64) -> AtSpeed {
        let time_area = |angle_rad: f64, area: AngleArea| TimeArea {
            open_s: angle_rad / speed_rad_s,
            time_area_m2_s: area.time_area_m2_s(speed_rad_s),
            specific_s_per_m: area.specific_s_per_m(speed_rad_s, self.swept_volume_m3),
        };
        let of = |group: GroupReport| time_area(group.opening.duration_rad, group.angle_area);
        AtSpeed {
            speed_rad_s,
            exhaust: of(self.exhaust),
            transfer: self.transfer.map(of),
            blowdown: self
                .blowdown
                .filter(|blowdown| blowdown.angle_rad >= 0.0)
                .map(|blowdown| time_area(blowdown.angle_rad, blowdown.angle_area)),
            mean_piston_speed_m_s: self.stroke_m * speed_rad_s / std::f64::consts::PI,
            peak_acceleration_m_s2: self.peak_acceleration_per_rad2.value * speed_rad_s * speed_rad_s,
            squish_velocity_m_s: self.squish.map(|squish| squish.velocity_per_rad_m * speed_rad_s),
        }
    }
}

fn of_port(engine: &Engine, layout: &Layout<'_>, laid: &LaidOut<'_>) -> PortReport {
    let (port, placed, path) = (laid.port, &laid.placed, &layout.path);
    PortReport {
        name: port.name.clone(),
        group: port.group,
        count: port.count,
        roof_depth_m: placed.roof_depth_m,
        floor_depth_m: placed.floor_depth_m,
        effective_roof_depth_m: placed.effective_roof_depth_m,
        covered: engine.valve.covers.contains(&port.name),
        opening: placed.opening,
        open_height_m: laid.open_height_m(path),
        width_m: laid.outline.width_m(),
        max_area_m2: laid.open_area_m2(laid.widest_crown_m(path)),
        angle_area: laid.angle_area(path),
    }
}

fn of_group(ports: &[PortReport], chosen: impl Fn(PortGroup) -> bool) -> Option<GroupReport> {
    let members = || ports.iter().filter(|port| chosen(port.group));
    Some(GroupReport {
        opening: members().fold(None, |first, port| earlier(first, port.opening))?,
        max_area_m2: members().map(|port| port.max_area_m2).sum(),
        angle_area: members().fold(AngleArea::default(), |sum, port| sum.plus(port.angle_area)),
    })
}

fn blowdown(layout: &Layout<'_>, exhaust: Opening, transfer: Opening) -> Blowdown {
    let angle_area = layout
        .ports
        .iter()
        .filter(|laid| is_exhaust(laid.port.group))
        .map(|laid| laid.angle_area_until(&layout.path, transfer.opens_rad))
        .fold(AngleArea::default(), AngleArea::plus);
    Blowdown { angle_rad: transfer.opens_rad - exhaust.opens_rad, angle_area }
}

#[cfg(test)]
mod tests;
