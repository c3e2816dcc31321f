//! Where everything stands on the sheet. Depends on the engine and its gaps, never on the position of the servo, so
//! that nothing but the moving parts moves.

use super::GearPose;
use crate::picture::NOTE_MM;
use crate::picture::place::Place;
use crate::picture::valve_body::{THICK_MM, ValveBody, slide_angle};
use drawing::{Point, at, wrap};
use engine::model::{Engine, ReturnSpring, ValveKind};

/// How far the rim of a pulley stands over its groove, mm.
pub(super) const RIM_MM: f64 = 1.7;
/// Least distance from a blade's edge to its drive pin, mm.
const LEAST_REACH_MM: f64 = 14.0;
/// Room between pulley rim and port roof, mm.
const CLEAR_MM: f64 = 8.0;
/// A blade reaches past its drive pin by this much, mm.
const TAIL_MM: f64 = 4.0;
/// Length of an adjuster's head, mm.
pub(super) const HEAD_MM: f64 = 4.0;
/// Bracket and lock nut together, mm.
const BRACKET_MM: f64 = 4.8;
/// Least length of an adjuster from the sheath's end to the end of its head, mm.
const LEAST_ADJUSTER_MM: f64 = 20.0;
/// Room for names left of the bore wall, mm on the sheet.
const LEFT: f64 = 10.5;
/// From the first note to the first line about turning, mm.
pub(super) const FIGURES_MM: f64 = 13.4;
/// From line to line of the notes, mm.
pub(super) const NOTE_LINE_MM: f64 = 3.8;
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
    /// Length of the adjusters from the sheath's end to the end of the head.
    pub(super) adjuster: f64,
    /// Drawn spring length; none without a spring on the closing adjuster.
    pub(super) spring: Option<f64>,
    /// What the closing wire is when it has no slack.
    pub(super) closing_when_not_slack: &'static str,
    /// The closed valve edge on the bore wall, from the valve shaft.
    pub(super) closed_edge: Point,
    /// From edge to back end of a blade.
    pub(super) reach: f64,
    /// Port roof above the closed edge.
    pub(super) drop: f64,
    /// Valve pulley travel for the servo's full travel, rad.
    pub(super) valve_full: f64,
    /// Servo travel, rad.
    pub(super) servo_full: f64,
    /// Right ends on the sheet of the two cables' bends: opening (outer), closing (inner), from the mirrored left.
    pub(super) bends: (f64, f64),
    /// Left edge of the notes, mm on the sheet.
    pub(super) notes_left: f64,
    /// Baseline of the first note, mm.
    pub(super) notes_top: f64,
    /// How it turns and from where it is seen, in lines.
    pub(super) seen: Vec<String>,
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
        let tips = (leave.0 + gaps.0, leave.1 + gaps.1);
        let bracket = tips.0.max(tips.1).max(0.8 * valve_rim + 11.0) + 4.0;
        // The head of the adjuster that is screwed in furthest still stands clear of the lock nut.
        let adjuster = (bracket + BRACKET_MM + HEAD_MM + 0.8 - tips.0.min(tips.1)).max(LEAST_ADJUSTER_MM);
        // Room for the spring as it usually stands; a longer one runs on into the straight part of the sheath.
        let room_for_spring = 0.8 * free_spring_mm(engine);
        let right = (tips.1 + adjuster + room_for_spring).max(tips.0 + adjuster) + 5.0;
        let servo_full = angle_or(engine.servo.travel.value, 2.0);
        let valve_full = (servo_full * servo_radii.0 / valve_radii.0).clamp(0.2, 4.0);
        let valve_part = ValvePart::of(engine, valve_full, valve_rim);
        let left = (-valve_part.closed_edge.x).max(valve_rim - LEFT + 3.0);
        let up = valve_part.up.max(valve_rim + 2.0);
        let scale = ((84.0 - LEFT) / (left + right)).min(36.0 / (2.0 * servo_rim + 9.0)).clamp(0.25, 1.6);
        let shaft_y = (up * scale).max(valve_radii.0 * scale + 12.5) + 2.0;
        let down = ((valve_part.closed_edge.y + 9.0) * scale).max(valve_radii.1 * scale + 8.0);
        let servo_y = shaft_y + (valve_radii.1 * scale + 15.0).max(0.0) + servo_rim * scale + 4.0;
        let mirrored = !gear.opens_clockwise;
        let x = |from_left: f64| if mirrored { WIDTH - from_left } else { from_left };
        let servo_x = 90.0 - 9.0 - (servo_rim + 4.0) * scale;
        let notes_width = servo_x - (servo_rim + 5.0) * scale - 3.0;
        let notes_top = shaft_y + down + 8.0;
        let seen = seen_from(engine, notes_width);
        let notes_end = notes_top + FIGURES_MM + NOTE_LINE_MM * seen.len() as f64 + 3.5;
        let height = (servo_y + servo_rim * scale + 4.0).max(notes_end);
        let notes_left = if mirrored { WIDTH - notes_width - 1.0 } else { 1.0 };
        Self {
            valve: Place { origin: at(x(LEFT + left * scale), shaft_y), scale, mirrored },
            servo: Place { origin: at(x(servo_x), servo_y), scale, mirrored },
            height,
            valve_radii,
            servo_radii,
            valve_rim,
            servo_rim,
            gaps,
            bracket,
            adjuster,
            spring,
            closing_when_not_slack: closing_when_not_slack(engine, pose),
            closed_edge: valve_part.closed_edge,
            reach: valve_part.reach,
            drop: mm(engine.valve.closed_drop.value, 0.0, 60.0, 5.0),
            valve_full,
            servo_full,
            bends: (x(97.5), x(92.0)),
            notes_left,
            notes_top,
            seen,
        }
    }

    /// Where a wire leaves the rim, right of the shaft, real mm: gaps are measured from there.
    pub(super) fn leaves(&self) -> (f64, f64) {
        (leave(self.valve_rim, self.valve_radii.0), leave(self.valve_rim, self.valve_radii.1))
    }
}

/// How the gear turns and from where that is seen, in lines of `width` mm.
fn seen_from(engine: &Engine, width: f64) -> Vec<String> {
    let turn = if engine.gear.opens_clockwise { "clockwise" } else { "anticlockwise" };
    wrap(&format!("Opens {turn}, seen from {}", engine.gear.seen_from), NOTE_MM, width, 5)
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

/// A closing wire on its spring is pulled but gives way until the coils touch; only then is it taut.
fn closing_when_not_slack(engine: &Engine, pose: &GearPose) -> &'static str {
    let ReturnSpring::ClosingAdjuster { solid_length, .. } = &engine.gear.spring else { return "taut" };
    // A hundredth of a millimetre is below what can be seen between coils.
    match pose.spring_length_m {
        Some(m) if m <= solid_length.value + 1e-5 => "taut, spring coils touch",
        _ => "pulled by its spring",
    }
}

/// How the valve lies about its shaft.
struct ValvePart {
    closed_edge: Point,
    /// From edge to back end of a blade, mm.
    reach: f64,
    /// Highest point above the shaft, mm.
    up: f64,
}

impl ValvePart {
    fn of(engine: &Engine, valve_full: f64, rim: f64) -> Self {
        let drop = mm(engine.valve.closed_drop.value, 0.0, 60.0, 5.0);
        match &engine.valve.kind {
            ValveKind::Blade { arm, arm_start, .. } => {
                let slide = slide_angle(&engine.valve.kind);
                let arm = mm(arm.value, 2.0, 60.0, 14.0);
                let start =
                    if arm_start.value.is_finite() { arm_start.value.clamp(-1.57, 1.57) } else { 0.0 };
                let end = (start + valve_full).min(std::f64::consts::FRAC_PI_2);
                let distance = arm * (start.cos() + 1.0) / 2.0;
                blade_part(slide, distance, arm * start.sin(), arm * end.sin(), drop, rim)
            }
            ValveKind::Table { .. } => blade_part(0.0, 8.0, 0.0, 10.0, drop, rim),
            kind => {
                let pivot = ValveBody::of(kind, 0.0, 0.0, 1.0).pivot.unwrap_or_default();
                let shaft = pivot - at(-3.0, rim + 8.0 + above_pivot(kind, valve_full));
                Self { closed_edge: at(0.0, 0.0) - shaft, reach: 1.0, up: rim }
            }
        }
    }
}

/// A blade whose axis passes the shaft at `distance`; its drive pin goes from `pin` to `pin_end` along the slide. The
/// blade is made so long that the port roof stands clear of the pulley's rim.
fn blade_part(slide: f64, distance: f64, pin: f64, pin_end: f64, drop: f64, rim: f64) -> ValvePart {
    let (along, across) = (at(slide.sin(), -slide.cos()), at(-slide.cos(), -slide.sin()));
    let closed_edge = |reach: f64| across * (distance + THICK_MM / 2.0) + along * (pin - reach);
    let clear = |reach: f64| (closed_edge(reach) - at(0.0, drop)).length() >= rim + CLEAR_MM;
    let longer = (0..160).map(|i| LEAST_REACH_MM + 0.5 * f64::from(i));
    let reach = longer.clone().find(|&r| clear(r)).unwrap_or(LEAST_REACH_MM);
    let back = across * distance + along * (pin_end + TAIL_MM);
    ValvePart { closed_edge: closed_edge(reach), reach: reach + TAIL_MM, up: 1.0 - back.y }
}

/// How far a turning valve reaches above its pivot anywhere in its travel, mm.
fn above_pivot(kind: &ValveKind, valve_full: f64) -> f64 {
    match kind {
        ValveKind::Drum { radius, .. } => mm(radius.value, 1.0, 60.0, 14.0),
        ValveKind::Flap { radius, start, ratio } => {
            let end = start.value + ratio.value * valve_full;
            mm(radius.value, 1.0, 60.0, 30.0) * end.clamp(0.0, 1.57).sin() + THICK_MM
        }
        _ => 0.0,
    }
}

/// True when the valve turns on its own shaft, geared to the pulley.
pub(super) fn geared(kind: &ValveKind) -> bool {
    match kind {
        ValveKind::Flap { ratio, .. } | ValveKind::Drum { ratio, .. } => (ratio.value - 1.0).abs() > 1e-6,
        _ => false,
    }
}
