//! A section through the port with the valve in it.

use super::sizes::Sizes;
use super::sketch::Sketch;
use crate::picture::place::Place;
use crate::picture::valve_body::{THICK_MM, ValveBody, on_sheet, slide_angle};
use drawing::{Draw, Style, at};
use engine::model::ValveKind;
use quantity::{Dimension, Measured};

/// Bore wall from the left and the roof's level on the sheet, mm.
pub(super) const WALL: f64 = 44.0;
pub(super) const RIGHT: f64 = 74.0;

/// The valve as the fields say it, with usual figures for what they do not say.
fn kind(sizes: &Sizes<'_>) -> ValveKind {
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
pub(super) struct Section {
    pub(super) kind: ValveKind,
    pub(super) roof: f64,
    pub(super) closed: f64,
    scale: f64,
    pub(super) top: f64,
}

impl Section {
    /// Zoomed in on the edge: the drop is drawn about 13 mm high.
    pub(super) fn close_up(sizes: &Sizes<'_>) -> Self {
        let drop = sizes.mm("valve.closed_drop", (1.0, 15.0), 4.5);
        let kind = kind(sizes);
        // A turning valve is drawn whole, so that its pivot is seen.
        let room = match &kind {
            ValveKind::Flap { radius, .. } => 25.0 / (1e3 * radius.value),
            ValveKind::Drum { radius, .. } => 15.0 / (1e3 * radius.value),
            _ => 4.0,
        };
        let scale = (13.0 / drop).clamp(0.9, 4.0).min(room);
        Self { kind, roof: 24.0, closed: 24.0 + scale * drop, scale, top: 3.0 }
    }

    /// From the deck to the crown at bottom dead centre.
    pub(super) fn whole(sizes: &Sizes<'_>) -> Self {
        let drop = sizes.mm("valve.closed_drop", (2.0, 15.0), 5.0);
        let scale = 0.9;
        Self { kind: kind(sizes), roof: 28.0, closed: 28.0 + scale * drop, scale, top: 7.0 }
    }

    pub(super) fn draw(&self, sketch: &mut Sketch, lift: f64) {
        let closed = at(WALL, self.closed);
        let place = Place { origin: closed, scale: self.scale, mirrored: false };
        self.wall(sketch);
        let reach = (self.closed - self.top - lift) / self.scale / slide_angle(&self.kind).cos() + 1.0;
        let travel = self.travel(lift);
        let body = ValveBody::of(&self.kind, travel, lift / self.scale, reach.min(34.0));
        sketch.scene.area(on_sheet(&body.outline, &place), Style::Valve);
        if let Some(pivot) = body.pivot {
            sketch.circle(place.point(pivot), 1.2, Style::Metal);
        }
    }

    /// Cylinder wall above the roof, with room for a blade's slide.
    fn wall(&self, sketch: &mut Sketch) {
        let (top, roof) = (self.top, self.roof);
        if !matches!(self.kind, ValveKind::Blade { .. }) {
            sketch.metal(&[(WALL, top), (RIGHT, top), (RIGHT, roof), (WALL, roof)]);
            return;
        }
        let angle = slide_angle(&self.kind);
        let thick = self.scale * THICK_MM / angle.cos() + 0.5;
        let before = |y: f64| (WALL + angle.tan() * (self.closed - y)).min(RIGHT);
        let behind = |y: f64| (before(y) + thick).min(RIGHT);
        sketch.metal(&[(WALL, top), (before(top), top), (before(roof), roof), (WALL, roof)]);
        sketch.metal(&[(behind(top), top), (RIGHT, top), (RIGHT, roof), (behind(roof), roof)]);
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

    pub(super) fn flush(&self, sketch: &mut Sketch) {
        sketch.line((WALL - 26.0, self.roof), (WALL, self.roof), Style::Target);
    }
}
