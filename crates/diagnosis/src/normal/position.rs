//! The valve in its port with what moves it, at one moment. Not to scale.

mod actuator;
mod valve;

use super::{Logic, Picture};
use drawing::{Anchor, Draw, Point, Scene, Style, Text, at};

/// Height of names and of notes, mm.
const NAME: f64 = 3.0;
const NOTE: f64 = 2.8;
const HEIGHT: f64 = 76.0;

/// Axis of the valve pulley or lever.
const SHAFT: Point = at(48.7, 27.0);
/// Axis of the servo, middle of governor and capsule.
const ACTUATOR: Point = at(83.0, 27.0);
/// Radius of both pulleys, and of the lever that the rod pulls, mm.
const RIM: f64 = 8.5;
/// Distance from the shaft to the middle of the pin's straight way, mm.
const ARM: f64 = 16.0;
/// Way of the blade along its slide from closed to open, mm.
const WAY: f64 = 14.3;

/// How far the shaft has turned from the middle of its way, rad clockwise as seen on the sheet.
fn turned(travel: f64) -> f64 {
    ((travel - 0.5) * WAY / ARM).atan()
}

/// The picture of a logic at `now_s`, s from key-on.
pub fn position(logic: &Logic, now_s: f64) -> Scene {
    let Some(moment) = logic.moment(now_s) else { return pose(logic.picture, 0.0) };
    let mut scene = pose(logic.picture, moment.travel);
    scene.text(Text::new(at(2.0, 5.0), &moment.phase.title, NAME, Style::Label).strong());
    scene
}

/// The picture of an actuator with the valve at `travel`, 0 closed, 1 fully open; what lies outside is drawn at the end,
/// what is no number as closed.
pub fn pose(picture: Picture, travel: f64) -> Scene {
    let travel = if travel.is_finite() { travel.clamp(0.0, 1.0) } else { 0.0 };
    let name = match picture {
        Picture::Servo => "servo with two cables",
        Picture::Governor => "governor",
        Picture::Diaphragm => "diaphragm",
        Picture::DiaphragmVent => "diaphragm with vent",
    };
    let description = format!(
        "The valve in its port, {:.0} % open, moved by a {name}. A picture of the working, not to scale.",
        100.0 * travel
    );
    let mut scene = Scene::new(100.0, HEIGHT, &format!("Valve and {name}"), &description);
    valve::draw(&mut scene, travel);
    match picture {
        Picture::Servo => actuator::draw_servo(&mut scene, travel),
        Picture::Governor => actuator::draw_governor(&mut scene, travel),
        Picture::Diaphragm => actuator::draw_diaphragm(&mut scene, travel, false),
        Picture::DiaphragmVent => actuator::draw_diaphragm(&mut scene, travel, true),
    }
    valve::draw_lever(&mut scene, travel);
    let figure = format!("valve {:.0} % open", 100.0 * travel);
    scene.text(Text::new(at(98.0, 5.0), &figure, NAME, Style::Label).anchor(Anchor::End).strong());
    scene.text(Text::new(at(98.0, HEIGHT - 2.0), "not to scale", NOTE, Style::Note).anchor(Anchor::End));
    scene
}

fn note(scene: &mut impl Draw, place: Point, text: &str, anchor: Anchor) {
    scene.text(Text::new(place, text, NOTE, Style::Note).anchor(anchor).halo());
}

#[cfg(test)]
mod tests {
    use super::super::logics;
    use super::*;
    use drawing::{Theme, to_svg};

    const PICTURES: [Picture; 4] =
        [Picture::Servo, Picture::Governor, Picture::Diaphragm, Picture::DiaphragmVent];

    #[test]
    fn exact_edge_rises_with_travel_from_closed_to_flush() {
        let edge = |travel| valve::edge(travel).y;
        assert!((edge(1.0) - valve::ROOF).abs() < 1e-9, "flush with the roof when open");
        let steps: Vec<f64> = (0..=20).map(|i| edge(f64::from(i) / 20.0)).collect();
        assert!(steps.windows(2).all(|p| p[1] < p[0] - 0.3), "{steps:?}");
    }

    /// The pin on the lever must lie on the slide's line at every travel, or the blade would not be driven by it.
    #[test]
    fn exact_lever_pin_stays_on_the_line_of_the_slide() {
        let line = |travel: f64| valve::pin(travel);
        let (a, b) = (line(0.0), line(1.0));
        let across = (b - a).unit().unwrap().quarter_turn();
        for i in 0..=10 {
            let travel = f64::from(i) / 10.0;
            let off = line(travel) - a;
            assert!((off.x * across.x + off.y * across.y).abs() < 1e-9);
            let towards = SHAFT.polar(1.0, valve::lever_direction(travel)) - SHAFT;
            let to_pin = (line(travel) - SHAFT).unit().unwrap();
            assert!((towards - to_pin).length() < 1e-9, "lever points at the pin at {travel}");
        }
    }

    #[test]
    fn exact_bad_travel_is_drawn_at_an_end() {
        for picture in PICTURES {
            assert_eq!(pose(picture, f64::NAN), pose(picture, 0.0));
            assert_eq!(pose(picture, 7.0), pose(picture, 1.0));
            assert_ne!(pose(picture, 0.4), pose(picture, 0.5));
        }
    }

    /// Drawn for each frame of an animation: the text must stay small, and quick even unoptimised.
    #[test]
    fn regress_frames_are_small() {
        for logic in logics() {
            let svg = to_svg(&position(logic, 9.0), Theme::Page);
            assert!(svg.len() < 20_000, "{}: {} bytes", logic.key, svg.len());
            let strip = to_svg(&super::super::strip(logic, None, 9.0), Theme::Page);
            assert!(strip.len() < 20_000, "{}: {} bytes", logic.key, strip.len());
        }
    }
}
