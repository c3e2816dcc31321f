//! The exact slider-crank with pin offset: piston position, speed and acceleration by crank angle, and back.
//!
//! The upright crank is the crank pin straight above the crank centre. With the crank φ past it in the sense of
//! rotation, the piston pin stands c = r·cos φ + √(l² − (r·sin φ − e)²) above the crank centre, where e is the
//! offset of the bore axis towards the side where the crank pin goes down. Rod and crank are in line at true top
//! dead centre, φ = asin(e/(l + r)), and at true bottom dead centre, φ = π + asin(e/(l − r)). All angles of the
//! public functions are counted from true top dead centre.

mod peak;

pub use peak::Peak;

use crate::geometry_error::{GeometryError, positive_length, signed_length};
use std::f64::consts::{PI, TAU};

/// A drop outside the stroke by no more than this share of the stroke is rounding, not a mistake.
const ROUNDING: f64 = 1e-12;

/// Crank, rod and pin offset of one cylinder.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SliderCrank {
    crank_radius_m: f64,
    rod_m: f64,
    offset_m: f64,
    /// Upright crank to true top dead centre, rad, with its sine and cosine.
    tdc_rad: f64,
    tdc_sin: f64,
    tdc_cos: f64,
    /// Piston pin above the crank centre at the dead centres, m.
    top_m: f64,
    bottom_m: f64,
    bdc_rad: f64,
}

/// Piston place and its derivatives at one crank angle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Motion {
    /// Piston below its top dead centre place, m.
    pub drop_m: f64,
    /// d drop/d angle, m/rad, positive going down.
    pub velocity_m: f64,
    /// d² drop/d angle², m/rad², positive downwards.
    pub acceleration_m: f64,
}

/// What every derivative needs at one crank angle.
struct Pose {
    /// r·sin φ and r·cos φ, m.
    across_m: f64,
    up_m: f64,
    /// Crank pin beside the bore axis, m.
    lean_m: f64,
    /// Rod's height, m.
    rise_m: f64,
}

impl SliderCrank {
    /// From crank radius (half the stroke as the maker gives it), rod length centre to centre, and pin offset
    /// (sign as in [`crate::model::Crank::pin_offset`]), all in m.
    ///
    /// # Errors
    /// When radius or rod is not above zero, or the rod is not longer than radius + |offset|.
    pub fn new(crank_radius_m: f64, rod_m: f64, offset_m: f64) -> Result<Self, GeometryError> {
        positive_length("stroke", 2.0 * crank_radius_m)?;
        positive_length("rod length", rod_m)?;
        signed_length("pin offset", offset_m)?;
        if rod_m <= crank_radius_m + offset_m.abs() {
            return Err(GeometryError::RodTooShort { rod_m, stroke_m: 2.0 * crank_radius_m, offset_m });
        }
        let (long_m, short_m) = (rod_m + crank_radius_m, rod_m - crank_radius_m);
        let tdc_rad = (offset_m / long_m).asin();
        Ok(Self {
            crank_radius_m,
            rod_m,
            offset_m,
            tdc_rad,
            tdc_sin: offset_m / long_m,
            tdc_cos: tdc_rad.cos(),
            top_m: ((long_m - offset_m) * (long_m + offset_m)).sqrt(),
            bottom_m: ((short_m - offset_m) * (short_m + offset_m)).sqrt(),
            bdc_rad: PI + (offset_m / short_m).asin() - tdc_rad,
        })
    }

    /// True stroke, m: a little more than twice the crank radius when there is an offset.
    pub fn stroke_m(&self) -> f64 {
        self.top_m - self.bottom_m
    }

    /// True bottom dead centre, rad after true top dead centre; π without offset.
    pub fn bdc_rad(&self) -> f64 {
        self.bdc_rad
    }

    /// True top dead centre, rad past the upright crank in the sense of rotation.
    pub fn tdc_past_upright_rad(&self) -> f64 {
        self.tdc_rad
    }

    /// Piston below its top dead centre place, m, at an angle after top dead centre (any angle).
    pub fn drop_m(&self, angle_rad: f64) -> f64 {
        self.pose(angle_rad).1
    }

    /// Drop with its first and second derivative by crank angle.
    pub fn motion(&self, angle_rad: f64) -> Motion {
        let (pose, drop_m) = self.pose(angle_rad);
        Motion { drop_m, velocity_m: pose.velocity_m(), acceleration_m: pose.acceleration_m() }
    }

    /// d drop/d angle, m/rad, positive going down.
    pub fn velocity_per_rad_m(&self, angle_rad: f64) -> f64 {
        self.pose(angle_rad).0.velocity_m()
    }

    /// d² drop/d angle², m/rad², positive downwards.
    pub fn acceleration_per_rad2_m(&self, angle_rad: f64) -> f64 {
        self.pose(angle_rad).0.acceleration_m()
    }

    /// Piston velocity, m/s, positive going down, at a steady crank speed in rad/s.
    pub fn velocity_m_s(&self, angle_rad: f64, speed_rad_s: f64) -> f64 {
        self.velocity_per_rad_m(angle_rad) * speed_rad_s
    }

    /// Piston acceleration, m/s², positive downwards, at a steady crank speed in rad/s.
    pub fn acceleration_m_s2(&self, angle_rad: f64, speed_rad_s: f64) -> f64 {
        self.acceleration_per_rad2_m(angle_rad) * speed_rad_s * speed_rad_s
    }

    /// Mean piston speed, m/s: two strokes a turn.
    pub fn mean_speed_m_s(&self, speed_rad_s: f64) -> f64 {
        self.stroke_m() * speed_rad_s / PI
    }

    /// Angle after top dead centre, rad in [0, bottom dead centre], at which the piston going down has dropped by
    /// `drop_m`; none outside the stroke.
    pub fn angle_going_down_rad(&self, drop_m: f64) -> Option<f64> {
        let (fan_rad, tilt_rad) = self.triangle(drop_m)?;
        Some((tilt_rad + fan_rad).clamp(0.0, self.bdc_rad))
    }

    /// Angle after top dead centre, rad in [bottom dead centre, 2π], at which the piston going up is `drop_m`
    /// below top dead centre; none outside the stroke.
    pub fn angle_going_up_rad(&self, drop_m: f64) -> Option<f64> {
        let (fan_rad, tilt_rad) = self.triangle(drop_m)?;
        Some((TAU + tilt_rad - fan_rad).clamp(self.bdc_rad, TAU))
    }

    /// Crank angle, rad, that the piston spends lower than `drop_m` each turn; none outside the stroke.
    pub fn duration_below_rad(&self, drop_m: f64) -> Option<f64> {
        self.triangle(drop_m).map(|(fan_rad, _)| TAU - 2.0 * fan_rad)
    }

    /// The drop, m, below which the piston spends `duration_rad` of each turn; none outside 0 to 2π.
    pub fn drop_of_duration_m(&self, duration_rad: f64) -> Option<f64> {
        if !(0.0..=TAU).contains(&duration_rad) {
            return None;
        }
        let fan_rad = PI - duration_rad / 2.0;
        let across_m = self.crank_radius_m * fan_rad.sin();
        let reach_m =
            self.crank_radius_m * fan_rad.cos() + ((self.rod_m - across_m) * (self.rod_m + across_m)).sqrt();
        let pin_m = ((reach_m - self.offset_m) * (reach_m + self.offset_m)).sqrt();
        Some((self.top_m - pin_m).clamp(0.0, self.stroke_m()))
    }

    /// What is left of the turn, rad, until the piston going up is back where it is at `angle_rad` going down.
    /// Smooth up to bottom dead centre, where it is zero; valid from top to bottom dead centre.
    pub(crate) fn time_below_rad(&self, angle_rad: f64, drop_m: f64) -> f64 {
        let tilt_rad = if self.offset_m == 0.0 { 0.0 } else { self.tilt_rad(self.top_m - drop_m) };
        2.0 * (PI + tilt_rad - angle_rad)
    }

    /// The triangle of crank centre, crank pin and piston pin: angle at the crank centre between crank and the line
    /// to the piston pin, and that line's angle past its direction at top dead centre, both rad.
    fn triangle(&self, drop_m: f64) -> Option<(f64, f64)> {
        let stroke_m = self.stroke_m();
        if !(-ROUNDING * stroke_m..=stroke_m * (1.0 + ROUNDING)).contains(&drop_m) {
            return None;
        }
        let drop_m = drop_m.clamp(0.0, stroke_m);
        let pin_m = self.top_m - drop_m;
        let reach_m = pin_m.hypot(self.offset_m);
        let (r, l) = (self.crank_radius_m, self.rod_m);
        // Half-angle form of the cosine rule; the two differences that vanish at the dead centres are taken from
        // drop and stroke, so that no digits are lost there.
        let below_top_m = drop_m * (self.top_m + pin_m) / (l + r + reach_m);
        let above_bottom_m = (stroke_m - drop_m) * (pin_m + self.bottom_m) / (l - r + reach_m);
        let opposite = (below_top_m * (l + reach_m - r)).sqrt();
        let adjacent = (above_bottom_m * (l + reach_m + r)).sqrt();
        let tilt_rad = if self.offset_m == 0.0 { 0.0 } else { self.tilt_rad(pin_m) };
        Some((2.0 * opposite.atan2(adjacent), tilt_rad))
    }

    fn tilt_rad(&self, pin_m: f64) -> f64 {
        self.offset_m.atan2(pin_m) - self.tdc_rad
    }

    /// Pose and drop. The drop is written as a product with sin(angle/2), exact near top dead centre too.
    fn pose(&self, angle_rad: f64) -> (Pose, f64) {
        let r = self.crank_radius_m;
        let (half_sin, half_cos) = (angle_rad / 2.0).sin_cos();
        let (sin, cos) = (2.0 * half_sin * half_cos, 1.0 - 2.0 * half_sin * half_sin);
        let across_m = r * (sin * self.tdc_cos + cos * self.tdc_sin);
        let up_m = r * (cos * self.tdc_cos - sin * self.tdc_sin);
        let lean_m = across_m - self.offset_m;
        let rise_m = ((self.rod_m - lean_m) * (self.rod_m + lean_m)).sqrt();
        let (mid_sin, mid_cos) = (
            half_sin * self.tdc_cos + half_cos * self.tdc_sin,
            half_cos * self.tdc_cos - half_sin * self.tdc_sin,
        );
        let (tdc_lean_m, tdc_rise_m) = (-self.rod_m * self.tdc_sin, self.rod_m * self.tdc_cos);
        let drop_m = 2.0 * r * half_sin * (mid_sin + mid_cos * (lean_m + tdc_lean_m) / (rise_m + tdc_rise_m));
        (Pose { across_m, up_m, lean_m, rise_m }, drop_m)
    }
}

impl Pose {
    fn velocity_m(&self) -> f64 {
        self.across_m + self.lean_m * self.up_m / self.rise_m
    }

    fn acceleration_m(&self) -> f64 {
        let m = self.lean_m * self.up_m;
        let m1 = self.up_m * self.up_m - self.lean_m * self.across_m;
        self.up_m + m1 / self.rise_m + m * m / self.rise_m.powi(3)
    }

    /// d³ drop/d angle³, m/rad³.
    fn jerk_m(&self) -> f64 {
        let m = self.lean_m * self.up_m;
        let m1 = self.up_m * self.up_m - self.lean_m * self.across_m;
        let m2 = -self.up_m * (3.0 * self.across_m + self.lean_m);
        let rise3 = self.rise_m.powi(3);
        -self.across_m
            + m2 / self.rise_m
            + 3.0 * m * m1 / rise3
            + 3.0 * m.powi(3) / (rise3 * self.rise_m * self.rise_m)
    }
}

#[cfg(test)]
mod tests;
