//! Bracket, adjusters, spring, sheaths and wires.

use super::GearPose;
use super::frame::{Frame, HEAD_MM};
use crate::picture::{length, name, note};
use drawing::{Anchor, Dimension, DimensionLabel, Draw, Group, Item, Path, Point, Scene, Style, at};
use quantity::Units;

/// Half the width of a sheath, mm.
const SHEATH_HALF: f64 = 1.25;
/// Least and greatest sag that is drawn, mm: a slack wire must look slack.
const SAG: (f64, f64) = (0.8, 6.0);

/// One cable at the valve end, in real mm from the valve shaft.
struct Run {
    /// Height of the wire, down positive.
    y: f64,
    /// Where the wire leaves the rim.
    leaves: f64,
    /// Sheath end, where the gap ends.
    tip: f64,
    /// Right end of the adjuster's head.
    head: f64,
    /// Where the sheath begins (right of the spring when there is one).
    sheath: f64,
    slack_m: f64,
    wire: Style,
}

fn runs(pose: &GearPose, frame: &Frame) -> [Run; 2] {
    let leaves = frame.leaves();
    let (opening_tip, closing_tip) = (leaves.0 + frame.gaps.0, leaves.1 + frame.gaps.1);
    let head = |tip: f64| tip + frame.adjuster;
    [
        Run {
            y: -frame.valve_radii.0,
            leaves: leaves.0,
            tip: opening_tip,
            head: head(opening_tip),
            sheath: head(opening_tip),
            slack_m: pose.opening_slack_m,
            wire: Style::WireOpening,
        },
        Run {
            y: frame.valve_radii.1,
            leaves: leaves.1,
            tip: closing_tip,
            head: head(closing_tip),
            sheath: head(closing_tip) + frame.spring.unwrap_or(0.0),
            slack_m: pose.closing_slack_m,
            wire: Style::WireClosing,
        },
    ]
}

/// Draws bracket, adjusters, spring and sheaths.
pub(super) fn draw(scene: &mut Scene, pose: &GearPose, frame: &Frame) {
    let [opening, closing] = runs(pose, frame);
    bracket(scene, frame);
    sheath(scene, frame, &opening, frame.bends.0, frame.servo_radii.0);
    sheath(scene, frame, &closing, frame.bends.1, -frame.servo_radii.1);
    for run in [&opening, &closing] {
        adjuster(scene, frame, run);
    }
    spring(scene, frame, &closing);
}

/// Draws the free wires, over the pulleys, with names and dimensions.
pub(super) fn draw_wires(scene: &mut Scene, pose: &GearPose, frame: &Frame, units: Units) {
    let [opening, closing] = runs(pose, frame);
    for run in [&opening, &closing] {
        wire(scene, frame, run);
    }
    label(scene, frame, &opening, ("opening cable", "taut"), -1.0, units);
    label(scene, frame, &closing, ("closing cable", frame.closing_when_not_slack), 1.0, units);
    gap(scene, frame, &opening, pose.opening_gap_m, -1.0, units);
    gap(scene, frame, &closing, pose.closing_gap_m, 1.0, units);
    if let Some(length_mm) = frame.spring {
        let ends = (frame.valve.at(closing.head, closing.y), frame.valve.at(closing.sheath, closing.y));
        dimension(scene, ends, format!("spring {}", length(length_mm / 1e3, 1, units)), -1.0);
    }
}

/// The plate through which both adjusters are screwed.
fn bracket(scene: &mut Scene, frame: &Frame) {
    let place = frame.valve;
    let (top, bottom) = (-frame.valve_radii.0 - 3.6, frame.valve_radii.1 + 3.6);
    let (a, b) = (place.at(frame.bracket - 1.1, top), place.at(frame.bracket + 1.1, bottom));
    let corner = at(a.x.min(b.x), a.y);
    scene.rect(corner, (a.x - b.x).abs(), b.y - a.y, 0.4, Style::Metal);
}

/// Threaded sleeve with head and lock nut; the sheath's end stands in it.
fn adjuster(scene: &mut Scene, frame: &Frame, run: &Run) {
    let place = frame.valve;
    let mut group = Group::with_class("adjuster");
    let mut block = |from: f64, to: f64, half: f64, style: Style| {
        let (a, b) = (place.at(from, run.y - half), place.at(to, run.y + half));
        group.rect(at(a.x.min(b.x), a.y), (a.x - b.x).abs(), b.y - a.y, 0.25, style);
    };
    block(run.tip, run.head - HEAD_MM, 1.9, Style::Metal);
    block(frame.bracket + 1.1, frame.bracket + 3.6, 3.1, Style::Metal);
    block(run.head - HEAD_MM, run.head, 2.9, Style::Metal);
    let mut x = run.tip + 0.8;
    while x < run.head - HEAD_MM - 0.3 {
        let hidden = (x - frame.bracket).abs() < 1.4 || (x > frame.bracket && x < frame.bracket + 3.8);
        if !hidden {
            group.line(place.at(x, run.y - 1.9), place.at(x + 0.35, run.y + 1.9), Style::Hatching);
        }
        x += 0.9;
    }
    scene.group(group);
}

/// Compression spring between the closing adjuster and the sheath's end.
fn spring(scene: &mut Scene, frame: &Frame, run: &Run) {
    let Some(length_mm) = frame.spring else { return };
    let place = frame.valve;
    let (from, coils) = (run.head, 6);
    let half = 2.9;
    let mut points = vec![place.at(from, run.y + half)];
    for i in 0..coils {
        let x = |part: f64| from + length_mm * (f64::from(i) + part) / f64::from(coils);
        points.push(place.at(x(0.5), run.y - half));
        points.push(place.at(x(1.0), run.y + half));
    }
    let mut group = Group::with_class("spring");
    group.polyline(points, Style::Spring);
    let (a, b) = (place.at(run.sheath, run.y - 3.2), place.at(run.sheath + 1.2, run.y + 3.2));
    group.rect(at(a.x.min(b.x), a.y), (a.x - b.x).abs(), b.y - a.y, 0.2, Style::Metal);
    scene.group(group);
}

/// Sheath from the adjuster round to the servo, with a break: its length is not to scale.
fn sheath(scene: &mut Scene, frame: &Frame, run: &Run, bend_x: f64, servo_y: f64) {
    let (place, servo) = (frame.valve, frame.servo);
    let start = place.at(run.sheath - 3.0, run.y);
    let end = servo.at(frame.servo_rim + 5.0, servo_y);
    let inwards = if place.mirrored { 1.0 } else { -1.0 };
    let radius = 6.0;
    let path = |half: f64| {
        // Offset copies of the same line are the two edges of the sheath.
        let x = bend_x + inwards * half;
        let (top, bottom) = (start.y + half, end.y - half);
        let r = radius - half;
        Path::from(at(start.x, top))
            .line_to(at(x + inwards * r, top))
            .arc_to(at(x, top + r), r, !place.mirrored)
            .line_to(at(x, bottom - r))
            .arc_to(at(x + inwards * r, bottom), r, !place.mirrored)
            .line_to(at(end.x, bottom))
    };
    let half = SHEATH_HALF * place.scale;
    let mut group = Group::with_class("cable");
    group.trace(path(0.0), run.wire);
    group.trace(path(half), Style::Outline);
    group.trace(path(-half), Style::Outline);
    let middle = (start.y + end.y) / 2.0 + if run.y < 0.0 { -1.2 } else { 1.2 };
    break_mark(&mut group, at(bend_x, middle), half + 0.8);
    ferrule(&mut group, end, half);
    scene.group(group);
}

/// Two slanting strokes with nothing between: the part is longer than drawn.
fn break_mark(group: &mut Group, middle: Point, half: f64) {
    let corner = |dx: f64, dy: f64| at(middle.x + dx, middle.y + dy);
    let patch = [corner(-half, -0.2), corner(half, -1.6), corner(half, 0.2), corner(-half, 1.6)];
    group.area(Path::polygon(&patch), Style::Sheath);
    group.line(patch[0], patch[1], Style::Outline);
    group.line(patch[2], patch[3], Style::Outline);
}

fn ferrule(group: &mut Group, end: Point, half: f64) {
    group.rect(at(end.x - 0.8, end.y - half - 0.5), 1.6, 2.0 * half + 1.0, 0.3, Style::Metal);
}

/// The free wire at both ends; slack is drawn at the valve end.
fn wire(scene: &mut Scene, frame: &Frame, run: &Run) {
    let place = frame.valve;
    let sag = sag_mm(run.slack_m, run.tip);
    let points = (0..=24).map(|i| f64::from(i) / 24.0).map(|t| {
        let down = 4.0 * sag * t * (1.0 - t);
        place.at(run.tip * t, run.y + down)
    });
    scene.polyline(points.collect(), run.wire);
    if run.wire == Style::WireClosing && frame.spring.is_some() {
        scene.line(place.at(run.head, run.y), place.at(run.sheath, run.y), run.wire);
    }
    let servo = frame.servo;
    let y = if run.wire == Style::WireOpening { frame.servo_radii.0 } else { -frame.servo_radii.1 };
    scene.line(servo.at(0.0, y), servo.at(frame.servo_rim + 5.0, y), run.wire);
}

/// Sag of a wire that is longer than its span by the slack, real mm: a flat parabola, s = √(3·slack·span/8).
fn sag_mm(slack_m: f64, span_mm: f64) -> f64 {
    if slack_m > 0.0 && slack_m.is_finite() {
        (0.375 * 1e3 * slack_m * span_mm).sqrt().clamp(SAG.0, SAG.1)
    } else {
        0.0
    }
}

/// Name of a cable and whether it is slack or what it is when it is not; `side` -1 above the wire, 1 below.
fn label(scene: &mut Scene, frame: &Frame, run: &Run, (title, taut): (&str, &str), side: f64, units: Units) {
    let place = frame.valve;
    let state = if !run.slack_m.is_finite() {
        String::new()
    } else if run.slack_m > 0.0 {
        format!("slack {}", length(run.slack_m, 2, units))
    } else {
        taut.to_owned()
    };
    let x = frame.bracket + 4.5;
    let (first, second) = if side < 0.0 { (-9.4, -5.6) } else { (8.4, 12.2) };
    let anchor = place.onwards();
    scene.text(name(place.beside(at(x, run.y), 0.0, first), title, run.wire).anchor(anchor));
    scene.text(note(place.beside(at(x, run.y), 0.0, second), &state, Style::Label).anchor(anchor));
}

/// Dimension of the gap between pulley rim and sheath end.
fn gap(scene: &mut Scene, frame: &Frame, run: &Run, gap_m: f64, side: f64, units: Units) {
    let place = frame.valve;
    let (from, to) = (place.at(run.leaves, run.y), place.at(run.tip, run.y));
    dimension(scene, (from, to), format!("gap {}", length(gap_m, 1, units)), side);
}

/// A level dimension above (`side` -1) or below the wire with its text beyond the line.
fn dimension(scene: &mut Scene, (from, to): (Point, Point), text: String, side: f64) {
    let away = 5.2;
    let baseline = if side < 0.0 { from.y - away - 1.1 } else { from.y + away + 3.3 };
    let place = at((from.x + to.x) / 2.0, baseline);
    // A quarter turn clockwise from a step to the right points down.
    let offset = if to.x >= from.x { away * side } else { -away * side };
    scene.items.push(Item::Dimension(Dimension {
        from,
        to,
        offset,
        text,
        size: crate::picture::NOTE_MM,
        label: DimensionLabel::At(place, Anchor::Middle),
        style: Style::Measure,
    }));
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The drawn parabola is longer than its span by the slack. Flat parabola: the next term of the series is
    /// (32/5)·sag⁴/span³, so the check allows that much.
    #[test]
    fn exact_sag_holds_the_slack() {
        for (slack_mm, span_mm) in [(0.5, 20.0), (1.0, 24.0), (0.2, 15.0)] {
            let sag = sag_mm(slack_mm / 1e3, span_mm);
            let steps = 10_000;
            let height = |i: i32| {
                let t = f64::from(i) / f64::from(steps);
                4.0 * sag * t * (1.0 - t)
            };
            let step = span_mm / f64::from(steps);
            let length: f64 = (0..steps).map(|i| (height(i + 1) - height(i)).hypot(step)).sum();
            let next_term = 6.4 * sag.powi(4) / span_mm.powi(3);
            let excess = length - span_mm;
            assert!((excess - slack_mm).abs() <= next_term, "{slack_mm}: {excess}, allowed {next_term}");
        }
    }

    #[test]
    fn exact_taut_wire_is_straight() {
        for slack in [0.0, -1e-3, f64::NAN] {
            assert_eq!(sag_mm(slack, 20.0), 0.0);
        }
    }
}
