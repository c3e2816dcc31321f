//! The valve edge seen close: closed, above closed, above flush, and how far it may be off.

use super::kind::Illustration;
use super::section::{Section, WALL};
use super::sizes::Sizes;
use super::sketch::Sketch;
use drawing::{Anchor, Scene, Style, at};

/// Where heights are dimensioned, and where lines of reference begin, mm.
const AT: f64 = WALL - 12.0;
const FROM: f64 = WALL - 27.0;
/// Half the height of an acceptance band and the lift of an edge that is off, mm on the sheet.
const BAND: f64 = 3.2;
const OFF: f64 = 5.0;

pub(super) fn draw(which: Illustration, sizes: &Sizes<'_>) -> Scene {
    let section = Section::close_up(sizes);
    match which {
        Illustration::EdgeAboveFlush => above_flush(sizes, &section),
        Illustration::EdgeAboveClosed => above_closed(sizes, &section),
        Illustration::FlushLimit => flush_limit(sizes, &section),
        Illustration::ClosedLimit => closed_limit(sizes, &section),
        _ => closed_drop(sizes, &section),
    }
}

fn blank(title: &str, text: &str) -> Sketch {
    let mut sketch = Sketch::new(62.0, title, text);
    sketch.note(at(5.0, 56.0), "bore", Anchor::Start);
    sketch.note(at(59.0, 54.0), "port", Anchor::Middle);
    sketch
}

/// In which position it is read, in two lines.
fn position(sketch: &mut Sketch, first: &str, second: &str) {
    sketch.note(at(76.0, 9.0), first, Anchor::Start);
    sketch.note(at(76.0, 12.8), second, Anchor::Start);
}

/// A level from which the edge is measured.
fn from_level(sketch: &mut Sketch, level: f64, text: &str, baseline: f64) {
    sketch.datum(at(FROM, level), at(WALL, level), text, at(3.0, baseline), Anchor::Start);
}

/// The edge's own level, out to its dimension.
fn edge_level(sketch: &mut Sketch, level: f64) {
    sketch.line((AT - 1.0, level), (WALL, level), Style::Label);
}

fn closed_drop(sizes: &Sizes<'_>, section: &Section) -> Scene {
    let mut sketch =
        blank("Closed edge", "Port roof down to the closed valve edge, along the cylinder axis.");
    section.draw(&mut sketch, 0.0);
    let (roof, closed) = (section.roof, section.closed);
    from_level(&mut sketch, roof, "port roof", roof - 1.6);
    edge_level(&mut sketch, closed);
    let text = sizes.asked("drop", "valve.closed_drop");
    let middle = if closed - roof < 7.0 { closed + 3.6 } else { (roof + closed) / 2.0 + 1.1 };
    let place = at(AT - 2.4, middle);
    sketch.asked_at(at(AT, roof), at(AT, closed), 0.0, &text, place, Anchor::End);
    sketch.note(at(3.0, closed + 9.4), "closed edge", Anchor::Start);
    position(&mut sketch, "valve on its", "stop pin");
    sketch.scene
}

fn above_flush(sizes: &Sizes<'_>, section: &Section) -> Scene {
    let mut sketch = blank(
        "Edge above flush",
        "Port roof to valve edge along the cylinder axis with the servo at full travel; minus when the edge lies \
         below the roof.",
    );
    let roof = section.roof;
    section.draw(&mut sketch, section.closed - roof + OFF);
    from_level(&mut sketch, roof, "port roof (flush)", roof + 4.4);
    edge_level(&mut sketch, roof - OFF);
    let text = sizes.asked_here("edge", "found.edge_above_flush");
    let place = at(1.0, roof - OFF - 3.4);
    sketch.asked_at(at(AT, roof), at(AT, roof - OFF), 0.0, &text, place, Anchor::Start);
    sketch.note(at(76.0, roof + 1.0), "above: plus", Anchor::Start);
    sketch.note(at(76.0, roof + 5.0), "below: minus", Anchor::Start);
    position(&mut sketch, "servo at", "full travel");
    sketch.scene
}

fn above_closed(sizes: &Sizes<'_>, section: &Section) -> Scene {
    let mut sketch = blank(
        "Edge above closed",
        "From the closed position, valve on its stop pin, up to the valve edge with the servo at closed park.",
    );
    let closed = section.closed;
    section.draw(&mut sketch, OFF);
    section.flush(&mut sketch);
    if closed - section.roof > 11.0 {
        sketch.note(at(3.0, section.roof - 1.6), "flush", Anchor::Start);
    }
    from_level(&mut sketch, closed, "closed, on the stop pin", closed + 9.4);
    edge_level(&mut sketch, closed - OFF);
    let text = sizes.asked_here("edge", "found.edge_above_closed");
    let place = at(1.0, closed - OFF - 2.4);
    sketch.asked_at(at(AT, closed), at(AT, closed - OFF), 0.0, &text, place, Anchor::Start);
    position(&mut sketch, "servo at", "closed park");
    sketch.scene
}

fn flush_limit(sizes: &Sizes<'_>, section: &Section) -> Scene {
    let mut sketch = blank(
        "Limit about flush",
        "The valve edge at full travel may lie this far above or below the port roof.",
    );
    let roof = section.roof;
    sketch.block((FROM, roof - BAND), (WALL, roof + BAND), 0.0, Style::LimitBand);
    section.draw(&mut sketch, section.closed - roof);
    section.flush(&mut sketch);
    sketch.note(at(3.0, roof - BAND - 2.0), "port roof (flush)", Anchor::Start);
    let text = format!("± {}", sizes.value("limits.flush"));
    let (up, down) = (at(AT, roof - BAND), at(AT, roof + BAND));
    sketch.asked_at(up, down, 0.0, &text, at(AT, roof + BAND + 4.6), Anchor::Middle);
    position(&mut sketch, "servo at", "full travel");
    sketch.scene
}

fn closed_limit(sizes: &Sizes<'_>, section: &Section) -> Scene {
    let mut sketch = blank(
        "Limit above closed",
        "The valve edge may stand this far above closed below the opening speed.",
    );
    let closed = section.closed;
    sketch.block((FROM, closed - BAND), (WALL, closed), 0.0, Style::LimitBand);
    section.draw(&mut sketch, BAND - 0.6);
    sketch.line((FROM, closed), (WALL, closed), Style::Target);
    sketch.note(at(3.0, closed + 9.4), "closed, on the stop pin", Anchor::Start);
    let text = sizes.asked("at most", "limits.closed");
    sketch.asked_at(at(AT, closed), at(AT, closed - BAND), 0.0, &text, at(1.0, closed - 5.6), Anchor::Start);
    position(&mut sketch, "servo at", "closed park");
    sketch.scene
}
