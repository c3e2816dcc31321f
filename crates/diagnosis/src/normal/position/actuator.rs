//! Servo with two cables, governor, diaphragm.

use super::{ACTUATOR, NOTE, RIM, SHAFT, note, turned};
use drawing::{Anchor, Draw, Group, Item, Path, Point, Scene, Style, Text, Turn, at};
use std::f64::consts::{FRAC_PI_2, PI};

/// A pulley with the ends of both wires and its witness mark.
fn draw_pulley(scene: &mut Scene, centre: Point, turn_rad: f64) {
    let mut group = Group::with_class("pulley");
    group.circle(centre, RIM, Style::Metal);
    group.line(
        centre.polar(0.45 * RIM, -FRAC_PI_2 + turn_rad),
        centre.polar(RIM, -FRAC_PI_2 + turn_rad),
        Style::Mark,
    );
    scene.group(group);
}

/// Servo, two cables and valve pulley: the upper cable opens, the lower one closes.
pub(super) fn draw_servo(scene: &mut Scene, travel: f64) {
    let turn = turned(travel);
    scene.rect(at(ACTUATOR.x - 11.0, ACTUATOR.y - 11.0), 25.0, 22.0, 1.5, Style::Servo);
    draw_pulley(scene, SHAFT, turn);
    draw_pulley(scene, ACTUATOR, turn);
    let (up, down) = (at(0.0, -RIM), at(0.0, RIM));
    for (side, style) in [(up, Style::WireOpening), (down, Style::WireClosing)] {
        scene.line(SHAFT + side, ACTUATOR + side, style);
    }
    // The wires lie in their grooves as far as their ends.
    for (centre, away) in [(SHAFT, PI), (ACTUATOR, 0.0)] {
        for (start, style) in [(-FRAC_PI_2, Style::WireOpening), (FRAC_PI_2, Style::WireClosing)] {
            let end = away + turn;
            let mut sweep = end - start;
            sweep -= 2.0 * PI * (sweep / (2.0 * PI)).round();
            scene.items.push(Item::Arc {
                centre,
                radius: RIM,
                start_rad: start,
                sweep_rad: 0.8 * sweep,
                style,
            });
            scene.dot(centre.polar(RIM, start + 0.8 * sweep), 0.8, style);
        }
    }
    marks(scene, ACTUATOR);
    scene.text(Text::new(ACTUATOR + at(0.0, 5.2), "servo", NOTE, Style::Label).anchor(Anchor::Middle));
    let middle = 61.0;
    note(scene, at(middle, SHAFT.y - RIM - 1.4), "opens", Anchor::Middle);
    note(scene, at(middle, SHAFT.y + RIM - 1.4), "closes", Anchor::Middle);
}

/// Fixed lines beside the servo pulley where its mark stands when the valve is closed and open.
fn marks(scene: &mut Scene, centre: Point) {
    for (travel, text, anchor) in [(0.0, "closed", Anchor::End), (1.0, "open", Anchor::Start)] {
        let angle = -FRAC_PI_2 + turned(travel);
        scene.line(centre.polar(RIM + 0.5, angle), centre.polar(RIM + 2.2, angle), Style::Outline);
        let side = if travel > 0.5 { 0.6 } else { -0.6 };
        note(scene, centre.polar(RIM + 3.4, angle) + at(side, 0.0), text, anchor);
    }
}

/// The lever's upper arm, whose pin a rod pulls to the right to open; gives the pin.
fn draw_hub(scene: &mut Scene, travel: f64, arm_mm: f64) -> Point {
    let pin = SHAFT.polar(arm_mm, -FRAC_PI_2 + turned(travel));
    let side = (pin - SHAFT).unit().map_or(at(1.0, 0.0), Point::quarter_turn);
    let mut group = Group::with_class("lever");
    let arm = [
        (SHAFT + side * 1.8, 0.0),
        (pin + side * 1.4, 1.2),
        (pin - side * 1.4, 1.2),
        (SHAFT - side * 1.8, 0.0),
    ];
    group.area(Path::rounded(&arm), Style::Metal);
    scene.group(group);
    pin
}

/// A coil spring seen from the side, level, as a zigzag.
fn draw_spring(scene: &mut Scene, from: Point, to_x: f64, half: f64) {
    const TURNS: usize = 6;
    let step = (to_x - from.x) / (2 * TURNS) as f64;
    let corner = |i: usize| {
        let y = if i == 0 || i == 2 * TURNS {
            0.0
        } else if i % 2 == 1 {
            -half
        } else {
            half
        };
        at(from.x + step * i as f64, from.y + y)
    };
    scene.polyline((0..=2 * TURNS).map(corner).collect(), Style::Spring);
}

/// Radius of a governor ball, mm.
const BALL: f64 = 2.0;
/// Way of the collar for one mm that the balls go outwards: lean of the ramp.
const RAMP: f64 = 0.66;
/// Arm of the lever that the governor pulls, mm.
const SHORT_ARM: f64 = 5.5;

/// Distance of the balls from the axis, and place of the collar's face from the foot of the ramp, mm, once the collar
/// has moved `moved` mm: the balls touch ramp and collar.
fn governor_at(moved: f64) -> (f64, f64) {
    let out = 3.4 + moved / RAMP;
    (out, RAMP * (out - 1.2) + BALL * RAMP.hypot(1.0) + BALL)
}

/// Shaft with fixed ramp, balls, sliding collar and spring; the collar pulls the rod.
pub(super) fn draw_governor(scene: &mut Scene, travel: f64) {
    let pin = draw_hub(scene, travel, SHORT_ARM);
    let moved = pin.x - SHAFT.polar(SHORT_ARM, -FRAC_PI_2 + turned(0.0)).x;
    let axis = ACTUATOR.y + 2.0;
    let (ramp, end, half) = (70.0, 96.0, 10.0);
    scene.rect(at(66.0, axis - 1.2), end - 64.0, 2.4, 0.4, Style::Metal);
    let (out, face) = governor_at(moved);
    let collar = ramp + face;
    for side in [-1.0, 1.0] {
        let cone = [(-2.0, 1.2), (-2.0, half), (RAMP * (half - 1.2), half), (0.0, 1.2)];
        let corners: Vec<Point> = cone.iter().map(|(x, y)| at(ramp + x, axis + side * y)).collect();
        scene.area(Path::polygon(&corners), Style::Metal);
        scene.circle(at(collar - BALL, axis + side * out), BALL, Style::Valve);
    }
    scene.rect(at(collar, axis - half - 1.0), 2.0, 2.0 * half + 2.0, 0.5, Style::Metal);
    for side in [-4.0, 4.0] {
        draw_spring(scene, at(collar + 2.0, axis + side), end, 1.6);
    }
    scene.rect(at(end, axis - 7.0), 1.6, 14.0, 0.3, Style::Metal);
    // The rod runs over the ramp to a fork on the collar.
    let fork = at(collar + 1.0, axis - half - 1.0);
    scene.polyline(vec![pin, at(pin.x, 14.0), at(fork.x, 14.0), fork], Style::Mark);
    scene.dot(pin, 1.0, Style::Outline);
    let centre = at(63.0, axis);
    let arrow = Turn { centre, radius: 3.2, start_rad: 2.2, sweep_rad: 3.6, style: Style::Outline };
    scene.items.push(Item::Turn(arrow));
    note(scene, at(98.0, axis + 15.6), "ramp, balls, springs", Anchor::End);
    note(scene, at(98.0, axis + 19.4), "driven by the crankshaft", Anchor::End);
}

/// Capsule with diaphragm, spring and feed pipe; with a vent in the pipe or without.
pub(super) fn draw_diaphragm(scene: &mut Scene, travel: f64, vent: bool) {
    let pin = draw_hub(scene, travel, RIM);
    let rest = SHAFT.polar(RIM, -FRAC_PI_2 + turned(0.0));
    let moved = pin.x - rest.x;
    let axis = pin_height();
    let (left, right, half) = (70.0, 94.0, 11.0);
    scene.rect(at(left, axis - half), right - left, 2.0 * half, 4.0, Style::Servo);
    let plate = 75.0 + moved;
    let skin = |side: f64| {
        vec![at(80.0, axis + side * half), at(plate + 1.0, axis + side * 6.5), at(plate, axis + side * 5.5)]
    };
    scene.rect(at(plate, axis - 5.8), 1.4, 11.6, 0.4, Style::Metal);
    for side in [-1.0, 1.0] {
        scene.polyline(skin(side), Style::Spring);
    }
    draw_spring(scene, at(plate + 1.4, axis), right, 2.6);
    // The pin swings over a small arc; the rod follows it.
    scene.line(pin, at(plate, axis), Style::Mark);
    scene.dot(pin, 1.0, Style::Outline);
    // Feed pipe from the exhaust to the side of the pressure.
    let (foot, entry) = (56.0, at(73.0, axis + half));
    scene.polyline(vec![at(foot, 50.0), at(73.0, 50.0), entry], Style::Curve1);
    scene.dot(at(foot, 50.0), 0.9, Style::Outline);
    note(scene, at(76.0, axis + half + 4.2), "diaphragm", Anchor::Start);
    note(scene, at(76.0, axis + half + 7.8), "and spring", Anchor::Start);
    if vent {
        let valve = at(73.0, 44.0);
        scene.rect(at(valve.x - 2.0, valve.y - 2.0), 4.0, 4.0, 0.4, Style::Metal);
        scene.arrow(at(valve.x + 2.0, valve.y), at(valve.x + 8.0, valve.y), Style::Measure);
        note(scene, at(valve.x + 9.0, valve.y + 1.0), "vent valve", Anchor::Start);
    }
    note(scene, at(75.0, 51.0), "feed pipe", Anchor::Start);
}

/// Middle height of the rod.
fn pin_height() -> f64 {
    SHAFT.y - RIM * (1.0 + turned(1.0).cos()) / 2.0
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Ball, ramp and collar touch: the distance of the ball's centre from both faces is its radius.
    #[test]
    fn exact_balls_touch_ramp_and_collar() {
        for moved in [0.0, 1.5, 4.4] {
            let (out, face) = governor_at(moved);
            let centre = face - BALL;
            let from_ramp = (centre - RAMP * (out - 1.2)) / RAMP.hypot(1.0);
            assert!((from_ramp - BALL).abs() < 1e-12);
        }
        assert!(
            (governor_at(3.0).1 - governor_at(0.0).1 - 3.0).abs() < 1e-12,
            "the collar moves with the rod"
        );
    }
}
