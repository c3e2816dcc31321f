//! Cylinder wall, port, blade and the lever on its shaft.

use super::{ARM, HEIGHT, NAME, SHAFT, WAY, note, turned};
use drawing::{Anchor, Draw, Group, Path, Point, Scene, Style, Text, at};
use std::f64::consts::{FRAC_PI_4, PI};

/// Height of port roof and port floor on the sheet, mm.
pub(super) const ROOF: f64 = 46.0;
pub(super) const FLOOR: f64 = 64.0;
/// Bore wall.
const BORE: f64 = 16.0;
/// Lean of the slide from upright, rad.
const LEAN: f64 = 25.0 * PI / 180.0;
/// Thickness of the blade square to its slide, mm.
const THICK: f64 = 3.4;
/// From the edge to the lever's pin along the blade, mm.
const REACH: f64 = 36.0;
/// Upper face of the port's metal.
const FACE: f64 = 37.0;
/// Where the port's metal ends.
const END: f64 = 60.0;

/// Direction of the slide, opening.
fn slide() -> Point {
    at(LEAN.sin(), -LEAN.cos())
}

/// The blade's edge on the bore side.
pub(super) fn edge(travel: f64) -> Point {
    let open = at(BORE + WAY * LEAN.sin(), ROOF);
    open - slide() * ((1.0 - travel) * WAY)
}

/// The pin at the blade's upper end.
pub(super) fn pin(travel: f64) -> Point {
    let middle = SHAFT + slide().quarter_turn() * -ARM;
    middle + slide() * ((travel - 0.5) * WAY)
}

/// Direction from the shaft to the pin, rad.
pub(super) fn lever_direction(travel: f64) -> f64 {
    PI + LEAN + turned(travel)
}

/// Cylinder, port and blade.
pub(super) fn draw(scene: &mut Scene, travel: f64) {
    let edge = edge(travel);
    scene.area(
        Path::polygon(&[at(BORE, edge.y), at(BORE, FLOOR), at(edge.x.max(BORE + 0.1), FLOOR), edge]),
        Style::OpenArea,
    );
    draw_metal(scene);
    draw_blade(scene, travel);
    let crown = FLOOR - 1.0;
    scene.rect(at(2.0, crown), BORE - 2.4, HEIGHT - 1.0 - crown, 0.6, Style::Piston);
    note(scene, at(2.6, crown + 4.2), "piston", Anchor::Start);
    scene.line(at(BORE - 11.0, ROOF), at(END, ROOF), Style::Target);
    note(scene, at(BORE - 1.4, ROOF - 1.2), "flush", Anchor::End);
    scene.line(at(BORE - 6.0, edge.y), edge, Style::Mark);
    if travel < 0.72 {
        scene.text(
            Text::new(at(BORE - 1.4, edge.y - 1.2), "edge", NAME, Style::Label).anchor(Anchor::End).halo(),
        );
    } else {
        scene.text(
            Text::new(at(BORE - 1.4, edge.y + 3.4), "edge", NAME, Style::Label).anchor(Anchor::End).halo(),
        );
    }
    scene.arrow(at(34.0, 56.5), at(52.0, 56.5), Style::Measure);
    note(scene, at(34.0, 60.6), "to the exhaust", Anchor::Start);
}

/// Wall of the cylinder with the slot of the blade, and the floor of the port, cut.
fn draw_metal(scene: &mut Scene) {
    // Half a clearance on both sides of the blade.
    let clear = 0.35 / LEAN.cos();
    let left = |y: f64| edge(1.0).x + (ROOF - y) * LEAN.tan() - clear;
    let right = |y: f64| left(y) + THICK / LEAN.cos() + 2.0 * clear;
    let bore_side = [
        at(BORE, ROOF),
        at(BORE, 14.0),
        at(BORE + 5.0, 14.0),
        at(BORE + 5.0, FACE),
        at(left(FACE), FACE),
        at(left(ROOF), ROOF),
    ];
    let pipe_side = [at(right(ROOF), ROOF), at(right(FACE), FACE), at(END, FACE), at(END, ROOF)];
    let below = [at(BORE, FLOOR), at(END, FLOOR), at(END, HEIGHT - 6.0), at(BORE, HEIGHT - 6.0)];
    for outline in [&bore_side[..], &pipe_side, &below] {
        scene.cut_metal(Path::polygon(outline), FRAC_PI_4);
    }
    note(scene, at(2.0, 18.0), "cylinder", Anchor::Start);
}

/// The blade: its lower end cut level, like the roof; its upper end takes the pin.
fn draw_blade(scene: &mut Scene, travel: f64) {
    let edge = edge(travel);
    let across = at(THICK / LEAN.cos(), 0.0);
    let square = at(LEAN.cos(), LEAN.sin()) * THICK;
    let back = edge + slide() * (REACH + 3.0);
    let outline = Path::rounded(&[(edge, 0.0), (back, 0.8), (back + square, 0.8), (edge + across, 0.3)]);
    let mut group = Group::with_class("valve");
    group.area(outline, Style::Valve);
    scene.group(group);
}

/// Lever, pulley or hub on the shaft, with its pin in the blade.
pub(super) fn draw_lever(scene: &mut Scene, travel: f64) {
    let direction = lever_direction(travel);
    let pin = pin(travel);
    let far = SHAFT.polar((pin - SHAFT).length(), direction);
    let side = (far - SHAFT).unit().map_or(at(0.0, 1.0), Point::quarter_turn);
    let mut group = Group::with_class("lever");
    let arm = [
        (SHAFT + side * 2.0, 0.0),
        (far + side * 1.5, 1.4),
        (far - side * 1.5, 1.4),
        (SHAFT - side * 2.0, 0.0),
    ];
    group.area(Path::rounded(&arm), Style::Metal);
    group.circle(SHAFT, 2.6, Style::Metal);
    group.dot(SHAFT, 0.7, Style::Outline);
    group.circle(pin, 1.0, Style::Metal);
    scene.group(group);
}
