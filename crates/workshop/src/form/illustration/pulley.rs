//! The valve pulley, its arm, stop pin and witness mark; groove radii; the shaft's torques.

use super::kind::{Cable, Illustration};
use super::sizes::Sizes;
use super::sketch::Sketch;
use drawing::{Anchor, Draw, Point, Scene, Style, at};
use std::f64::consts::{FRAC_PI_2, PI};

const CENTRE: Point = at(32.0, 33.0);
const RIM: f64 = 21.0;

pub(super) fn draw(which: Illustration, sizes: &Sizes<'_>) -> Scene {
    match which {
        Illustration::BladeArm | Illustration::ArmStart => arm(which, sizes),
        Illustration::ServoRadius(cable) => groove(cable, "servo", sizes),
        Illustration::ValveRadius(cable) => groove(cable, "valve", sizes),
        Illustration::ValvePoints => points(),
        Illustration::MarkAtFull | Illustration::MarkAtClosed => mark(which, sizes),
        Illustration::MarkRadius => mark_radius(sizes),
        Illustration::MechanicalEnd => end(sizes),
        Illustration::OpeningDirection => direction(sizes),
        _ => torque(which, sizes),
    }
}

fn blank(title: &str, text: &str) -> Sketch {
    let mut sketch = Sketch::new(66.0, title, text);
    sketch.circle(CENTRE, RIM, Style::Metal);
    sketch.circle(CENTRE, 2.2, Style::Metal);
    sketch
}

/// The wire of a cable as it lies on a pulley.
pub(super) fn wire(cable: Cable) -> Style {
    match cable {
        Cable::Opening => Style::WireOpening,
        Cable::Closing => Style::WireClosing,
    }
}

pub(super) fn word(cable: Cable) -> &'static str {
    match cable {
        Cable::Opening => "opening",
        Cable::Closing => "closing",
    }
}

fn groove(cable: Cable, end: &str, sizes: &Sizes<'_>) -> Scene {
    let word = word(cable);
    let text =
        format!("Pulley of the {end}: from its centre to the centre of the {word} wire in its groove.");
    let mut sketch = blank(&format!("Groove radius at the {end}"), &text);
    let radius = RIM - 3.4;
    sketch.circle(CENTRE, radius, Style::Hidden);
    let up = if cable == Cable::Opening { -1.0 } else { 1.0 };
    sketch.arc((CENTRE, radius), (PI, -up * FRAC_PI_2), wire(cable));
    let leaves = CENTRE.y + up * radius;
    sketch.line((CENTRE.x, leaves), (96.0, leaves), wire(cable));
    sketch.note(at(60.0, leaves - 1.8), &format!("{word} cable"), Anchor::Start);
    let on = CENTRE.polar(radius, PI - up * -0.7);
    sketch.scene.dot(CENTRE, 0.7, Style::Label);
    let key = format!("gear.{word}.{end}_radius");
    let text = sizes.asked("radius", &key);
    let place = at(60.0, CENTRE.y - up * 3.0);
    sketch.asked_at(CENTRE, on, 0.0, &text, place, Anchor::Start);
    sketch.note(at(place.x, place.y + 4.2), "to the wire's centre:", Anchor::Start);
    sketch.note(at(place.x, place.y + 8.0), "not to the rim", Anchor::Start);
    sketch.scene
}

/// The arm that drives a blade, drawn with the blade upright.
fn arm(which: Illustration, sizes: &Sizes<'_>) -> Scene {
    let asks_arm = which == Illustration::BladeArm;
    let (title, text) = if asks_arm {
        ("Arm", "From the shaft's centre to the centre of the pin that drives the blade.")
    } else {
        (
            "Arm when closed",
            "Angle of the arm from its position square to the blade, valve closed; minus when the arm has not reached it yet.",
        )
    };
    let mut sketch = Sketch::new(66.0, title, text);
    let centre = at(24.0, 30.0);
    let start = sizes.rad("valve.arm_start", (-75.0, 20.0), -33.0);
    let long = 30.0;
    let pin = centre.polar(long, -start);
    sketch.circle(centre, 15.0, Style::Metal);
    sketch.block((pin.x - 4.0, 4.0), (pin.x + 4.0, 62.0), 0.8, Style::Valve);
    sketch.note(at(pin.x + 6.0, 60.0), "blade, drawn upright", Anchor::Start);
    sketch.scene.arrow(at(pin.x + 9.0, 22.0), at(pin.x + 9.0, 8.0), Style::Outline);
    sketch.note(at(pin.x + 11.0, 12.0), "opens", Anchor::Start);
    sketch.line((centre.x - 4.0, centre.y), (72.0, centre.y), Style::Centre);
    sketch.scene.line(centre, pin, Style::Mark);
    sketch.circle(pin, 1.8, Style::Metal);
    sketch.circle(centre, 2.2, Style::Metal);
    for p in [centre, pin] {
        sketch.scene.dot(p, 0.7, Style::Label);
    }
    if asks_arm {
        let text = sizes.asked("arm", "valve.arm");
        sketch.asked_at(centre, pin, 7.0, &text, at(2.0, 60.0), Anchor::Start);
    } else {
        let sweep = if start.abs() < 0.12 { 0.3 } else { -start };
        let text = sizes.asked("arm", "valve.arm_start");
        sketch.asked_angle((centre, 20.0), (0.0, sweep), &text, at(2.0, 60.0), Anchor::Start);
        sketch.note(at(73.0, centre.y + 1.0), "square to blade", Anchor::Start);
        sketch.note(at(2.0, 64.2), "before square: minus", Anchor::Start);
    }
    sketch.scene
}

/// A radial line on the pulley or beside it.
fn radial(sketch: &mut Sketch, (inner, outer): (f64, f64), angle: f64, style: Style) {
    sketch.scene.line(CENTRE.polar(inner, angle), CENTRE.polar(outer, angle), style);
}

fn mark(which: Illustration, sizes: &Sizes<'_>) -> Scene {
    let (park, key) = if which == Illustration::MarkAtFull {
        ("full travel", "found.mark_at_full")
    } else {
        ("closed park", "found.mark_at_closed")
    };
    let text = format!(
        "Witness mark on the valve pulley: offset from its line along the mark's circle, servo at {park}, opening positive."
    );
    let mut sketch = blank("Witness mark", &text);
    let clockwise = !sizes.says("gear.opens", "anticlockwise");
    let sense = if clockwise { 1.0 } else { -1.0 };
    let (line, offset) = (-0.5, sense * 0.34);
    radial(&mut sketch, (RIM + 0.6, RIM + 7.0), line, Style::Mark);
    radial(&mut sketch, (RIM - 7.0, RIM), line + offset, Style::Mark);
    let text = sizes.asked_here("mark", key);
    sketch.asked_angle((CENTRE, RIM - 1.6), (line, offset), &text, at(62.0, 34.0), Anchor::Start);
    sketch.scene.line(CENTRE.polar(RIM - 1.6, line + offset / 2.0), at(61.0, 33.0), Style::Measure);
    sketch.note(at(62.0, 38.2), "along the circle", Anchor::Start);
    let end = CENTRE.polar(RIM + 8.0, line);
    sketch.note(at(end.x, end.y), "its line, fixed", Anchor::Start);
    sketch.turning((CENTRE, 10.0), (-FRAC_PI_2 - sense * 1.0, sense * 2.0));
    sketch.note(at(CENTRE.x, CENTRE.y + 8.0), "opens: plus", Anchor::Middle);
    sketch.note(at(62.0, 60.0), &format!("servo at {park}"), Anchor::Start);
    sketch.scene
}

fn mark_radius(sizes: &Sizes<'_>) -> Scene {
    let mut sketch =
        blank("Radius of the witness mark", "From the shaft's centre out to where the witness mark is read.");
    radial(&mut sketch, (RIM - 7.0, RIM), -0.5, Style::Mark);
    radial(&mut sketch, (RIM + 0.6, RIM + 5.0), -0.5, Style::Outline);
    sketch.scene.dot(CENTRE, 0.7, Style::Label);
    let read = CENTRE.polar(RIM, -0.5);
    let text = sizes.asked("radius", "gear.mark_radius");
    sketch.asked_at(CENTRE, read, 0.0, &text, at(60.0, 40.0), Anchor::Start);
    sketch.leader(read, at(60.0, 21.0), "the mark is read here", Anchor::Start);
    sketch.scene
}

fn end(sizes: &Sizes<'_>) -> Scene {
    let mut sketch = blank(
        "Mechanical end",
        "Pulley angle from the stop pin to where the valve meets its mechanical end.",
    );
    let clockwise = !sizes.says("gear.opens", "anticlockwise");
    let angle = sizes.rad("valve.mechanical_end", (15.0, 200.0), 85.0);
    let sense = if clockwise { 1.0 } else { -1.0 };
    let start = -FRAC_PI_2 - sense * angle / 2.0;
    radial(&mut sketch, (2.2, RIM + 3.0), start, Style::Mark);
    radial(&mut sketch, (2.2, RIM + 3.0), start + sense * angle, Style::Hidden);
    let text = sizes.asked("end", "valve.mechanical_end");
    sketch.asked_angle((CENTRE, 14.0), (start, sense * angle), &text, at(62.0, 30.0), Anchor::Start);
    sketch.scene.line(CENTRE.polar(14.0, start + sense * angle * 0.7), at(61.0, 29.0), Style::Measure);
    sketch.note(at(62.0, 34.2), "at the valve pulley", Anchor::Start);
    let words = [("on the stop pin", start), ("valve at its end", start + sense * angle)];
    for (words, angle) in words {
        let place = CENTRE.polar(RIM + 4.0, angle);
        let (x, anchor) =
            if place.x < CENTRE.x { (1.0, Anchor::Start) } else { (place.x + 1.0, Anchor::Start) };
        let y = if place.x < CENTRE.x { 4.0_f64.max(place.y - 3.0) } else { place.y.max(5.0) };
        sketch.note(at(x, y), words, anchor);
    }
    sketch.scene
}

fn direction(sizes: &Sizes<'_>) -> Scene {
    let mut sketch = blank(
        "Which way the pulley opens the valve",
        "Turn the valve pulley by hand so that the valve edge rises, and say which way it turns and from where you look.",
    );
    let known = sizes.says("gear.opens", "clockwise") || sizes.says("gear.opens", "anticlockwise");
    let sense = if sizes.says("gear.opens", "anticlockwise") { -1.0 } else { 1.0 };
    sketch.turning((CENTRE, 14.0), (-FRAC_PI_2 - sense * 1.4, sense * 2.8));
    if !known {
        sketch.turning((CENTRE, 14.0), (FRAC_PI_2 - 1.4, 2.8));
    }
    radial(&mut sketch, (2.2, 8.0), -FRAC_PI_2, Style::Mark);
    let words = match (known, sense > 0.0) {
        (false, _) => "opens = ?",
        (true, true) => "opens clockwise",
        (true, false) => "opens anticlockwise",
    };
    sketch.name(at(58.0, 22.0), words, Anchor::Start);
    sketch.note(at(58.0, 26.4), "so that the edge rises", Anchor::Start);
    let seen = sizes.fields.get("gear.seen_from").map_or("", |text| text.trim());
    let seen = if seen.is_empty() { "seen from = ?".to_owned() } else { format!("seen from {seen}") };
    for (line, text) in drawing::wrap(&seen, crate::picture::NOTE_MM, 41.0, 6).iter().enumerate() {
        sketch.note(at(58.0, 34.0 + 3.8 * line as f64), text, Anchor::Start);
    }
    sketch.scene
}

fn torque(which: Illustration, sizes: &Sizes<'_>) -> Scene {
    let friction = which == Illustration::ShaftFriction;
    let (title, text) = if friction {
        (
            "Friction of the shaft",
            "Cables off: the torque at the valve pulley that just moves the valve, less the spring's.",
        )
    } else {
        (
            "Spring on the valve shaft",
            "Cables off: closing torque with the valve on its stop pin, and its rise for one radian of travel.",
        )
    };
    let mut sketch = blank(title, text);
    let sense = if sizes.says("gear.opens", "anticlockwise") { -1.0 } else { 1.0 };
    sketch.turning((CENTRE, 15.0), (-FRAC_PI_2 - sense * 1.2, sense * 2.4));
    let text = if friction {
        sizes.asked("torque", "gear.shaft_friction")
    } else {
        let rise = sizes.key == Some("gear.spring.torsion_rate");
        sizes.asked_here(if rise { "rise" } else { "torque" }, "gear.spring.at_closed")
    };
    sketch.name(at(58.0, 22.0), &text, Anchor::Start);
    let lines: &[&str] = if friction {
        &["cables off", "that just moves the valve", "less the spring's share"]
    } else {
        let spiral: Vec<Point> =
            (0..=60).map(|step| CENTRE.polar(3.4 + 0.09 * f64::from(step), f64::from(step) * 0.22)).collect();
        sketch.scene.polyline(spiral, Style::Spring);
        &["cables off", "closed: on the stop pin", "rise: for 57.3° of travel"]
    };
    for (line, text) in lines.iter().enumerate() {
        sketch.note(at(58.0, 27.0 + 3.8 * line as f64), text, Anchor::Start);
    }
    sketch.scene
}

/// Measured points: pulley angle against height of the edge.
fn points() -> Scene {
    let mut sketch = Sketch::new(
        60.0,
        "Measured points",
        "Pulley angle from the stop pin against height of the edge above closed. The first point is zero and zero; both rise.",
    );
    let (left, bottom) = (16.0, 50.0);
    sketch.scene.arrow(at(left, bottom), at(left, 4.0), Style::Axis);
    sketch.scene.arrow(at(left, bottom), at(92.0, bottom), Style::Axis);
    let places: Vec<Point> = [(0.0, 0.0), (14.0, 11.0), (30.0, 22.0), (48.0, 31.0), (64.0, 36.0)]
        .map(|(x, y)| at(left + x, bottom - y))
        .to_vec();
    sketch.scene.polyline(places.clone(), Style::Curve1);
    for place in &places {
        sketch.scene.dot(*place, 1.1, Style::Label);
    }
    let third = at(left + 30.0, bottom - 22.0);
    sketch.line((third.x, bottom), (third.x, third.y), Style::Measure);
    sketch.line((left, third.y), (third.x, third.y), Style::Measure);
    sketch.name(at(third.x + 2.0, bottom - 3.0), "travel", Anchor::Start);
    sketch.name(at(left + 2.0, third.y - 1.6), "lift", Anchor::Start);
    sketch.note(at(92.0, bottom + 4.6), "pulley angle from the stop pin", Anchor::End);
    sketch.note(at(left + 2.0, 5.0), "edge above closed", Anchor::Start);
    sketch.note(at(left - 1.0, bottom + 4.6), "0° = 0 mm", Anchor::Middle);
    sketch.scene
}
