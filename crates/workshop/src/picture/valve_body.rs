//! The valve itself in a section through the port, in real mm.
//!
//! Origin: the closed edge on the bore wall. x points outwards from the bore, y down. Nothing here is measured but what
//! the engine file says of the valve; lengths it does not say (thickness, how far a blade reaches) are drawn usual.

use drawing::{Path, Point, at};
use engine::model::ValveKind;
use std::f64::consts::{FRAC_PI_2, PI};

/// Thickness of a drawn blade or flap, mm.
pub(crate) const THICK_MM: f64 = 3.2;
/// Steepest slide angle that is drawn; a blade lying flatter would not look like one.
const STEEPEST_RAD: f64 = 75.0 * PI / 180.0;

/// A valve in its place.
#[derive(Debug, Clone)]
pub(crate) struct ValveBody {
    /// Its outline.
    pub(crate) outline: Path,
    /// Its edge: where it ends at the bore wall.
    pub(crate) edge: Point,
    /// What it turns about; none for a blade or an unknown valve.
    pub(crate) pivot: Option<Point>,
}

/// The slide angle as drawn, rad.
pub(crate) fn slide_angle(kind: &ValveKind) -> f64 {
    match kind {
        ValveKind::Blade { slide_angle, .. } if slide_angle.value.is_finite() => {
            slide_angle.value.clamp(-STEEPEST_RAD, STEEPEST_RAD)
        }
        _ => 0.0,
    }
}

impl ValveBody {
    /// The valve with its edge `lift_mm` above closed at pulley travel `travel_rad`; a blade reaches `reach_mm` back
    /// from its edge.
    pub(crate) fn of(kind: &ValveKind, travel_rad: f64, lift_mm: f64, reach_mm: f64) -> Self {
        match kind {
            ValveKind::Blade { .. } => blade(slide_angle(kind), lift_mm, reach_mm),
            ValveKind::Table { .. } => blade(0.0, lift_mm, reach_mm),
            ValveKind::Flap { radius, start, ratio } => {
                flap(1e3 * radius.value, start.value, start.value + ratio.value * travel_rad)
            }
            ValveKind::Drum { radius, start, ratio } => {
                drum(1e3 * radius.value, start.value, start.value + ratio.value * travel_rad)
            }
        }
    }
}

/// A blade: a strip along its slide with its end cut level, like the port roof.
fn blade(angle: f64, lift: f64, reach: f64) -> ValveBody {
    let slide = at(angle.sin(), -angle.cos());
    let edge = slide * (lift / angle.cos());
    let across = at(THICK_MM / angle.cos(), 0.0);
    let square = slide.quarter_turn() * THICK_MM;
    let back = edge + slide * reach;
    let outline = Path::rounded(&[(edge, 0.0), (back, 0.7), (back + square, 0.7), (edge + across, 0.4)]);
    ValveBody { outline, edge, pivot: None }
}

/// A flap: a tapered arm from its pivot to its edge.
fn flap(radius: f64, start: f64, now: f64) -> ValveBody {
    let pivot = at(radius * start.cos(), radius * start.sin());
    let edge = pivot.polar(radius, PI + now);
    let along = at((PI + now).cos(), (PI + now).sin());
    // The thickness lies above the edge: the edge itself is the lower corner.
    let up = along.quarter_turn();
    let outline = Path::rounded(&[
        (edge, 0.0),
        (edge + up * (0.55 * THICK_MM) - along * 0.6, 0.6),
        (pivot + up * (0.95 * THICK_MM), 0.0),
        (pivot - along * (0.95 * THICK_MM), 0.95 * THICK_MM),
        (pivot - up * (0.95 * THICK_MM), 0.0),
    ]);
    ValveBody { outline, edge, pivot: Some(pivot) }
}

/// A drum: a disc cut away below the line from its edge through the axis.
fn drum(radius: f64, start: f64, now: f64) -> ValveBody {
    let pivot = at(radius * start.cos(), radius * start.sin());
    let edge = pivot.polar(radius, PI + now);
    let far = pivot.polar(radius, now - 0.35);
    let low = pivot.polar(0.30 * radius, now + FRAC_PI_2);
    let outline = Path::from(edge).arc_to(far, radius, true).line_to(low).close();
    ValveBody { outline, edge, pivot: Some(pivot) }
}

/// A path in real mm on the sheet.
pub(crate) fn on_sheet(path: &Path, place: &super::place::Place) -> Path {
    use drawing::Segment::{Arc, Close, Line, Move};
    let segments = path.segments.iter().map(|segment| match *segment {
        Move(p) => Move(place.point(p)),
        Line(p) => Line(place.point(p)),
        Arc { to, radius, clockwise, large } => Arc {
            to: place.point(to),
            radius: radius * place.scale,
            clockwise: clockwise != place.mirrored,
            large,
        },
        Close => Close,
    });
    Path { segments: segments.collect() }
}
