//! The valve in its place: closed edge from deck or crown, slide of a blade, flap or drum about its pivot.

use super::kind::Illustration;
use super::section::{RIGHT, Section, WALL};
use super::sizes::Sizes;
use super::sketch::Sketch;
use crate::picture::place::Place;
use crate::picture::valve_body::{ValveBody, on_sheet, slide_angle};
use drawing::{Anchor, Draw, Point, Scene, Style, at};
use engine::model::ValveKind;
use quantity::{Dimension, Measured};
use std::f64::consts::PI;

pub(super) fn draw(which: Illustration, sizes: &Sizes<'_>) -> Scene {
    match which {
        Illustration::SlideAngle => slide(sizes),
        Illustration::EdgeRadius => edge_radius(sizes),
        Illustration::EdgeStart => edge_start(sizes),
        _ => from_far(which, sizes),
    }
}

/// The closed edge from deck or crown.
fn from_far(which: Illustration, sizes: &Sizes<'_>) -> Scene {
    let from_deck = which == Illustration::ClosedFromDeck;
    let (title, text, key) = if from_deck {
        ("Closed edge below deck", "From the deck down to the closed valve edge.", "valve.closed_below_deck")
    } else {
        (
            "Closed edge above crown",
            "From the crown edge at bottom dead centre up to the closed valve edge.",
            "valve.closed_above_crown_at_bdc",
        )
    };
    let mut sketch = Sketch::new(66.0, title, text);
    let section = Section::whole(sizes);
    section.draw(&mut sketch, 0.0);
    let crown = 56.0;
    sketch.metal(&[(WALL, crown), (RIGHT, crown + 1.5), (RIGHT, 65.0), (WALL, 65.0)]);
    sketch.part(&[(4.0, crown), (WALL - 0.4, crown), (WALL - 0.4, 65.0), (4.0, 65.0)], Style::Piston);
    sketch.note(at(5.5, 62.6), "at bottom dead centre", Anchor::Start);
    let datum = if from_deck { section.top } else { crown };
    if from_deck {
        sketch.datum(
            at(4.0, datum),
            at(RIGHT + 2.0, datum),
            "deck",
            at(RIGHT + 3.0, datum + 1.0),
            Anchor::Start,
        );
    } else {
        sketch.datum(
            at(4.0, datum),
            at(WALL - 0.4, datum),
            "crown edge",
            at(5.5, datum - 1.6),
            Anchor::Start,
        );
    }
    let x = WALL - 9.0;
    sketch.line((x - 1.0, section.closed), (WALL, section.closed), Style::Label);
    let text = sizes.asked("edge", key);
    let middle = (datum + section.closed) / 2.0 + 1.1;
    sketch.asked_at(at(x, datum), at(x, section.closed), 0.0, &text, at(x - 2.4, middle), Anchor::End);
    sketch.leader(
        at(WALL, section.closed),
        at(RIGHT + 3.0, section.closed + 4.0),
        "closed edge",
        Anchor::Start,
    );
    sketch.note(at(59.0, 48.0), "port", Anchor::Middle);
    sketch.scene
}

fn slide(sizes: &Sizes<'_>) -> Scene {
    let mut sketch = Sketch::new(
        62.0,
        "Slide of the blade",
        "Angle between the cylinder axis and the line on which the blade slides.",
    );
    let section = Section::close_up(sizes);
    section.draw(&mut sketch, 0.0);
    let angle = slide_angle(&section.kind);
    let edge = at(WALL, section.closed);
    sketch.scene.line(at(edge.x, 2.0), at(edge.x, 60.0), Style::Centre);
    let along = at(angle.sin(), -angle.cos());
    sketch.scene.line(edge - along * 8.0, edge + along * ((edge.y - 2.5) / angle.cos()), Style::Centre);
    let text = sizes.asked("slide", "valve.slide_angle");
    let radius = 26.0;
    let start = -std::f64::consts::FRAC_PI_2;
    let arc = if angle < 0.14 { (start - 0.2, 0.2 + angle) } else { (start, angle) };
    sketch.asked_angle((edge, radius), arc, &text, at(WALL - 3.0, edge.y - radius + 1.0), Anchor::End);
    sketch.note(at(WALL - 3.0, 57.0), "along the cylinder axis", Anchor::End);
    sketch.note(at(76.0, 9.0), "blade slides", Anchor::Start);
    sketch.note(at(76.0, 12.8), "on this line", Anchor::Start);
    sketch.scene
}

/// Flap or drum closed, about its pivot; gives edge and pivot on the sheet.
fn about_pivot(sketch: &mut Sketch, sizes: &Sizes<'_>) -> (Point, Point) {
    let radius = sizes.mm("valve.radius", (6.0, 60.0), 18.0);
    let start = Measured::exact(sizes.rad("valve.start", (-60.0, 20.0), -20.0), Dimension::Angle);
    let ratio = Measured::exact(1.0, Dimension::Number);
    let length = Measured::exact(radius * 1e-3, Dimension::Length);
    let drum = sizes.says("valve.kind", "drum");
    let kind = if drum {
        ValveKind::Drum { radius: length, start, ratio }
    } else {
        ValveKind::Flap { radius: length, start, ratio }
    };
    let edge = at(WALL - 14.0, 36.0);
    let place = Place { origin: edge, scale: if drum { 19.0 } else { 28.0 } / radius, mirrored: false };
    let body = ValveBody::of(&kind, 0.0, 0.0, 1.0);
    sketch.line((edge.x, 3.0), (edge.x, 59.0), Style::Outline);
    sketch.note(at(edge.x - 2.0, 8.0), "bore", Anchor::End);
    sketch.note(at(edge.x - 2.0, 56.0), "bore wall", Anchor::End);
    sketch.scene.area(on_sheet(&body.outline, &place), Style::Valve);
    let pivot = place.point(body.pivot.unwrap_or_default());
    sketch.line((edge.x - 4.0, pivot.y), (pivot.x + 12.0, pivot.y), Style::Centre);
    sketch.circle(pivot, 1.4, Style::Metal);
    sketch.scene.dot(pivot, 0.6, Style::Label);
    sketch.note(at(pivot.x + 13.0, pivot.y + 1.0), "level", Anchor::Start);
    (edge, pivot)
}

fn edge_radius(sizes: &Sizes<'_>) -> Scene {
    let drum = sizes.says("valve.kind", "drum");
    let what = if drum { "drum" } else { "flap" };
    let text = format!("From the pivot of the {what} to its edge.");
    let mut sketch = Sketch::new(62.0, "Radius of the edge", &text);
    let (edge, pivot) = about_pivot(&mut sketch, sizes);
    let text = sizes.asked("radius", "valve.radius");
    let place = at(pivot.x + 3.0, if drum { 57.0 } else { edge.y + 12.0 });
    sketch.asked_at(edge, pivot, if drum { 0.0 } else { 7.0 }, &text, place, Anchor::Start);
    sketch.scene
}

fn edge_start(sizes: &Sizes<'_>) -> Scene {
    let mut sketch = Sketch::new(
        62.0,
        "Edge above level",
        "From the level through the pivot up to the edge when closed; minus when the edge lies below.",
    );
    let (edge, pivot) = about_pivot(&mut sketch, sizes);
    sketch.scene.line(pivot, edge, Style::Label);
    let start = sizes.rad("valve.start", (-60.0, 20.0), -20.0);
    let sweep = if start.abs() < 0.1 { 0.25 } else { start };
    let text = sizes.asked("edge", "valve.start");
    sketch.asked_angle((pivot, 14.0), (PI, sweep), &text, at(pivot.x + 3.0, 57.0), Anchor::Start);
    sketch.note(at(pivot.x + 3.0, 52.6), "below level: minus", Anchor::Start);
    sketch.scene
}
