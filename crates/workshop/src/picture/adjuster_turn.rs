//! Which way an adjuster is turned: its hexagon seen end on, with an arrow and the flats to count.

use super::{NOTE_MM, name, note};
use crate::report::Turn;
use drawing::{Draw, Path, Point, Scene, Style, at, wrap};
use std::f64::consts::{FRAC_PI_2, PI, TAU};

/// Centre to corner of the drawn hexagon, mm.
const HEX_MM: f64 = 9.0;
/// Where the arrow begins, mm from the centre.
const ARROW_MM: f64 = 11.5;
/// How far the arrow winds outwards with each turn, mm.
const WIND_MM: f64 = 2.6;
/// Most turns that are drawn wound; the words say how many there are.
const MOST_TURNS: f64 = 2.4;
/// A turn of fewer flats is none.
const LEAST_FLATS: f64 = 0.25;

/// The adjuster and its arrow alone, 40 mm square, for where the words stand beside it.
pub fn adjuster_mark(turn: &Turn) -> Scene {
    bare(turn, 40.0)
}

/// The sheet with the adjuster and its arrow on the left.
fn bare(turn: &Turn, width_mm: f64) -> Scene {
    let mut scene = Scene::new(width_mm, 40.0, &format!("Turning the {} adjuster", turn.cable), &turn.text);
    let centre = at(20.0, 20.0);
    draw_head(&mut scene, centre, wire_of(turn));
    if turn.flats >= LEAST_FLATS {
        draw_arrow(&mut scene, centre, turn.flats / 6.0, turn.clockwise);
    }
    scene
}

fn wire_of(turn: &Turn) -> Style {
    if turn.cable == "opening" { Style::WireOpening } else { Style::WireClosing }
}

/// Draws the turn; a turn of less than a quarter flat shows the hexagon without an arrow.
pub fn adjuster_turn(turn: &Turn) -> Scene {
    let mut scene = bare(turn, 100.0);
    let wire = wire_of(turn);
    let moves = turn.flats >= LEAST_FLATS;
    let (figure, direction) = if moves {
        let whole =
            if turn.flats > 5.5 { format!(" ({:.2} turns)", turn.flats / 6.0) } else { String::new() };
        (format!("{:.1} flats{whole}", turn.flats), turn.direction.clone())
    } else {
        ("leave".to_owned(), "as it is".to_owned())
    };
    scene.text(name(at(LEFT, 9.0), &format!("{} cable", turn.cable), wire));
    scene.text(name(at(LEFT, 15.0), &figure, Style::Label));
    scene.text(name(at(LEFT, 19.4), &direction, Style::Label));
    let lines = wrap(&format!("seen from {}", turn.seen_from), NOTE_MM, 99.0 - LEFT, 4);
    for (i, line) in lines.iter().enumerate().filter(|_| moves) {
        scene.text(note(at(LEFT, 25.0 + 3.8 * i as f64), line, Style::Note));
    }
    scene
}

/// Left edge of the words, mm.
const LEFT: f64 = 44.0;

/// The adjuster seen end on: hexagon with a mark on one flat, the wire in its middle.
fn draw_head(scene: &mut Scene, centre: Point, wire: Style) {
    let corners: Vec<_> = (0..6).map(|corner| centre.polar(HEX_MM, f64::from(corner) * PI / 3.0)).collect();
    scene.area(Path::polygon(&corners), Style::Metal);
    scene.circle(centre, 4.6, Style::Outline);
    scene.dot(centre, 1.2, wire);
    scene.line(centre.polar(4.6, -FRAC_PI_2), centre.polar(HEX_MM * 0.866, -FRAC_PI_2), Style::Mark);
}

/// An arrow from the top, winding outwards when there is more than one turn.
fn draw_arrow(scene: &mut Scene, centre: Point, turns: f64, clockwise: bool) {
    let turns = turns.clamp(0.1, MOST_TURNS);
    let sense = if clockwise { 1.0 } else { -1.0 };
    let place = |t: f64| centre.polar(ARROW_MM + WIND_MM * t, -FRAC_PI_2 + sense * TAU * t);
    let tip = place(turns);
    // The arrow's head is straight: it follows the chord of its own length.
    let back = turns - 2.0 / (TAU * (ARROW_MM + WIND_MM * turns));
    let steps = (turns * 60.0).ceil() as usize;
    scene.polyline((0..=steps).map(|i| place(back * i as f64 / steps as f64)).collect(), Style::Curve1);
    scene.arrow(place(back), tip, Style::Curve1);
}
