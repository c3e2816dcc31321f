//! The valve edge in a section through the port: closed, flush, proud, and how far it may be off.

use super::kind::Illustration;
use super::sizes::Sizes;
use super::sketch::Sketch;
use crate::picture::place::Place;
use crate::picture::valve_body::{THICK_MM, ValveBody, on_sheet, slide_angle};
use drawing::{Anchor, Draw, Scene, Style, at};
use engine::model::ValveKind;
use quantity::{Dimension, Measured};

/// Bore wall from the left and the roof's level on the sheet, mm.
const WALL: f64 = 44.0;
const RIGHT: f64 = 74.0;

/// The valve as the fields say it, with usual figures for what they do not say.
pub(super) fn kind(sizes: &Sizes<'_>) -> ValveKind {
    let angle = |rad: f64| Measured::exact(rad, Dimension::Angle);
    let length = |mm: f64| Measured::exact(mm * 1e-3, Dimension::Length);
    let radius = length(sizes.mm("valve.radius", (6.0, 60.0), 18.0));
    let start = angle(sizes.rad("valve.start", (-60.0, 20.0), -20.0));
    let ratio = Measured::exact(1.0, Dimension::Number);
    if sizes.says("valve.kind", "flap") {
        ValveKind::Flap { radius, start, ratio }
    } else if sizes.says("valve.kind", "drum") {
        ValveKind::Drum { radius, start, ratio }
    } else {
        ValveKind::Blade {
            slide_angle: angle(sizes.rad("valve.slide_angle", (0.0, 60.0), 25.0)),
            arm: length(sizes.mm("valve.arm", (1.0, 60.0), 5.0)),
            arm_start: angle(sizes.rad("valve.arm_start", (-80.0, 5.0), -33.0)),
        }
    }
}

/// A section with the closed edge at a level and the roof `drop` above it.
struct Section {
    kind: ValveKind,
    roof: f64,
    closed: f64,
    scale: f64,
    top: f64,
}

impl Section {
    /// Zoomed in on the edge: the drop is drawn about 13 mm high.
    fn close_up(sizes: &Sizes<'_>) -> Self {
        let drop = sizes.mm("valve.closed_drop", (1.0, 15.0), 4.5);
        let scale = (13.0 / drop).clamp(0.9, 4.0);
        Self { kind: kind(sizes), roof: 24.0, closed: 24.0 + scale * drop, scale, top: 3.0 }
    }

    /// From the deck to the crown at bottom dead centre.
    fn whole(sizes: &Sizes<'_>) -> Self {
        let drop = sizes.mm("valve.closed_drop", (2.0, 15.0), 5.0);
        let scale = 0.9;
        Self { kind: kind(sizes), roof: 28.0, closed: 28.0 + scale * drop, scale, top: 7.0 }
    }

    fn draw(&self, sketch: &mut Sketch, lift: f64) {
        let closed = at(WALL, self.closed);
        let place = Place { origin: closed, scale: self.scale, mirrored: false };
        let slope = slide_angle(&self.kind).tan();
        if matches!(self.kind, ValveKind::Blade { .. }) {
            let along = |y: f64| (WALL + slope * (self.closed - y)).min(RIGHT);
            let thick = self.scale * THICK_MM / slide_angle(&self.kind).cos() + 0.5;
            let behind = |y: f64| (along(y) + thick).min(RIGHT);
            sketch.metal(&[
                (WALL, self.top),
                (along(self.top), self.top),
                (along(self.roof), self.roof),
                (WALL, self.roof),
            ]);
            sketch.metal(&[
                (behind(self.top), self.top),
                (RIGHT, self.top),
                (RIGHT, self.roof),
                (behind(self.roof), self.roof),
            ]);
        } else {
            sketch.metal(&[(WALL, self.top), (RIGHT, self.top), (RIGHT, self.roof), (WALL, self.roof)]);
        }
        let reach = (self.closed - self.top - lift) / self.scale / slide_angle(&self.kind).cos() + 1.0;
        let travel = self.travel(lift);
        let body = ValveBody::of(&self.kind, travel, lift / self.scale, reach.min(34.0));
        sketch.scene.area(on_sheet(&body.outline, &place), Style::Valve);
        if let Some(pivot) = body.pivot {
            sketch.circle(place.point(pivot), 1.2, Style::Metal);
        }
    }

    /// Valve angle for a lift on the sheet: only flap and drum turn.
    fn travel(&self, lift: f64) -> f64 {
        match &self.kind {
            ValveKind::Flap { radius, start, .. } | ValveKind::Drum { radius, start, .. } => {
                let rise = lift / self.scale / (1e3 * radius.value);
                (start.value.sin() + rise).clamp(-1.0, 1.0).asin() - start.value
            }
            _ => 0.0,
        }
    }

    fn flush(&self, sketch: &mut Sketch) {
        sketch.line((WALL - 26.0, self.roof), (WALL, self.roof), Style::Target);
    }
}

pub(super) fn draw(which: Illustration, sizes: &Sizes<'_>) -> Scene {
    match which {
        Illustration::ClosedFromDeck | Illustration::ClosedFromCrown => from_far(which, sizes),
        Illustration::SlideAngle => slide(sizes),
        Illustration::EdgeRadius | Illustration::EdgeStart => turning(which, sizes),
        Illustration::ProudClosed | Illustration::ProudOpen | Illustration::ProudLimit => proud(which, sizes),
        _ => close_up(which, sizes),
    }
}

/// Title, description, lift on the sheet and the name and key of what is asked.
fn close_up(which: Illustration, sizes: &Sizes<'_>) -> Scene {
    let section = Section::close_up(sizes);
    let drop = section.closed - section.roof;
    let (title, text, lift) = match which {
        Illustration::EdgeAboveFlush => (
            "Edge above flush",
            "Port roof to valve edge along the cylinder axis with the servo at full travel; minus when the edge lies below the roof.",
            drop + 5.0,
        ),
        Illustration::EdgeAboveClosed => (
            "Edge above closed",
            "From the closed position, valve on its stop pin, up to the valve edge with the servo at closed park.",
            5.0,
        ),
        Illustration::FlushLimit => (
            "Limit about flush",
            "The valve edge at full travel may lie this far above or below the port roof.",
            drop,
        ),
        Illustration::ClosedLimit => (
            "Limit above closed",
            "The valve edge may stand this far above closed below the opening speed.",
            2.6,
        ),
        _ => ("Closed edge", "Port roof down to the closed valve edge, along the cylinder axis.", 0.0),
    };
    let mut sketch = Sketch::new(62.0, title, text);
    if which == Illustration::FlushLimit {
        sketch.block((WALL - 28.0, section.roof - 3.2), (WALL, section.roof + 3.2), 0.0, Style::LimitBand);
    }
    if which == Illustration::ClosedLimit {
        sketch.block((WALL - 28.0, section.closed - 3.2), (WALL, section.closed), 0.0, Style::LimitBand);
    }
    section.draw(&mut sketch, lift);
    sketch.note(at(5.0, 56.0), "bore", Anchor::Start);
    sketch.note(at(59.0, 52.0), "port", Anchor::Middle);
    let (roof, closed) = (section.roof, section.closed);
    let x = WALL - 12.0;
    let words = at(x - 2.4, 0.0);
    match which {
        Illustration::EdgeAboveFlush => {
            sketch.datum(
                at(WALL - 26.0, roof),
                at(WALL, roof),
                "port roof (flush)",
                at(3.0, roof + 4.4),
                Anchor::Start,
            );
            let edge = closed - lift;
            sketch.line((x - 1.0, edge), (WALL, edge), Style::Label);
            let text = sizes.asked_here("edge", "found.edge_above_flush");
            sketch.asked_at(at(x, roof), at(x, edge), 0.0, &text, at(1.0, edge - 3.4), Anchor::Start);
            sketch.note(at(76.0, roof + 1.0), "above: plus", Anchor::Start);
            sketch.note(at(76.0, roof + 5.0), "below: minus", Anchor::Start);
            sketch.note(at(76.0, 9.0), "servo at", Anchor::Start);
            sketch.note(at(76.0, 12.8), "full travel", Anchor::Start);
        }
        Illustration::EdgeAboveClosed => {
            section.flush(&mut sketch);
            sketch.datum(
                at(WALL - 26.0, closed),
                at(WALL, closed),
                "closed, on the stop pin",
                at(3.0, closed + 9.4),
                Anchor::Start,
            );
            let edge = closed - lift;
            sketch.line((x - 1.0, edge), (WALL, edge), Style::Label);
            let text = sizes.asked_here("edge", "found.edge_above_closed");
            sketch.asked_at(at(x, closed), at(x, edge), 0.0, &text, at(1.0, edge - 2.4), Anchor::Start);
            sketch.note(at(3.0, roof - 1.6), "flush", Anchor::Start);
            sketch.note(at(76.0, 9.0), "servo at", Anchor::Start);
            sketch.note(at(76.0, 12.8), "closed park", Anchor::Start);
        }
        Illustration::FlushLimit => {
            section.flush(&mut sketch);
            sketch.note(at(76.0, roof + 1.0), "port roof (flush)", Anchor::Start);
            sketch.asked_at(
                at(x, roof - 3.2),
                at(x, roof + 3.2),
                0.0,
                &format!("± {}", sizes.value("limits.flush")),
                at(3.0, roof + 10.0),
                Anchor::Start,
            );
        }
        Illustration::ClosedLimit => {
            sketch.line((WALL - 28.0, closed), (WALL, closed), Style::Target);
            sketch.note(at(3.0, closed + 9.4), "closed, on the stop pin", Anchor::Start);
            let text = sizes.asked("at most", "limits.closed");
            sketch.asked_at(
                at(x, closed),
                at(x, closed - 3.2),
                0.0,
                &text,
                at(1.0, closed - 5.6),
                Anchor::Start,
            );
        }
        _ => {
            sketch.datum(
                at(WALL - 26.0, roof),
                at(WALL, roof),
                "port roof",
                at(3.0, roof - 1.6),
                Anchor::Start,
            );
            sketch.line((x - 1.0, closed), (WALL, closed), Style::Label);
            let text = sizes.asked("drop", "valve.closed_drop");
            sketch.asked_at(
                at(x, roof),
                at(x, closed),
                0.0,
                &text,
                at(words.x, (roof + closed) / 2.0 + 1.1),
                Anchor::End,
            );
            sketch.note(at(3.0, closed + 4.4), "closed edge", Anchor::Start);
            sketch.note(at(76.0, 9.0), "valve on its", Anchor::Start);
            sketch.note(at(76.0, 12.8), "stop pin", Anchor::Start);
        }
    }
    sketch.scene
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

/// Flap or drum about its pivot.
fn turning(which: Illustration, sizes: &Sizes<'_>) -> Scene {
    let drum = sizes.says("valve.kind", "drum");
    let what = if drum { "drum" } else { "flap" };
    let (title, text) = if which == Illustration::EdgeRadius {
        ("Radius of the edge", format!("From the pivot of the {what} to its edge."))
    } else {
        (
            "Edge above level",
            format!(
                "From the level through the pivot of the {what} up to its edge when closed; minus when the edge lies below."
            ),
        )
    };
    let mut sketch = Sketch::new(62.0, title, &text);
    let radius = sizes.mm("valve.radius", (6.0, 60.0), 18.0);
    let start = sizes.rad("valve.start", (-60.0, 20.0), -20.0);
    let ratio = Measured::exact(1.0, Dimension::Number);
    let angle = Measured::exact(start, Dimension::Angle);
    let length = Measured::exact(radius * 1e-3, Dimension::Length);
    let kind = if drum {
        ValveKind::Drum { radius: length, start: angle, ratio }
    } else {
        ValveKind::Flap { radius: length, start: angle, ratio }
    };
    let scale = 28.0 / radius;
    let edge = at(WALL - 14.0, 36.0);
    let place = Place { origin: edge, scale, mirrored: false };
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
    if which == Illustration::EdgeRadius {
        let text = sizes.asked("radius", "valve.radius");
        let place = at(pivot.x + 3.0, if drum { 57.0 } else { edge.y + 12.0 });
        sketch.asked_at(edge, pivot, if drum { 0.0 } else { 7.0 }, &text, place, Anchor::Start);
    } else {
        sketch.scene.line(pivot, edge, Style::Label);
        let text = sizes.asked("edge", "valve.start");
        let from = std::f64::consts::PI;
        let sweep = if start.abs() < 0.1 { 0.25 } else { start };
        sketch.asked_angle((pivot, 20.0), (from, sweep), &text, at(pivot.x + 3.0, 57.0), Anchor::Start);
        sketch.note(at(pivot.x + 3.0, 52.6), "below level: minus", Anchor::Start);
    }
    sketch.scene
}

/// The edge against a straight edge laid along the bore: proud on one side, lying back on the other.
fn proud(which: Illustration, sizes: &Sizes<'_>) -> Scene {
    let (title, end, key) = match which {
        Illustration::ProudOpen => {
            ("Edge against the bore, valve open", "valve fully open", "gates.proud_open")
        }
        Illustration::ProudLimit => ("Limit for a proud edge", "at both ends", "limits.proud"),
        _ => ("Edge against the bore, valve closed", "valve closed", "gates.proud_closed"),
    };
    let text = "A straight edge along the bore wall. An edge that stands out of the wall is proud: plus, and stops the \
                work. One that lies back from it: minus.";
    let mut sketch = Sketch::new(66.0, title, text);
    for (wall, out, name, sign) in
        [(24.0, 4.0, "proud", "plus: stop"), (70.0, -4.0, "lies back", "minus: right")]
    {
        sketch.block(
            (wall - 3.0 - f64::max(out, 0.0), 14.0),
            (wall - f64::max(out, 0.0), 58.0),
            0.4,
            Style::Metal,
        );
        sketch.metal(&[(wall, 10.0), (wall + 20.0, 10.0), (wall + 20.0, 22.0), (wall, 22.0)]);
        sketch.metal(&[(wall, 48.0), (wall + 20.0, 49.0), (wall + 20.0, 58.0), (wall, 58.0)]);
        let edge = wall - out;
        sketch.part(
            &[
                (edge, 36.0),
                (edge, 29.0),
                (wall + 7.0, 22.0),
                (wall + 20.0, 22.0),
                (wall + 20.0, 29.0),
                (wall + 8.0, 36.0),
            ],
            Style::Valve,
        );
        sketch.line((wall, 10.0), (wall, 60.0), Style::Centre);
        sketch.asked_at(at(wall, 40.0), at(edge, 40.0), 0.0, "", at(wall, 40.0), Anchor::Start);
        let style = if out > 0.0 { Style::Fault } else { Style::Target };
        sketch.line((edge, 29.0), (edge, 36.0), style);
        sketch.name(at(wall - 3.0, 6.5), name, Anchor::Middle);
        sketch.note(at(wall + 6.0, 6.5), sign, Anchor::Start);
    }
    sketch.note(at(1.0, 63.8), "straight edge on the bore wall", Anchor::Start);
    let text = sizes.asked(end, key);
    sketch.name(at(99.0, 63.8), &text, Anchor::End);
    sketch.scene
}
