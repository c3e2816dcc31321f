//! The degree wheel: crank angles of opening and closing.

use super::kind::Illustration;
use super::sizes::Sizes;
use super::sketch::Sketch;
use drawing::{Anchor, Draw, Point, Scene, Style, at};
use std::f64::consts::{FRAC_PI_2, PI, TAU};

const CENTRE: Point = at(37.0, 39.0);
const RADIUS: f64 = 29.0;

/// What the wheel shows: title, name of the edge, key and what of it is asked.
struct Shows {
    title: &'static str,
    edge: &'static str,
    name: &'static str,
    key: String,
    from: From,
}

#[derive(Clone, Copy, PartialEq)]
enum From {
    TopDeadCentre,
    BottomDeadCentre,
    Duration,
}

fn shows(which: Illustration, sizes: &Sizes<'_>) -> Shows {
    let (title, edge, name, key, from) = match which {
        Illustration::RoofBeforeBdc => {
            ("Opens before bottom dead centre", "opens", "before", "opens_before_bdc", From::BottomDeadCentre)
        }
        Illustration::RoofDuration => ("Open duration", "opens", "open", "duration", From::Duration),
        Illustration::FloorAfterTdc => (
            "Floor after top dead centre",
            "meets the floor",
            "after",
            "floor_after_tdc",
            From::TopDeadCentre,
        ),
        Illustration::FloorBeforeBdc => (
            "Floor before bottom dead centre",
            "meets the floor",
            "before",
            "floor_before_bdc",
            From::BottomDeadCentre,
        ),
        Illustration::ClosedDuration => {
            let key = "valve.closed_duration".to_owned();
            return Shows {
                title: "Exhaust duration, valve closed",
                edge: "opens",
                name: "open",
                key,
                from: From::Duration,
            };
        }
        _ => ("Opens after top dead centre", "opens", "after", "opens_after_tdc", From::TopDeadCentre),
    };
    Shows { title, edge, name, key: sizes.port(key), from }
}

pub(super) fn draw(which: Illustration, sizes: &Sizes<'_>) -> Scene {
    let shows = shows(which, sizes);
    let floor = shows.edge != "opens";
    let given = sizes.degrees(&shows.key);
    let opens = match (shows.from, given) {
        (From::TopDeadCentre, Some(angle)) => angle,
        (From::BottomDeadCentre, Some(angle)) => 180.0 - angle,
        (From::Duration, Some(angle)) => 180.0 - angle / 2.0,
        (_, None) if floor => 160.0,
        (_, None) => 90.0,
    }
    .clamp(8.0, 172.0)
    .to_radians();
    let what = match shows.from {
        From::TopDeadCentre => "from top dead centre going down",
        From::BottomDeadCentre => "from there on to bottom dead centre",
        From::Duration => "from opening to closing",
    };
    let text = format!("Degree wheel: the crown edge {} ; the angle is taken {what}.", shows.edge)
        .replace(" ;", ";");
    let mut sketch = Sketch::new(78.0, shows.title, &text);
    wheel(&mut sketch);
    // Crank angle after top dead centre as a direction on the sheet: top dead centre is up, clockwise.
    let direction = |angle: f64| angle - FRAC_PI_2;
    hand(&mut sketch, direction(opens), shows.edge);
    if shows.from == From::Duration {
        hand(&mut sketch, direction(TAU - opens), "closes");
    }
    let (start, sweep) = match shows.from {
        From::TopDeadCentre => (direction(0.0), opens),
        From::BottomDeadCentre => (direction(opens), PI - opens),
        From::Duration => (direction(opens), TAU - 2.0 * opens),
    };
    let zero = if shows.from == From::BottomDeadCentre { direction(PI) } else { direction(0.0) };
    if shows.from != From::Duration {
        sketch.scene.line(CENTRE, CENTRE.polar(RADIUS, zero), Style::Mark);
    }
    let words = sizes.asked(shows.name, &shows.key);
    let mark = CENTRE.polar(17.0, start + sweep * 0.5);
    // Beside the middle of the arc, but clear of the name at the hand's end.
    let named = CENTRE.polar(RADIUS + 3.4, direction(opens)).y;
    let y = (mark.y + 1.0).clamp(25.0, 68.0);
    let y = if (y - named).abs() < 5.0 { named + 6.0 } else { y };
    sketch.asked_angle((CENTRE, 17.0), (start, sweep), &words, at(70.0, y), Anchor::Start);
    sketch.scene.line(mark, at(69.2, y - 1.0), Style::Measure);
    sketch.scene.dot(CENTRE, 1.4, Style::Label);
    sketch.scene
}

fn wheel(sketch: &mut Sketch) {
    sketch.circle(CENTRE, RADIUS, Style::Metal);
    for at_ten in 0..36 {
        let angle = f64::from(at_ten) * PI / 18.0;
        let inner = if at_ten % 3 == 0 { 3.0 } else { 1.6 };
        sketch.scene.line(CENTRE.polar(RADIUS - inner, angle), CENTRE.polar(RADIUS, angle), Style::Outline);
    }
    sketch.note(at(CENTRE.x, CENTRE.y - RADIUS - 1.8), "top dead centre", Anchor::Middle);
    sketch.note(at(CENTRE.x + 5.0, CENTRE.y + RADIUS + 5.4), "bottom dead centre", Anchor::End);
    sketch.turning((CENTRE, RADIUS + 2.6), (-FRAC_PI_2 + 0.5, 0.5));
    sketch.note(at(CENTRE.x + 27.0, CENTRE.y - 24.0), "way of the crank", Anchor::Start);
}

/// A line of the wheel with its name outside.
fn hand(sketch: &mut Sketch, direction: f64, text: &str) {
    sketch.scene.line(CENTRE, CENTRE.polar(RADIUS + 2.0, direction), Style::Outline);
    let end = CENTRE.polar(RADIUS + 3.4, direction);
    let anchor = if direction.cos() < 0.0 { Anchor::End } else { Anchor::Start };
    let end = if anchor == Anchor::End { at(end.x.max(10.0), end.y + 1.0) } else { at(end.x, end.y + 1.0) };
    // Left of the wheel there is no room for a word: it stands inside.
    let (place, anchor) =
        if anchor == Anchor::End { (at(end.x + 4.6, end.y - 2.2), Anchor::Start) } else { (end, anchor) };
    // Nor below it, where the bottom dead centre is named.
    let under = direction.sin() > 0.8 && anchor == Anchor::Start;
    let place = if under { at(place.x.max(CENTRE.x + 8.0), place.y + 1.0) } else { place };
    sketch.note(place, text, anchor);
}
