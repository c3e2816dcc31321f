//! The valve, the bore wall with the port roof, and the arm that drives the valve.

use super::GearPose;
use super::frame::{Frame, geared};
use crate::picture::note;
use crate::picture::place::Place;
use crate::picture::valve_body::{THICK_MM, ValveBody, on_sheet, slide_angle};
use drawing::{Draw, Group, Path, Scene, Style, at};
use engine::model::{Engine, ValveKind};

/// Place with its origin at the closed edge on the bore wall.
fn wall_place(frame: &Frame) -> Place {
    Place { origin: frame.valve.point(frame.closed_edge), ..frame.valve }
}

/// Bore wall, valve and flush line.
pub(super) fn draw(scene: &mut Scene, engine: &Engine, pose: &GearPose, frame: &Frame) {
    let place = wall_place(frame);
    draw_wall(scene, engine, frame, &place);
    let lift = if pose.lift_m.is_finite() { (1e3 * pose.lift_m).clamp(-20.0, 80.0) } else { 0.0 };
    let body = ValveBody::of(&engine.valve.kind, pose.valve_travel_rad, lift, frame.reach);
    let mut valve = Group::with_class("valve-body");
    valve.area(on_sheet(&body.outline, &place), Style::Valve);
    scene.group(valve);
    let (start, end) = (place.beside(at(0.0, -frame.drop), -7.5, 0.0), place.at(0.6, -frame.drop));
    scene.line(start, end, Style::Target);
    let label = place.beside(at(0.0, -frame.drop), -1.0, -1.0);
    scene.text(note(label, "flush", Style::Target).anchor(place.backwards()).halo());
    let edge = place.at(0.0, body.edge.y);
    scene.line(place.beside(at(0.0, body.edge.y), -5.0, 0.0), edge, Style::Measure);
    scene.dot(place.point(body.edge), 0.6, Style::Outline);
}

/// Bore wall above the port: cut metal with the slot of a blade.
fn draw_wall(scene: &mut Scene, engine: &Engine, frame: &Frame, place: &Place) {
    let kind = &engine.valve.kind;
    let slope = slide_angle(kind).tan();
    let roof = -frame.drop;
    // The wall ends behind the pulley: only the port matters here.
    let top = roof - 9.0;
    let blade = matches!(kind, ValveKind::Blade { .. } | ValveKind::Table { .. });
    let at_roof = (slope * frame.drop).max(0.0);
    let at_top = if blade { (slope * -top).max(0.0) } else { 4.0 };
    let corners = [(0.0, top), (at_top.max(0.01), top), (at_roof.max(0.01), roof), (0.0, roof)];
    scene.cut_metal(Path::polygon(&corners.map(|(x, y)| place.at(x, y))), 0.785);
    if blade {
        let slot = THICK_MM / slide_angle(kind).cos() + 0.4;
        let (a, b) = (at_roof + slot, at_top + slot);
        let housing = [(b, top), (b + 3.5, top), (a + 3.5, roof), (a, roof)];
        scene.cut_metal(Path::polygon(&housing.map(|(x, y)| place.at(x, y))), 0.785);
    }
    scene.line(place.at(0.0, 2.0), place.at(0.0, 9.0), Style::Hidden);
    scene.text(note(place.beside(at(0.0, 9.0), -1.0, 0.0), "bore", Style::Note).anchor(place.backwards()));
}

/// The arm on the pulley shaft with its drive pin, or the link to a valve on its own shaft.
pub(super) fn draw_arm(scene: &mut Scene, engine: &Engine, pose: &GearPose, frame: &Frame) {
    let place = frame.valve;
    let mut group = Group::with_class("arm");
    match &engine.valve.kind {
        ValveKind::Blade { arm, arm_start, .. } => {
            let turn = arm_start.value + pose.valve_travel_rad;
            let length = (1e3 * arm.value).clamp(3.0, 60.0);
            let direction = std::f64::consts::PI + slide_angle(&engine.valve.kind) + turn;
            let pin = at(0.0, 0.0).polar(length, direction);
            arm_shape(&mut group, &place, pin, direction);
        }
        kind => {
            let body = ValveBody::of(kind, pose.valve_travel_rad, 1e3 * pose.lift_m, frame.reach);
            let wall = wall_place(frame);
            let far = body.pivot.unwrap_or(body.edge + at(THICK_MM / 2.0, -0.8 * frame.reach));
            // A turning valve is drawn below the pulley: a chain says that it sits on the same shaft, dashes that
            // something joins them.
            let joined = geared(kind) || body.pivot.is_none();
            let style = if joined { Style::Hidden } else { Style::Centre };
            group.line(place.point(at(0.0, 0.0)), wall.point(far), style);
            group.circle(wall.point(far), 1.1 * place.scale.max(0.6), Style::Metal);
        }
    }
    group.circle(place.at(0.0, 0.0), 2.3 * place.scale, Style::Metal);
    group.dot(place.at(0.0, 0.0), 0.6, Style::Outline);
    scene.group(group);
}

/// A bar with round ends from the shaft to the pin.
fn arm_shape(group: &mut Group, place: &Place, pin: drawing::Point, direction: f64) {
    let side = |p: drawing::Point, r: f64, turn: f64| p.polar(r, direction + turn);
    let (shaft, quarter) = (at(0.0, 0.0), std::f64::consts::FRAC_PI_2);
    let (wide, narrow) = (2.6, 1.9);
    let outline = Path::from(side(shaft, wide, -quarter))
        .line_to(side(pin, narrow, -quarter))
        .arc_to(side(pin, narrow, quarter), narrow, true)
        .line_to(side(shaft, wide, quarter))
        .arc_to(side(shaft, wide, -quarter), wide, true)
        .close();
    group.area(on_sheet(&outline, place), Style::Metal);
    group.dot(place.point(pin), 0.9 * place.scale.max(0.6), Style::Outline);
}
