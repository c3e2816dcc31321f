//! Area open times crank angle.
//!
//! ∫ A dθ over the turn is taken strip by strip: a strip of the port at depth y and of height dy has the area
//! w(y)·dy and stays open for the angle during which the crown is below it, so that
//! ∫ A dθ = ∫ w(y)·open(y) dy. Written over the crank angle at which the crown going down meets the strip,
//! dy = y'(θ) dθ, the integrand stays smooth up to bottom dead centre, both strokes and any pin offset are in it,
//! and the only kinks are where the outline bends: the integral is cut there.

use super::quadrature::integrate;
use super::{CrownPath, PortOutline};
use serde::Serialize;

/// Area open times crank angle.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default, Serialize)]
pub struct AngleArea {
    /// In m²·rad.
    pub m2_rad: f64,
}

impl AngleArea {
    /// In mm² times degrees of crank.
    pub fn mm2_deg(self) -> f64 {
        self.m2_rad.to_degrees() * 1e6
    }

    /// Area open times time, m²·s, at a steady crank speed in rad/s.
    pub fn time_area_m2_s(self, speed_rad_s: f64) -> f64 {
        self.m2_rad / speed_rad_s
    }

    /// Time-area over swept volume, s/m (1 s·cm²/cm³ = 100 s/m).
    pub fn specific_s_per_m(self, speed_rad_s: f64, swept_m3: f64) -> f64 {
        self.time_area_m2_s(speed_rad_s) / swept_m3
    }

    /// `count` times as much.
    pub(crate) fn times(self, count: u32) -> Self {
        Self { m2_rad: self.m2_rad * f64::from(count) }
    }

    /// Both together.
    pub(crate) fn plus(self, other: Self) -> Self {
        Self { m2_rad: self.m2_rad + other.m2_rad }
    }

    /// One port opened by the crown below an effective roof, over the whole turn.
    pub fn by_crown(path: &CrownPath, outline: &PortOutline, effective_roof_m: f64) -> Self {
        let slider = path.slider();
        let way = Way { edge_below_crown_m: 0.0, until_rad: f64::INFINITY };
        strips(path, outline, effective_roof_m, way, |angle_rad, drop_m| {
            slider.time_below_rad(angle_rad, drop_m)
        })
    }

    /// One port opened by the crown below an effective roof, counted from its opening until `until_rad` after top
    /// dead centre on the way down (blowdown, when that is where the transfer ports open).
    pub fn by_crown_until(
        path: &CrownPath,
        outline: &PortOutline,
        effective_roof_m: f64,
        until_rad: f64,
    ) -> Self {
        let way = Way { edge_below_crown_m: 0.0, until_rad };
        strips(path, outline, effective_roof_m, way, |angle_rad, _| until_rad - angle_rad)
    }

    /// One inlet port opened by the lower edge of the skirt, over the whole turn.
    pub fn by_skirt(path: &CrownPath, outline: &PortOutline, skirt_length_m: f64) -> Self {
        let slider = path.slider();
        let way = Way { edge_below_crown_m: skirt_length_m, until_rad: f64::INFINITY };
        strips(path, outline, outline.roof_depth_m(), way, |angle_rad, drop_m| {
            std::f64::consts::TAU - slider.time_below_rad(angle_rad, drop_m)
        })
    }
}

/// Which edge of the piston passes the strips, and until when.
struct Way {
    edge_below_crown_m: f64,
    until_rad: f64,
}

fn strips(
    path: &CrownPath,
    outline: &PortOutline,
    roof_m: f64,
    way: Way,
    open_rad: impl Fn(f64, f64) -> f64,
) -> AngleArea {
    let skirt_m = way.edge_below_crown_m;
    let (slider, highest_m) = (path.slider(), path.highest_m());
    let within_m = |depth_m: f64| (depth_m - skirt_m).clamp(highest_m, path.lowest_m());
    let cut = |depth_m: f64| {
        path.angle_going_down_rad(within_m(depth_m.max(roof_m))).unwrap_or(0.0).min(way.until_rad)
    };
    let bends_m = outline.bends_m();
    let mut cuts = [0.0; 8];
    cuts[0] = cut(roof_m.max(outline.roof_depth_m()));
    for (place, bend_m) in cuts[1..].iter_mut().zip(bends_m) {
        *place = cut(bend_m);
    }
    let m2_rad = integrate(&cuts, |angle_rad| {
        let motion = slider.motion(angle_rad);
        let width_m = outline.width_at_m(highest_m + motion.drop_m + skirt_m);
        width_m * motion.velocity_m * open_rad(angle_rad, motion.drop_m)
    });
    AngleArea { m2_rad }
}

#[cfg(test)]
mod tests;
