//! The servo: travel, torque, last gear, sensor; when it moves.

use super::kind::Illustration;
use super::sizes::Sizes;
use super::sketch::Sketch;
use drawing::{Anchor, Draw, Point, Scene, Style, at};
use std::f64::consts::TAU;

const CENTRE: Point = at(32.0, 33.0);

pub(super) fn draw(which: Illustration, sizes: &Sizes<'_>) -> Scene {
    match which {
        Illustration::SensorClosed | Illustration::SensorOpen => sensor(which, sizes),
        Illustration::OpeningSpeed | Illustration::FullOpenSpeed => schedule(which, sizes),
        Illustration::LastGear => gear(sizes),
        Illustration::StallTorque => stall(sizes),
        _ => travel(sizes),
    }
}

fn blank(title: &str, text: &str) -> Sketch {
    let mut sketch = Sketch::new(64.0, title, text);
    sketch.block((6.0, 8.0), (44.0, 58.0), 2.0, Style::Servo);
    sketch.circle(CENTRE, 20.0, Style::Metal);
    sketch.circle(CENTRE, 2.4, Style::Metal);
    sketch.note(at(8.0, 62.4), "servo", Anchor::Start);
    sketch
}

fn travel(sizes: &Sizes<'_>) -> Scene {
    let park = sizes.key == Some("schedule.park_travel");
    let mut sketch =
        blank("Travel of the servo", "Angle of the servo's pulley from closed park to full open.");
    let angle = sizes.rad("servo.travel", (20.0, 250.0), 75.0);
    let start = -angle / 2.0;
    let on = |radius: f64, angle: f64| CENTRE.polar(radius, angle);
    sketch.scene.line(on(2.4, start), on(23.0, start), Style::Mark);
    sketch.scene.line(on(2.4, -start), on(23.0, -start), Style::Hidden);
    let swept = if park { 0.2 } else { angle };
    let text = if park {
        sizes.asked("park", "schedule.park_travel")
    } else {
        sizes.asked("travel", "servo.travel")
    };
    sketch.asked_angle((CENTRE, 15.0), (start, swept), &text, at(62.0, 34.0), Anchor::Start);
    if park {
        sketch.scene.line(on(15.0, start + 0.1), at(61.0, 33.0), Style::Measure);
        sketch.note(at(62.0, 38.2), "most that is commanded", Anchor::Start);
        sketch.note(at(62.0, 42.0), "below the opening speed", Anchor::Start);
    } else {
        sketch.note(at(62.0, 38.2), "at the pulley", Anchor::Start);
    }
    let (closed, open) = (on(25.0, start), on(25.0, -start));
    sketch.note(at(closed.x.max(20.0), closed.y.max(4.0)), "closed park", Anchor::Start);
    sketch.note(at(open.x.max(20.0), open.y.clamp(4.0, 61.0) + 2.0), "full open", Anchor::Start);
    sketch.scene
}

fn stall(sizes: &Sizes<'_>) -> Scene {
    let mut sketch = blank(
        "Stall torque",
        "Torque of the servo's pulley held at rest with full battery voltage, for no more than a second.",
    );
    sketch.turning((CENTRE, 14.0), (-2.4, 2.6));
    sketch.block((CENTRE.x, CENTRE.y - 1.6), (78.0, CENTRE.y + 1.6), 0.6, Style::Metal);
    sketch.scene.arrow(at(76.0, 50.0), at(76.0, CENTRE.y + 2.0), Style::Mark);
    sketch.note(at(78.0, 48.0), "held at rest", Anchor::Start);
    let text = sizes.asked("torque", "servo.stall_torque");
    sketch.name(at(54.0, 20.0), &text, Anchor::Start);
    sketch.note(at(54.0, 24.4), "a second at most", Anchor::Start);
    sketch.scene
}

fn gear(sizes: &Sizes<'_>) -> Scene {
    let mut sketch = Sketch::new(
        64.0,
        "Last gear wheel",
        "Shaft centre to the pitch circle of the last wheel: half of module times number of teeth.",
    );
    let teeth = 24;
    let outline: Vec<Point> = (0..teeth * 4)
        .map(|step| {
            let radius = if step % 4 < 2 { 24.0 } else { 20.5 };
            CENTRE.polar(radius, TAU * f64::from(step) / f64::from(teeth * 4))
        })
        .collect();
    sketch.scene.area(drawing::Path::polygon(&outline), Style::Metal);
    sketch.circle(CENTRE, 22.2, Style::Centre);
    sketch.circle(CENTRE, 3.0, Style::Metal);
    sketch.scene.dot(CENTRE, 0.7, Style::Label);
    let text = sizes.asked("radius", "servo.last_gear_radius");
    sketch.asked_at(CENTRE, CENTRE.polar(22.2, -0.6), 0.0, &text, at(61.0, 30.0), Anchor::Start);
    sketch.leader(CENTRE.polar(22.2, -0.6), at(61.0, 18.0), "pitch circle", Anchor::Start);
    sketch.note(at(61.0, 34.2), "module x teeth / 2", Anchor::Start);
    sketch.scene
}

/// The sensor as a track with its wiper, and where the meter goes.
fn sensor(which: Illustration, sizes: &Sizes<'_>) -> Scene {
    let open = which == Illustration::SensorOpen;
    let (park, key) =
        if open { ("full travel", "servo.sensor_open") } else { ("closed park", "servo.sensor_closed") };
    let text = format!("Resistance from the sensor's wiper to its ground end, plug off, servo at {park}.");
    let mut sketch = Sketch::new(56.0, "Position sensor", &text);
    let (left, right, level) = (14.0, 66.0, 16.0);
    sketch.block((left, level - 2.4), (right, level + 2.4), 0.4, Style::Metal);
    let (closed, full) = (left + 19.0, right - 8.0);
    let wiper = if open { full } else { closed };
    for (x, word) in [(closed, "closed park"), (full, "full travel")] {
        sketch.line((x, level - 5.0), (x, level - 2.4), Style::Outline);
        sketch.note(at(x, level - 6.6), word, Anchor::Middle);
    }
    sketch.scene.arrow(at(wiper, level + 11.0), at(wiper, level + 2.8), Style::Mark);
    sketch.note(at(wiper + 2.0, level + 9.0), "wiper", Anchor::Start);
    let (meter, radius) = (at(24.0, 44.0), 5.0);
    sketch.scene.polyline(
        vec![at(left, level), at(6.0, level), at(6.0, meter.y), at(meter.x - radius, meter.y)],
        Style::Label,
    );
    sketch.scene.polyline(
        vec![at(wiper, level + 11.0), at(wiper, meter.y), at(meter.x + radius, meter.y)],
        Style::Label,
    );
    sketch.circle(meter, radius, Style::Now);
    sketch.name(at(meter.x, meter.y + 1.1), "Ω", Anchor::Middle);
    sketch.note(at(1.0, level - 4.6), "ground end", Anchor::Start);
    sketch.scene.dot(at(left, level), 0.9, Style::Mark);
    let text = sizes.asked_here(park, key);
    sketch.name(at(50.0, 51.0), &text, Anchor::Start);
    sketch.note(at(70.0, level + 1.0), "plug off", Anchor::Start);
    sketch.scene
}

fn schedule(which: Illustration, sizes: &Sizes<'_>) -> Scene {
    let mut sketch = Sketch::new(
        60.0,
        "Schedule",
        "Commanded travel against engine speed: the valve begins to open at the opening speed and is fully open from the full-open speed.",
    );
    let (left, bottom) = (10.0, 46.0);
    sketch.scene.arrow(at(left, bottom), at(left, 5.0), Style::Axis);
    sketch.scene.arrow(at(left, bottom), at(94.0, bottom), Style::Axis);
    let (opens, full, top) = (34.0, 68.0, 14.0);
    let line = [at(left, bottom - 1.0), at(opens, bottom - 1.0), at(full, top), at(92.0, top)];
    sketch.scene.polyline(line.to_vec(), Style::Curve1);
    let asked_opening = which == Illustration::OpeningSpeed;
    for (x, y, asked) in [(opens, bottom - 1.0, asked_opening), (full, top, !asked_opening)] {
        sketch.line((x, bottom + 2.0), (x, y), if asked { Style::Label } else { Style::Measure });
        if asked {
            sketch.scene.dot(at(x, y), 1.2, Style::Mark);
        }
    }
    let (x, text) = if asked_opening {
        (opens, sizes.asked("opens", "schedule.opening_speed"))
    } else {
        (full, sizes.asked("fully open", "schedule.full_open_speed"))
    };
    sketch.name(at(x, bottom + 6.0), &text, Anchor::Middle);
    sketch.note(at(left + 2.0, 6.0), "travel", Anchor::Start);
    sketch.note(at(94.0, bottom - 2.0), "speed", Anchor::End);
    sketch.note(at(74.0, top - 2.0), "fully open", Anchor::Start);
    sketch.note(at(left + 2.0, bottom - 3.0), "closed park", Anchor::Start);
    sketch.scene
}
