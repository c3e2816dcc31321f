//! Where everything stands on the sheet. Depends on the engine and its gaps, never on the position of the servo, so
//! that nothing but the moving parts moves.

use super::GearPose;
use crate::picture::place::Place;
use crate::picture::valve_body::{THICK_MM, ValveBody, slide_angle};
use drawing::{Point, at};
use engine::model::{Engine, ReturnSpring, ValveKind};

/// How far the rim of a pulley stands over its groove, mm.
pub(super) const RIM_MM: f64 = 1.7;
/// How far a blade reaches from its edge to its drive pin, mm.
const REACH_MM: f64 = 17.0;
/// Length of an adjuster from the sheath's end to its head, mm.
pub(super) const ADJUSTER_MM: f64 = 17.0;
/// Width of the sheet, mm.
const WIDTH: f64 = 100.0;

/// Layout of the picture; lengths of the real parts in mm.
pub(super) struct Frame {
    /// Valve pulley: origin at its shaft.
    pub(super) valve: Place,
    /// Servo pulley: origin at its shaft.
    pub(super) servo: Place,
    /// Height of the sheet, mm.
    pub(super) height: f64,
    /// Groove radii at the valve: opening, closing.
    pub(super) valve_radii: (f64, f64),
    /// Groove radii at the servo: opening, closing.
    pub(super) servo_radii: (f64, f64),
    /// Rim radius of the valve pulley.
    pub(super) valve_rim: f64,
    /// Rim radius of the servo pulley.
    pub(super) servo_rim: f64,
    /// Gaps: opening, closing.
    pub(super) gaps: (f64, f64),
    /// Where the bracket of the adjusters stands, right of the valve shaft.
    pub(super) bracket: f64,
    /// Drawn spring length; none without a spring on the closing adjuster.
    pub(super) spring: Option<f64>,
    /// The closed valve edge on the bore wall, from the valve shaft.
    pub(super) closed_edge: Point,
    /// From edge to back end of a blade.
    pub(super) reach: f64,
    /// Distance of the blade's axis from the shaft.
    pub(super) blade_distance: f64,
    /// Port roof above the closed edge.
    pub(super) drop: f64,
    /// Valve pulley travel for the servo's full travel, rad.
    pub(super) valve_full: f64,
    /// Servo travel, rad.
    pub(super) servo_full: f64,
    /// Right ends on the sheet of the two cables' bends: opening (outer), closing (inner), from the mirrored left.
    pub(super) bends: (f64, f64),
    /// Left edge and width of the notes, mm on the sheet.
    pub(super) notes: (f64, f64),
    /// Baseline of the first note, mm.
    pub(super) notes_top: f64,
}

/// A figure in mm, within what can be drawn.
fn mm(m: f64, low: f64, high: f64, instead: f64) -> f64 {
    if m.is_finite() { (1e3 * m).clamp(low, high) } else { instead }
}

impl Frame {
    pub(super) fn of(engine: &Engine, pose: &GearPose) -> Self {
        let gear = &engine.gear;
        let radius = |m: f64| mm(m, 2.0, 60.0, 12.0);
        let valve_radii = (radius(gear.opening.valve_radius.value), radius(gear.closing.valve_radius.value));
        let servo_radii = (radius(gear.opening.servo_radius.value), radius(gear.closing.servo_radius.value));
        let valve_rim = valve_radii.0.max(valve_radii.1) + RIM_MM;
        let servo_rim = servo_radii.0.max(servo_radii.1) + RIM_MM;
        let gaps = (mm(pose.opening_gap_m, 0.0, 40.0, 10.0), mm(pose.closing_gap_m, 0.0, 40.0, 10.0));
        let leave = (leave(valve_rim, valve_radii.0), leave(valve_rim, valve_radii.1));
        let spring = spring_mm(engine, pose);
        let bracket = leave.0.max(leave.1) + gaps.0.max(gaps.1).max(14.0) + 6.0;
        let right = bracket + ADJUSTER_MM - 4.0 + spring.map_or(0.0, |_| free_spring_mm(engine)) + 7.0;
        let servo_full = angle_or(engine.servo.travel.value, 2.0);
        let valve_full = (servo_full * servo_radii.0 / valve_radii.0).clamp(0.2, 4.0);
        let valve_part = ValvePart::of(engine, valve_full);
        let left = (-valve_part.closed_edge.x + 9.0).max(valve_rim + 3.0);
        let up = valve_part.up.max(valve_rim + 2.0);
        let scale = (83.0 / (left + right)).min(34.0 / (2.0 * servo_rim)).clamp(0.25, 1.6);
        let shaft_y = (up * scale).max(valve_radii.0 * scale + 12.5) + 2.0;
        let down = (valve_part.closed_edge.y + 9.0).max(valve_radii.1) * scale;
        let servo_y = shaft_y + (valve_radii.1 * scale + 15.0).max(0.0) + servo_rim * scale + 4.0;
        let height = (servo_y + servo_rim * scale + 4.0).max(shaft_y + down + 34.0);
        let mirrored = !gear.opens_clockwise;
        let x = |from_left: f64| if mirrored { WIDTH - from_left } else { from_left };
        let servo_x = 90.0 - 9.0 - (servo_rim + 4.0) * scale;
        let notes_width = servo_x - (servo_rim + 5.0) * scale - 3.0;
        let notes_left = if mirrored { WIDTH - notes_width - 1.0 } else { 1.0 };
        Self {
            valve: Place { origin: at(x(1.0 + left * scale), shaft_y), scale, mirrored },
            servo: Place { origin: at(x(servo_x), servo_y), scale, mirrored },
            height,
            valve_radii,
            servo_radii,
            valve_rim,
            servo_rim,
            gaps,
            bracket,
            spring,
            closed_edge: valve_part.closed_edge,
            reach: REACH_MM + 5.0,
            blade_distance: valve_part.distance,
            drop: mm(engine.valve.closed_drop.value, 0.0, 60.0, 5.0),
            valve_full,
            servo_full,
            bends: (x(97.5), x(92.0)),
            notes: (notes_left, notes_width),
            notes_top: shaft_y + down + 8.0,
        }
    }

    /// Where a wire leaves the rim, right of the shaft, real mm: gaps are measured from there.
    pub(super) fn leaves(&self) -> (f64, f64) {
        (leave(self.valve_rim, self.valve_radii.0), leave(self.valve_rim, self.valve_radii.1))
    }
}

fn leave(rim: f64, groove: f64) -> f64 {
    (rim * rim - groove * groove).max(0.0).sqrt()
}

fn angle_or(rad: f64, instead: f64) -> f64 {
    if rad.is_finite() && rad > 0.01 { rad.min(5.5) } else { instead }
}

fn free_spring_mm(engine: &Engine) -> f64 {
    match &engine.gear.spring {
        ReturnSpring::ClosingAdjuster { free_length, .. } => mm(free_length.value, 4.0, 60.0, 22.0),
        ReturnSpring::Shaft { .. } => 0.0,
    }
}

fn spring_mm(engine: &Engine, pose: &GearPose) -> Option<f64> {
    let ReturnSpring::ClosingAdjuster { .. } = engine.gear.spring else { return None };
    let free = free_spring_mm(engine);
    Some(pose.spring_length_m.map_or(free, |m| mm(m, 2.0, free, free)))
}

/// How the valve lies about its shaft.
struct ValvePart {
    closed_edge: Point,
    distance: f64,
    /// Highest point above the shaft, mm.
    up: f64,
}

impl ValvePart {
    fn of(engine: &Engine, valve_full: f64) -> Self {
        match &engine.valve.kind {
            ValveKind::Blade { arm, arm_start, .. } => {
                let angle = slide_angle(&engine.valve.kind);
                let arm = mm(arm.value, 3.0, 60.0, 14.0);
                let start = angle_or(arm_start.value.abs(), 0.0).copysign(arm_start.value);
                let (slide, across) = (at(angle.sin(), -angle.cos()), at(-angle.cos(), -angle.sin()));
                let end = (start + valve_full).min(std::f64::consts::FRAC_PI_2);
                let distance = arm * (start.cos() + 1.0) / 2.0;
                let pin = across * distance + slide * (arm * start.sin());
                let closed_edge = pin - slide * REACH_MM + across * (THICK_MM / 2.0);
                let travel = arm * (end.sin() - start.sin());
                let back = closed_edge + slide * (REACH_MM + 5.0 + travel);
                Self { closed_edge, distance, up: -back.y + 1.0 }
            }
            ValveKind::Table { .. } => {
                let closed_edge = at(-18.0, REACH_MM - 4.0);
                Self { closed_edge, distance: 18.0, up: 12.0 }
            }
            kind => {
                let pivot = ValveBody::of(kind, 0.0, 0.0, 1.0).pivot.unwrap_or_default();
                let shaft = if geared(kind) { pivot + at(4.0, -24.0) } else { pivot };
                let closed_edge = at(0.0, 0.0) - shaft;
                Self { closed_edge, distance: 0.0, up: 14.0 }
            }
        }
    }
}

/// True when the valve turns on its own shaft, geared to the pulley.
pub(super) fn geared(kind: &ValveKind) -> bool {
    match kind {
        ValveKind::Flap { ratio, .. } | ValveKind::Drum { ratio, .. } => (ratio.value - 1.0).abs() > 1e-6,
        _ => false,
    }
}
