//! The two pulleys with marks, stop pin and direction of turning.

use super::GearPose;
use super::frame::Frame;
use crate::picture::place::Place;
use crate::picture::{NOTE_MM, note};
use drawing::{Anchor, Draw, Group, Item, Path, Point, Scene, Style, Turn, at};
use std::f64::consts::{FRAC_PI_2, PI};

/// Direction of the fixed stop pin from the valve shaft, rad.
const PIN_AT: f64 = 0.80 * PI;

fn sane(rad: f64) -> f64 {
    if rad.is_finite() { rad.clamp(-1.0, 6.5) } else { 0.0 }
}

/// A groove arc with the wire's end, `from` to `to` rad.
fn wrap_wire(group: &mut Group, place: &Place, radius: f64, (from, to): (f64, f64), style: Style) {
    let (start, sweep) = (place.direction(from), place.turn(to - from));
    group.sheet().push(Item::Arc {
        centre: place.at(0.0, 0.0),
        radius: radius * place.scale,
        start_rad: start,
        sweep_rad: sweep,
        style,
    });
    group.dot(place.point(at(0.0, 0.0).polar(radius, from)), 0.85, style);
}

/// A radial line from `inner` to `outer` at `rad`.
fn radial(group: &mut impl Draw, place: &Place, (inner, outer): (f64, f64), rad: f64, style: Style) {
    let on = |r: f64| place.point(at(0.0, 0.0).polar(r, rad));
    group.line(on(inner), on(outer), style);
}

/// Valve pulley: rim, slot with stop pin, witness mark with its lines, arrow of opening.
pub(super) fn draw_valve_pulley(scene: &mut Scene, pose: &GearPose, frame: &Frame) {
    let place = frame.valve;
    let travel = sane(pose.valve_travel_rad);
    let mut group = Group::with_class("valve-pulley");
    group.circle(place.at(0.0, 0.0), frame.valve_rim * place.scale, Style::Metal);
    let (opening, closing) = frame.valve_radii;
    // Opening wire leaves over the top, closing wire under the bottom; their ends turn with the pulley.
    let opening_end = -FRAC_PI_2 - frame.valve_full - 0.4 + travel;
    wrap_wire(&mut group, &place, opening, (opening_end, -FRAC_PI_2), Style::WireOpening);
    wrap_wire(&mut group, &place, closing, (FRAC_PI_2 + 0.4 + travel, FRAC_PI_2), Style::WireClosing);
    stop_pin(&mut group, frame, travel);
    let (radius, centre) = (0.46 * frame.valve_rim * place.scale, place.at(0.0, 0.0));
    let (start_rad, sweep_rad) = (place.direction(-2.55), place.turn(1.9));
    group.sheet().push(Item::Turn(Turn { centre, radius, start_rad, sweep_rad, style: Style::Outline }));
    scene.group(group);
    let pin = place.point(at(0.0, 0.0).polar(0.70 * frame.valve_rim, PIN_AT));
    let under = place.beside(at(0.0, frame.valve_rim), 2.0, NOTE_MM + 1.4);
    scene.line(pin, at((pin.x + under.x) / 2.0, under.y - NOTE_MM), Style::Measure);
    scene.text(note(under, "stop pin", Style::Note).anchor(place.backwards()).halo());
    witness(scene, pose, frame, travel);
    let label = place.beside(at(0.0, -0.46 * frame.valve_rim), 0.0, -1.0);
    if frame.valve_rim * place.scale > 9.0 {
        scene.text(note(label, "opens", Style::Label).anchor(Anchor::Middle));
    }
}

/// The slot in the pulley and the fixed pin in it; at zero travel the slot's end stands against the pin.
fn stop_pin(group: &mut Group, frame: &Frame, travel: f64) {
    let place = frame.valve;
    let (ring, pin) = (0.70 * frame.valve_rim, 1.1);
    let half = pin / ring;
    let (first, last) = (PIN_AT - frame.valve_full - 0.15 + travel - half, PIN_AT + travel + half);
    let on = |r: f64, a: f64| at(0.0, 0.0).polar(r, a);
    let long = last - first > PI;
    let arc = |path: Path, to: Point, r: f64, clockwise: bool| {
        if long { path.long_arc_to(to, r, clockwise) } else { path.arc_to(to, r, clockwise) }
    };
    let (inner, outer) = (ring - pin - 0.1, ring + pin + 0.1);
    let slot = arc(Path::from(on(outer, first)), on(outer, last), outer, true).line_to(on(inner, last));
    let slot = arc(slot, on(inner, first), inner, false).close();
    group.area(crate::picture::valve_body::on_sheet(&slot, &place), Style::Sheath);
    group.dot(place.point(on(ring, PIN_AT)), pin * place.scale, Style::Outline);
}

/// Witness mark on the pulley, fixed lines for closed and flush beside it.
fn witness(scene: &mut Scene, pose: &GearPose, frame: &Frame, travel: f64) {
    let place = frame.valve;
    let flush = pose.flush_travel_rad.filter(|f| f.is_finite()).unwrap_or(frame.valve_full).clamp(0.1, 4.5);
    let closed_at = -flush / 2.0;
    let rim = frame.valve_rim;
    let reach = 1.2 / place.scale;
    radial(scene, &place, (0.62 * rim, rim), closed_at + travel, Style::Mark);
    for (angle, text) in [(closed_at, "closed"), (closed_at + flush, "flush")] {
        radial(scene, &place, (rim + 0.5 * reach, rim + 2.2 * reach), angle, Style::Outline);
        let end = at(0.0, 0.0).polar(rim + 2.2 * reach, angle);
        let label = place.beside(end, 0.8, 0.36 * NOTE_MM);
        scene.text(note(label, text, Style::Note).anchor(place.onwards()).halo());
    }
}

/// Servo: case, pulley, wires, pointer over its scale.
pub(super) fn draw_servo(scene: &mut Scene, pose: &GearPose, frame: &Frame) {
    let place = frame.servo;
    let travel = sane(pose.servo_travel_rad);
    let rim = frame.servo_rim;
    let mut group = Group::with_class("servo");
    let (corner, far) = (place.at(-rim - 4.0, -rim - 1.5), place.at(0.35 * rim, rim + 1.5));
    let (left, right) = (corner.x.min(far.x), corner.x.max(far.x));
    group.rect(at(left, corner.y), right - left, far.y - corner.y, 1.5, Style::Servo);
    group.circle(place.at(0.0, 0.0), rim * place.scale, Style::Metal);
    let (opening, closing) = frame.servo_radii;
    wrap_wire(&mut group, &place, opening, (FRAC_PI_2 + 0.4 + travel, FRAC_PI_2), Style::WireOpening);
    let closing_end = -FRAC_PI_2 - frame.servo_full - 0.4 + travel;
    wrap_wire(&mut group, &place, closing, (closing_end, -FRAC_PI_2), Style::WireClosing);
    group.circle(place.at(0.0, 0.0), 2.3 * place.scale, Style::Metal);
    let closed_at = -frame.servo_full / 2.0;
    let reach = 1.2 / place.scale;
    for (angle, part) in [(closed_at, 0.0), (closed_at + frame.servo_full, frame.servo_full)] {
        radial(&mut group, &place, (rim + 0.5 * reach, rim + 2.2 * reach), angle, Style::Outline);
        let label = place.beside(at(0.0, 0.0).polar(rim + 2.2 * reach, angle), 0.8, 0.36 * NOTE_MM);
        let text = format!("{:.0}°", part.to_degrees());
        group.text(note(label, &text, Style::Note).anchor(place.onwards()).halo());
    }
    radial(&mut group, &place, (2.3, rim), closed_at + travel, Style::Mark);
    let (radius, centre) = (0.46 * rim * place.scale, place.at(0.0, 0.0));
    let (start_rad, sweep_rad) = (place.direction(2.1), place.turn(2.0));
    group.sheet().push(Item::Turn(Turn { centre, radius, start_rad, sweep_rad, style: Style::Outline }));
    scene.group(group);
    scene.text(
        note(place.beside(at(0.0, 0.5 * rim), 0.0, NOTE_MM), "servo", Style::Label).anchor(Anchor::Middle),
    );
}
