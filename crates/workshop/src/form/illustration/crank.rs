//! Crank train, deck, piston.

use super::kind::Illustration;
use super::sizes::Sizes;
use super::sketch::Sketch;
use drawing::{Anchor, Draw, Path, Point, Scene, Style, at};
use std::f64::consts::{FRAC_PI_2, PI};

/// Height of the sheet with the whole crank train, mm.
const HEIGHT: f64 = 90.0;
/// Crank centre from the left, mm.
const LEFT: f64 = 38.0;

/// The crank train on the sheet, mm.
struct Train {
    centre: Point,
    radius: f64,
    rod: f64,
    bore: f64,
    /// Bore axis right of the crank centre.
    offset: f64,
    /// From pin to crown, and from crown to skirt edge.
    above_pin: f64,
    skirt: f64,
    deck: f64,
}

impl Train {
    fn of(sizes: &Sizes<'_>, offset: f64) -> Self {
        let bore = sizes.mm("crank.bore", (20.0, 150.0), 54.0);
        let stroke = sizes.mm("crank.stroke", (20.0, 150.0), 54.5);
        let rod = sizes.mm("crank.rod_length", (0.9 * stroke, 4.0 * stroke), 2.0 * stroke);
        let (above_pin, skirt) = (0.45 * bore, 0.95 * bore);
        let whole = stroke + 10.0 + rod + above_pin + 6.0;
        let k = ((HEIGHT - 6.0) / whole).min(34.0 / bore);
        let centre = at(LEFT, HEIGHT - 2.0 - k * (stroke / 2.0 + 6.0));
        let deck = centre.y - k * (stroke / 2.0 + rod + above_pin) - 0.6;
        Self {
            centre,
            radius: k * stroke / 2.0,
            rod: k * rod,
            bore: k * bore,
            offset,
            above_pin: k * above_pin,
            skirt: k * skirt,
            deck,
        }
    }

    fn axis(&self) -> f64 {
        self.centre.x + self.offset
    }

    fn crank_pin(&self, angle: f64) -> Point {
        at(self.centre.x + self.radius * angle.sin(), self.centre.y - self.radius * angle.cos())
    }

    fn piston_pin(&self, angle: f64) -> Point {
        let pin = self.crank_pin(angle);
        let across = self.axis() - pin.x;
        at(self.axis(), pin.y - (self.rod.powi(2) - across.powi(2)).max(0.0).sqrt())
    }

    fn crown(&self, angle: f64) -> f64 {
        self.piston_pin(angle).y - self.above_pin
    }

    fn sides(&self) -> (f64, f64) {
        (self.axis() - self.bore / 2.0, self.axis() + self.bore / 2.0)
    }

    fn draw(&self, sketch: &mut Sketch, angle: f64) {
        let (left, right) = self.sides();
        let bottom = self.crown(PI) + 0.62 * self.skirt;
        for (inner, outer) in [(left, left - 5.0), (right, right + 5.0)] {
            sketch.metal(&[(inner, self.deck), (outer, self.deck), (outer, bottom), (inner, bottom)]);
        }
        sketch.circle(self.centre, self.radius, Style::Centre);
        let (pin, wrist, crown) = (self.crank_pin(angle), self.piston_pin(angle), self.crown(angle));
        sketch.block((left, crown), (right, crown + self.skirt), 0.8, Style::Piston);
        self.rod(sketch, pin, wrist);
        sketch.scene.line(self.centre, pin, Style::Mark);
        sketch.circle(self.centre, 1.6, Style::Metal);
    }

    fn rod(&self, sketch: &mut Sketch, pin: Point, wrist: Point) {
        let Some(along) = (wrist - pin).unit() else { return };
        let side = along.quarter_turn();
        let corners = [pin + side * 1.6, wrist + side * 1.2, wrist - side * 1.2, pin - side * 1.6];
        sketch.scene.area(Path::polygon(&corners), Style::Metal);
        sketch.circle(pin, 2.4, Style::Metal);
        sketch.circle(wrist, 1.9, Style::Metal);
    }
}

pub(super) fn draw(which: Illustration, sizes: &Sizes<'_>) -> Scene {
    match which {
        Illustration::DeckClearance => deck(sizes),
        Illustration::SkirtLength => skirt(sizes),
        Illustration::Stroke => stroke(sizes),
        Illustration::RodLength => rod(sizes),
        Illustration::PinOffset => offset(sizes),
        Illustration::CrankcaseVolume => crankcase(sizes),
        Illustration::CrankTurn => turn(sizes),
        _ => bore(sizes),
    }
}

fn bore(sizes: &Sizes<'_>) -> Scene {
    let mut sketch = Sketch::new(HEIGHT, "Bore", "Bore: straight across the cylinder, below the ports.");
    let train = Train::of(sizes, 0.0);
    train.draw(&mut sketch, PI);
    let (left, right) = train.sides();
    let level = train.crown(PI) - 4.0;
    for x in [left, right] {
        sketch.line((x, train.deck), (x, train.crown(PI)), Style::Mark);
    }
    let text = sizes.asked("bore", "crank.bore");
    let place = at(right + 8.0, level + 1.1);
    sketch.asked_at(at(left, level), at(right, level), 0.0, &text, place, Anchor::Start);
    sketch.note(at(right + 8.0, level + 5.0), "straight across, twice,", Anchor::Start);
    sketch.note(at(right + 8.0, level + 8.8), "at right angles", Anchor::Start);
    sketch.scene
}

fn stroke(sizes: &Sizes<'_>) -> Scene {
    let mut sketch = Sketch::new(
        HEIGHT,
        "Stroke",
        "Stroke: from the crown at top dead centre to the crown at bottom dead centre, twice the crank radius.",
    );
    let train = Train::of(sizes, 0.0);
    train.draw(&mut sketch, 0.0);
    let (left, right) = train.sides();
    let (top, bottom) = (train.crown(0.0), train.crown(PI));
    sketch.line((left, bottom), (right, bottom), Style::Hidden);
    sketch.datum(
        at(left, top),
        at(right, top),
        "top dead centre",
        at(right + 13.0, top + 1.0),
        Anchor::Start,
    );
    sketch.note(at(right + 13.0, bottom + 1.0), "bottom dead centre", Anchor::Start);
    let text = sizes.asked("stroke", "crank.stroke");
    sketch.asked(at(right, top), at(right, bottom), -10.0, &text);
    let out = at(train.centre.x + train.radius, train.centre.y);
    sketch.leader(out, at(out.x + 7.0, out.y + 1.0), "way of the crank pin", Anchor::Start);
    sketch.scene
}

fn rod(sizes: &Sizes<'_>) -> Scene {
    let mut sketch =
        Sketch::new(HEIGHT, "Rod length", "Rod length: centre of the big end to centre of the small end.");
    let train = Train::of(sizes, 0.0);
    let angle = 1.0;
    train.draw(&mut sketch, angle);
    let (pin, wrist) = (train.crank_pin(angle), train.piston_pin(angle));
    for p in [pin, wrist] {
        sketch.scene.dot(p, 0.7, Style::Label);
    }
    let beside = (train.sides().1 + 8.0 - wrist.x).max(12.0);
    let text = sizes.asked("rod", "crank.rod_length");
    let middle = (pin + wrist) * 0.5;
    let place = at(middle.x + beside + 2.2, middle.y + 1.1);
    sketch.asked_at(wrist, pin, -beside, &text, place, Anchor::Start);
    sketch.note(at(place.x, place.y + 4.0), "centre to centre", Anchor::Start);
    sketch.scene
}

fn offset(sizes: &Sizes<'_>) -> Scene {
    let negative = sizes.mm("crank.pin_offset", (-20.0, 20.0), 1.0) < 0.0;
    let mut sketch = Sketch::new(
        HEIGHT,
        "Pin offset",
        "Pin offset: from the crank centre to the bore axis, positive towards the side where the crank pin goes down.",
    );
    let train = Train::of(sizes, if negative { -4.0 } else { 4.0 });
    train.draw(&mut sketch, 1.0);
    let (x, axis) = (train.centre.x, train.axis());
    sketch.line((x, train.deck - 1.0), (x, HEIGHT - 1.0), Style::Centre);
    sketch.line((axis, train.deck - 1.0), (axis, HEIGHT - 1.0), Style::Centre);
    let level = train.crown(PI) + 0.8 * train.skirt;
    let text = sizes.asked("offset", "crank.pin_offset");
    let right = train.sides().1 + 9.0;
    sketch.asked_at(at(x, level), at(axis, level), 0.0, &text, at(right, level + 1.0), Anchor::Start);
    sketch.turning((train.centre, train.radius + 3.0), (-0.6, 1.2));
    let down = at(train.centre.x + train.radius + 5.0, train.centre.y + 1.0);
    sketch.note(down, "the crank pin goes", Anchor::Start);
    sketch.note(at(down.x, down.y + 3.8), "down on this side: plus", Anchor::Start);
    sketch.note(at(right, level + 5.0), "drawn larger than it is", Anchor::Start);
    sketch.scene
}

fn crankcase(sizes: &Sizes<'_>) -> Scene {
    let mut sketch = Sketch::new(
        HEIGHT,
        "Crankcase volume",
        "Crankcase volume: everything below the piston at bottom dead centre up to the reed or inlet.",
    );
    let train = Train::of(sizes, 0.0);
    let (left, right) = train.sides();
    let (crown, case) = (train.crown(PI), train.radius + 4.0);
    sketch.circle(train.centre, case, Style::OpenArea);
    sketch.block((left, crown + 0.45 * train.skirt), (right, train.centre.y), 0.0, Style::OpenArea);
    sketch.arc((train.centre, case), (-0.62, PI + 1.24), Style::Outline);
    train.draw(&mut sketch, PI);
    let text = sizes.asked("volume", "crankcase.volume");
    let place = at(train.centre.x + case + 6.0, train.centre.y);
    sketch.name(at(place.x, place.y), &text, Anchor::Start);
    sketch.note(at(place.x, place.y + 4.2), "all below the piston,", Anchor::Start);
    sketch.note(at(place.x, place.y + 8.0), "up to the reed", Anchor::Start);
    sketch.note(at(right + 8.0, crown + 1.0), "bottom dead centre", Anchor::Start);
    sketch.scene
}

fn turn(sizes: &Sizes<'_>) -> Scene {
    let mut sketch = Sketch::new(
        HEIGHT,
        "Full turn by hand",
        "Spark plug out, the crank is turned slowly by hand through a full turn while feeling for a touch.",
    );
    let train = Train::of(sizes, 0.0);
    train.draw(&mut sketch, 1.0);
    sketch.turning((train.centre, train.radius + 4.0), (-FRAC_PI_2 + 0.9, 5.2));
    let place = at(train.centre.x + train.radius + 8.0, train.centre.y - 6.0);
    sketch.name(place, "one full turn, by hand", Anchor::Start);
    sketch.note(at(place.x, place.y + 4.2), "plug out, slowly,", Anchor::Start);
    sketch.note(at(place.x, place.y + 8.0), "feel for a touch", Anchor::Start);
    let right = train.sides().1 + 8.0;
    sketch.leader(
        at(train.sides().1, train.deck + 8.0),
        at(right, train.deck + 7.0),
        "rings pass the valve here",
        Anchor::Start,
    );
    sketch.scene
}

fn deck(sizes: &Sizes<'_>) -> Scene {
    let proud = sizes.mm("crank.deck_clearance", (-10.0, 30.0), 0.5) < 0.0;
    let mut sketch = Sketch::new(
        48.0,
        "Crown edge below deck",
        "Crown edge at top dead centre, measured down from the deck, the top face of the cylinder.",
    );
    let (deck, crown) = (18.0, if proud { 10.5 } else { 27.0 });
    for (inner, outer) in [(18.0, 4.0), (62.0, 76.0)] {
        sketch.metal(&[(inner, deck), (outer, deck), (outer, 46.0), (inner, 46.0)]);
    }
    sketch.part(&[(18.4, crown), (61.6, crown), (61.6, 46.0), (18.4, 46.0)], Style::Piston);
    for ring in [crown + 5.0, crown + 9.0] {
        sketch.line((18.4, ring), (61.6, ring), Style::Outline);
    }
    if !proud {
        sketch.block((10.0, deck - 3.0), (70.0, deck), 0.4, Style::Metal);
        sketch.note(at(40.0, deck - 4.4), "straight edge across the deck", Anchor::Middle);
    }
    sketch.datum(at(2.0, deck), at(80.0, deck), "deck", at(81.0, deck + 1.0), Anchor::Start);
    let text = sizes.value("crank.deck_clearance");
    let x = 54.0;
    let place = at(x - 3.0, (deck + crown) / 2.0 + 1.1);
    sketch.asked_at(at(x, deck), at(x, crown), 0.0, &text, place, Anchor::End);
    sketch.note(at(81.0, crown + 1.0), "crown edge", Anchor::Start);
    sketch.line((62.0, crown), (80.0, crown), Style::Measure);
    sketch.note(at(40.0, 43.5), "piston at top dead centre", Anchor::Middle);
    let words = if proud { ["stands proud:", "minus"] } else { ["gap drawn", "larger"] };
    sketch.note(at(81.0, 40.0), words[0], Anchor::Start);
    sketch.note(at(81.0, 43.8), words[1], Anchor::Start);
    sketch.scene
}

fn skirt(sizes: &Sizes<'_>) -> Scene {
    let mut sketch = Sketch::new(
        58.0,
        "Skirt length",
        "Piston from the side: crown edge down to the lower edge of the skirt on the inlet side.",
    );
    let (top, bottom) = (7.0, 53.0);
    let outline = [
        (16.0, top),
        (52.0, top),
        (52.0, bottom),
        (44.0, bottom),
        (40.0, 46.0),
        (28.0, 46.0),
        (24.0, bottom),
        (16.0, bottom),
    ];
    sketch.part(&outline, Style::Piston);
    for ring in [12.0, 17.0] {
        sketch.line((16.0, ring), (52.0, ring), Style::Outline);
    }
    sketch.circle(at(34.0, 29.0), 5.0, Style::Metal);
    sketch.datum(at(12.0, top), at(56.0, top), "crown edge", at(57.0, top - 1.4), Anchor::Start);
    let text = sizes.asked("skirt", "crank.skirt_length");
    sketch.asked(at(52.0, top), at(52.0, bottom), -10.0, &text);
    sketch.note(at(64.0, 36.0), "on the inlet side", Anchor::Start);
    sketch.scene
}
