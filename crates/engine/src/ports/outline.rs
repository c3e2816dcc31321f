//! The outline of a port on the developed bore wall, and the part of it that is open.
//!
//! The outline is drawn on the bore wall laid flat: its width is the arc along the wall, arc = B·asin(chord/B), and
//! all areas here use that arc. Sides run along the cylinder axis, the floor is level, the roof is a straight line
//! that may be tilted across the width. The upper corners share one radius, the lower corners another. The roof
//! depth is that of the highest point of the outline: with a tilt this lies on the upper corner of the higher side,
//! and the tilt lowers the other side. Depths are below the deck in m and grow downwards.

use crate::geometry_error::{Edge, GeometryError};
use std::f64::consts::PI;

/// Steepest roof tilt, rad (60°): beyond it the edge is a side, not a roof.
const STEEPEST_TILT_RAD: f64 = PI / 3.0;
/// Greatest duct angle, rad (85°): beyond it the duct runs along the wall.
const GREATEST_DUCT_RAD: f64 = 85.0 * PI / 180.0;
/// Radii may exceed their limit by this share of the port's size; it is rounding of a fully round port.
const ROUNDING: f64 = 1e-9;

/// Length along the bore wall of a chord across it, m; none when the chord is longer than the bore.
pub fn arc_of_chord_m(chord_m: f64, bore_m: f64) -> Option<f64> {
    (chord_m >= 0.0 && chord_m <= bore_m).then(|| bore_m * (chord_m / bore_m).asin())
}

/// The figures of an outline.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OutlineShape {
    /// Highest point below the deck, m.
    pub roof_depth_m: f64,
    /// Floor below the deck, m.
    pub floor_depth_m: f64,
    /// Width along the bore wall, m.
    pub width_m: f64,
    /// Radius of both upper corners, m.
    pub roof_radius_m: f64,
    /// Radius of both lower corners, m.
    pub floor_radius_m: f64,
    /// Tilt of the roof line across the width, rad; either sign, the area is the same.
    pub roof_tilt_rad: f64,
    /// Angle between duct axis and normal of the bore wall, rad; areas are multiplied by its cosine.
    pub duct_angle_rad: f64,
}

/// A rounded port outline, checked.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PortOutline {
    roof_depth_m: f64,
    floor_depth_m: f64,
    width_m: f64,
    upper: Corner,
    lower: Corner,
    tilt_sin: f64,
    tilt_cos: f64,
    /// How much lower the corner on the lower side stands, m.
    lowering_m: f64,
    duct_cosine: f64,
}

/// A corner radius, m.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Corner(f64);

impl PortOutline {
    /// Checks the figures and keeps them.
    ///
    /// # Errors
    /// Names `port` and what cannot be: roof not above floor, corners that do not fit, angles out of range.
    pub fn new(port: &str, shape: OutlineShape) -> Result<Self, GeometryError> {
        check(port, &shape)?;
        let (tilt_sin, tilt_cos) = shape.roof_tilt_rad.abs().sin_cos();
        let half_m = shape.width_m / 2.0;
        let upper = Corner(shape.roof_radius_m.min(half_m));
        Ok(Self {
            roof_depth_m: shape.roof_depth_m,
            floor_depth_m: shape.floor_depth_m,
            width_m: shape.width_m,
            upper,
            lower: Corner(shape.floor_radius_m.min(half_m)),
            tilt_sin,
            tilt_cos,
            lowering_m: lowering_m(&shape),
            duct_cosine: shape.duct_angle_rad.cos(),
        })
    }

    /// Highest point below the deck, m.
    pub fn roof_depth_m(&self) -> f64 {
        self.roof_depth_m
    }

    /// Floor below the deck, m.
    pub fn floor_depth_m(&self) -> f64 {
        self.floor_depth_m
    }

    /// Width along the bore wall, m.
    pub fn width_m(&self) -> f64 {
        self.width_m
    }

    /// Flow area of the whole port, m²: wall area times the cosine of the duct angle.
    pub fn area_m2(&self) -> f64 {
        self.area_above_m2(self.floor_depth_m)
    }

    /// Flow area, m², of the part of the port between the level edge `effective_roof_depth_m` (the port's own roof
    /// counts when it is lower) and the piston crown at `crown_depth_m`; zero when the crown is above the edge.
    pub fn open_area_m2(&self, crown_depth_m: f64, effective_roof_depth_m: f64) -> f64 {
        let from_m = effective_roof_depth_m.max(self.roof_depth_m);
        let to_m = crown_depth_m.min(self.floor_depth_m);
        if to_m > from_m { self.area_above_m2(to_m) - self.area_above_m2(from_m) } else { 0.0 }
    }

    /// Flow area, m², of the part of the port below the lower edge of the piston skirt at `skirt_depth_m`.
    pub fn area_below_skirt_m2(&self, skirt_depth_m: f64) -> f64 {
        self.open_area_m2(self.floor_depth_m, skirt_depth_m)
    }

    /// Flow area, m², of the part of the port above a depth. Closed form: rectangle less the pieces that corners and
    /// tilt cut away on the left and the right.
    pub fn area_above_m2(&self, depth_m: f64) -> f64 {
        let height_m = self.height_m();
        let below_m = (depth_m - self.roof_depth_m).clamp(0.0, height_m);
        let left_m2 = self.upper.cut_m2(below_m);
        let right_m2 = if self.is_level() { left_m2 } else { self.cut_on_lower_side_m2(below_m) };
        let floor_m2 = self.lower.cut_m2(self.lower.0) - self.lower.cut_m2(height_m - below_m);
        (self.width_m * below_m - left_m2 - right_m2 - 2.0 * floor_m2) * self.duct_cosine
    }

    /// Flow width, m, at a depth: derivative of the area above by depth; zero outside the port.
    pub fn width_at_m(&self, depth_m: f64) -> f64 {
        let (below_m, above_m) = (depth_m - self.roof_depth_m, self.floor_depth_m - depth_m);
        if below_m < 0.0 || above_m < 0.0 {
            return 0.0;
        }
        let left_m = self.upper.inset_m(below_m);
        let right_m = if self.is_level() { left_m } else { self.inset_on_lower_side_m(below_m) };
        (self.width_m - left_m - right_m - 2.0 * self.lower.inset_m(above_m)) * self.duct_cosine
    }

    /// Depths, m, rising, between which the width is one smooth function of depth.
    pub(crate) fn bends_m(&self) -> [f64; 7] {
        let (line_start_m, line_end_m) = self.line_m();
        let upper_end_m = self.upper.0;
        let first_m = line_end_m.min(upper_end_m);
        let second_m = line_end_m.max(upper_end_m);
        [
            0.0,
            line_start_m,
            first_m,
            second_m,
            upper_end_m + self.lowering_m,
            self.height_m() - self.lower.0,
            self.height_m(),
        ]
        .map(|below_m| self.roof_depth_m + below_m)
    }

    fn height_m(&self) -> f64 {
        self.floor_depth_m - self.roof_depth_m
    }

    fn is_level(&self) -> bool {
        self.lowering_m == 0.0
    }

    /// Start and end of the straight part of the roof, m below its highest point.
    fn line_m(&self) -> (f64, f64) {
        let start_m = self.upper.0 * (1.0 - self.tilt_cos);
        (start_m, start_m + self.lowering_m)
    }

    /// Inset of the outline from the lower side's edge, m.
    fn inset_on_lower_side_m(&self, below_m: f64) -> f64 {
        let (line_start_m, line_end_m) = self.line_m();
        let across_m = self.width_m - 2.0 * self.upper.0;
        if below_m < line_start_m {
            // Still on the round of the higher side's corner, past its top.
            across_m + self.upper.0 - self.upper.chord_half_m(below_m)
        } else if below_m < line_end_m {
            across_m + self.upper.0 * (1.0 - self.tilt_sin)
                - (below_m - line_start_m) * self.tilt_cos / self.tilt_sin
        } else {
            self.upper.inset_m(below_m - self.lowering_m)
        }
    }

    /// Area cut away on the lower side above a depth, m².
    fn cut_on_lower_side_m2(&self, below_m: f64) -> f64 {
        let (line_start_m, line_end_m) = self.line_m();
        let (r, across_m) = (self.upper.0, self.width_m - 2.0 * self.upper.0);
        let round_m = below_m.min(line_start_m);
        let round_m2 = (across_m + r) * round_m - self.upper.half_segment_m2(round_m);
        let line_m = (below_m - line_start_m).clamp(0.0, self.lowering_m);
        let line_m2 = (across_m + r * (1.0 - self.tilt_sin)) * line_m
            - 0.5 * line_m * line_m * self.tilt_cos / self.tilt_sin;
        let last_m = below_m.max(line_end_m) - self.lowering_m;
        let last_m2 = self.upper.cut_m2(last_m) - self.upper.cut_m2(line_start_m);
        round_m2 + line_m2 + last_m2
    }
}

impl Corner {
    /// Half chord of the circle at `y` from its top, m.
    fn chord_half_m(self, y: f64) -> f64 {
        (y * (2.0 * self.0 - y)).max(0.0).sqrt()
    }

    /// Inset from the side at `y` from the corner's outer end, m.
    fn inset_m(self, y: f64) -> f64 {
        if y < self.0 { self.0 - self.chord_half_m(y) } else { 0.0 }
    }

    /// ∫ half chord from 0 to `y` ≤ r, m²: half the circular segment of height y.
    fn half_segment_m2(self, y: f64) -> f64 {
        let r = self.0;
        if y <= 0.0 {
            return 0.0;
        }
        // r²·acos(1 - y/r) written with the half angle, which keeps its digits for a thin segment.
        let half_chord_m = self.chord_half_m(y);
        0.5 * (2.0 * r * r * (y / (2.0 * r)).min(1.0).sqrt().asin() - (r - y) * half_chord_m)
    }

    /// ∫ inset from 0 to `y`, m²: what the corner cuts away within `y` of its outer end.
    fn cut_m2(self, y: f64) -> f64 {
        let y = y.min(self.0);
        if y <= 0.0 { 0.0 } else { self.0 * y - self.half_segment_m2(y) }
    }
}

/// How much lower the corner of the lower side stands, m.
fn lowering_m(shape: &OutlineShape) -> f64 {
    let lowering_m = (shape.width_m - 2.0 * shape.roof_radius_m).max(0.0) * shape.roof_tilt_rad.abs().tan();
    // Below a thousandth of a nanometre the roof is level.
    if lowering_m < 1e-12 { 0.0 } else { lowering_m }
}

fn check(port: &str, shape: &OutlineShape) -> Result<(), GeometryError> {
    check_numbers(port, shape)?;
    let port = || port.to_owned();
    let (roof_m, floor_m, width_m) = (shape.roof_depth_m, shape.floor_depth_m, shape.width_m);
    if roof_m >= floor_m {
        return Err(GeometryError::RoofBelowFloor { port: port(), roof_m, floor_m });
    }
    if width_m <= 0.0 {
        return Err(GeometryError::NoWidth { port: port(), width_m });
    }
    for (edge, radius_m) in [(Edge::Roof, shape.roof_radius_m), (Edge::Floor, shape.floor_radius_m)] {
        if !(0.0..=width_m * (0.5 + ROUNDING)).contains(&radius_m) {
            return Err(GeometryError::CornerTooWide { port: port(), edge, radius_m, width_m });
        }
    }
    let angles = [
        ("roof tilt", shape.roof_tilt_rad, STEEPEST_TILT_RAD),
        ("duct angle", shape.duct_angle_rad, GREATEST_DUCT_RAD),
    ];
    for (field, angle_rad, limit_rad) in angles {
        if angle_rad.abs() > limit_rad {
            return Err(GeometryError::AngleTooLarge { port: port(), field, angle_rad, limit_rad });
        }
    }
    check_height(port(), shape)
}

fn check_numbers(port: &str, shape: &OutlineShape) -> Result<(), GeometryError> {
    let figures = [
        ("roof", shape.roof_depth_m),
        ("floor", shape.floor_depth_m),
        ("width", shape.width_m),
        ("roof corner radius", shape.roof_radius_m),
        ("floor corner radius", shape.floor_radius_m),
        ("roof tilt", shape.roof_tilt_rad),
        ("duct angle", shape.duct_angle_rad),
    ];
    match figures.iter().find(|(_, value)| !value.is_finite()) {
        Some((field, _)) => Err(GeometryError::NotANumber { field: format!("{field} of port \"{port}\"") }),
        None => Ok(()),
    }
}

/// Corners and tilt must fit between roof and floor.
fn check_height(port: String, shape: &OutlineShape) -> Result<(), GeometryError> {
    let (roof_radius_m, floor_radius_m) = (shape.roof_radius_m, shape.floor_radius_m);
    let needed_m = roof_radius_m + floor_radius_m + lowering_m(shape);
    let height_m = shape.floor_depth_m - shape.roof_depth_m;
    if needed_m > height_m * (1.0 + ROUNDING) {
        return Err(GeometryError::CornersTooTall {
            port,
            roof_radius_m,
            floor_radius_m,
            needed_m,
            height_m,
        });
    }
    Ok(())
}

#[cfg(test)]
mod tests;
