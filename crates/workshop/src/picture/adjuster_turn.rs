//! Which way an adjuster is turned: its hexagon seen end on, with an arrow and the flats to count.

use super::{name, note};
use crate::report::Turn;
use drawing::{Anchor, Draw, Item, Path, Scene, Style, at};
use std::f64::consts::{FRAC_PI_2, PI};

/// Across corners of the drawn hexagon, mm.
const HEX_MM: f64 = 9.0;
/// Radius of the arrow, mm.
const ARROW_MM: f64 = 14.5;

/// Draws the turn; a turn of less than a quarter flat shows the hexagon without an arrow.
pub fn adjuster_turn(turn: &Turn) -> Scene {
    let mut scene = Scene::new(72.0, 40.0, &format!("Turning the {} adjuster", turn.cable), &turn.text);
    let centre = at(20.0, 20.0);
    let corners: Vec<_> = (0..6).map(|corner| centre.polar(HEX_MM, f64::from(corner) * PI / 3.0)).collect();
    scene.area(Path::polygon(&corners), Style::Metal);
    scene.circle(centre, 4.6, Style::Outline);
    let wire = if turn.cable == "opening" { Style::WireOpening } else { Style::WireClosing };
    scene.dot(centre, 1.2, wire);
    scene.line(centre.polar(4.6, -FRAC_PI_2), centre.polar(HEX_MM * 0.866, -FRAC_PI_2), Style::Mark);
    let label = if turn.flats < 0.25 {
        "leave".to_owned()
    } else {
        // Never more than most of a circle: the figure beside it says how many flats.
        let sweep = (turn.flats * PI / 3.0).clamp(0.6, 1.7 * PI);
        let sweep_rad = if turn.clockwise { sweep } else { -sweep };
        scene.sheet().push(Item::Turn(drawing::Turn {
            centre,
            radius: ARROW_MM,
            start_rad: -FRAC_PI_2,
            sweep_rad,
            style: Style::Now,
        }));
        format!("{:.1} flats", turn.flats)
    };
    let direction = if turn.flats < 0.25 { "as it is".to_owned() } else { turn.direction.clone() };
    scene.text(name(at(38.0, 14.0), &format!("{} cable", turn.cable), Style::Label).anchor(Anchor::Start));
    scene.text(name(at(38.0, 20.0), &label, Style::Label).anchor(Anchor::Start));
    scene.text(note(at(38.0, 26.0), &direction, Style::Note).anchor(Anchor::Start));
    scene
}
