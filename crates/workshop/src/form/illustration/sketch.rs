//! Drawing aids: the asked dimension in ink, the datum as a heavy line, everything else quiet.

use crate::picture::{NAME_MM, NOTE_MM, name, note};
use drawing::{Anchor, Draw, Group, Item, Path, Point, Scene, Style, Turn, at, text_width_mm};

/// A scene 100 mm wide on which one thing is asked.
pub(super) struct Sketch {
    pub(super) scene: Scene,
}

/// Arrows closer than this point at the dimension from outside, mm.
const SHORT_MM: f64 = 6.0;

impl Sketch {
    pub(super) fn new(height: f64, title: &str, description: &str) -> Self {
        Self { scene: Scene::new(100.0, height, title, description) }
    }

    /// The asked dimension between two points, its line `offset` mm beside them (positive a quarter turn clockwise
    /// from the direction of measuring), with its text beside it.
    pub(super) fn asked(&mut self, from: Point, to: Point, offset: f64, text: &str) {
        let Some(along) = (to - from).unit() else { return };
        let across = along.quarter_turn();
        let (a, b) = (from + across * offset, to + across * offset);
        let level = along.x.abs() > along.y.abs();
        let middle = (a + b) * 0.5;
        let width = text_width_mm(text, NAME_MM) * 1.06;
        let (place, anchor) = if level && width < (b - a).length() - 2.0 {
            (at(middle.x, middle.y - 1.2), Anchor::Middle)
        } else if level {
            let end = if a.x > b.x { a } else { b };
            let out = if (b - a).length() < SHORT_MM { 6.0 } else { 1.6 };
            (at(end.x + out, end.y + 0.36 * NAME_MM), Anchor::Start)
        } else {
            (at(middle.x + 1.6, middle.y + 0.36 * NAME_MM), Anchor::Start)
        };
        self.asked_at(from, to, offset, text, place, anchor);
    }

    /// The same with its text where it is wanted.
    pub(super) fn asked_at(
        &mut self,
        from: Point,
        to: Point,
        offset: f64,
        text: &str,
        place: Point,
        anchor: Anchor,
    ) {
        let Some(along) = (to - from).unit() else { return };
        let across = along.quarter_turn();
        let (a, b) = (from + across * offset, to + across * offset);
        let mut group = Group::with_class("asked");
        if offset.abs() > 0.6 {
            let side = across * offset.signum();
            group.line(from + side * 0.5, a + side, Style::Label);
            group.line(to + side * 0.5, b + side, Style::Label);
        }
        if (b - a).length() >= SHORT_MM {
            let middle = (a + b) * 0.5;
            group.arrow(middle, a, Style::Label);
            group.arrow(middle, b, Style::Label);
        } else {
            group.arrow(a - along * 5.0, a, Style::Label);
            group.arrow(b + along * 5.0, b, Style::Label);
            group.line(a, b, Style::Label);
        }
        if !text.is_empty() {
            group.text(name(place, text, Style::Label).anchor(anchor).halo());
        }
        self.scene.group(group);
    }

    /// The asked angle at a centre, from `start_rad` over `sweep_rad` (clockwise), with its text.
    pub(super) fn asked_angle(
        &mut self,
        (centre, radius): (Point, f64),
        (start_rad, sweep_rad): (f64, f64),
        text: &str,
        place: Point,
        anchor: Anchor,
    ) {
        let mut group = Group::with_class("asked");
        let middle = start_rad + sweep_rad / 2.0;
        for sweep_rad in [sweep_rad / 2.0, -sweep_rad / 2.0] {
            let turn = Turn { centre, radius, start_rad: middle, sweep_rad, style: Style::Label };
            group.items.push(Item::Turn(turn));
        }
        group.text(name(place, text, Style::Label).anchor(anchor).halo());
        self.scene.group(group);
    }

    /// A turning arrow that is asked for: a torque or a direction.
    pub(super) fn turning(&mut self, (centre, radius): (Point, f64), (start_rad, sweep_rad): (f64, f64)) {
        self.scene.items.push(Item::Turn(Turn { centre, radius, start_rad, sweep_rad, style: Style::Label }));
    }

    /// From where it is measured: a heavy line with its name.
    pub(super) fn datum(&mut self, from: Point, to: Point, text: &str, place: Point, anchor: Anchor) {
        self.scene.line(from, to, Style::Mark);
        self.scene.text(note(place, text, Style::Label).anchor(anchor).halo());
    }

    /// A quiet word.
    pub(super) fn note(&mut self, place: Point, text: &str, anchor: Anchor) {
        self.scene.text(note(place, text, Style::Note).anchor(anchor).halo());
    }

    /// A quiet word with a line to what it names.
    pub(super) fn leader(&mut self, to: Point, place: Point, text: &str, anchor: Anchor) {
        let end = at(place.x + if anchor == Anchor::End { 0.8 } else { -0.8 }, place.y - 0.36 * NOTE_MM);
        self.scene.line(to, end, Style::Measure);
        self.note(place, text, anchor);
    }

    /// A strong word.
    pub(super) fn name(&mut self, place: Point, text: &str, anchor: Anchor) {
        self.scene.text(name(place, text, Style::Label).anchor(anchor).halo());
    }

    /// Cut metal through corners.
    pub(super) fn metal(&mut self, corners: &[(f64, f64)]) {
        self.scene.cut_metal(polygon(corners), std::f64::consts::FRAC_PI_4);
    }

    /// A part seen from outside.
    pub(super) fn part(&mut self, corners: &[(f64, f64)], style: Style) {
        self.scene.area(polygon(corners), style);
    }

    /// A rectangle by its sides.
    pub(super) fn block(
        &mut self,
        (left, top): (f64, f64),
        (right, bottom): (f64, f64),
        radius: f64,
        style: Style,
    ) {
        self.scene.rect(at(left, top), right - left, bottom - top, radius, style);
    }

    /// A circle of a part.
    pub(super) fn circle(&mut self, centre: Point, radius: f64, style: Style) {
        self.scene.circle(centre, radius, style);
    }

    /// A piece of a circle, a line.
    pub(super) fn arc(
        &mut self,
        (centre, radius): (Point, f64),
        (start_rad, sweep_rad): (f64, f64),
        style: Style,
    ) {
        self.scene.items.push(Item::Arc { centre, radius, start_rad, sweep_rad, style });
    }

    pub(super) fn line(&mut self, from: (f64, f64), to: (f64, f64), style: Style) {
        self.scene.line(at(from.0, from.1), at(to.0, to.1), style);
    }
}

pub(super) fn polygon(corners: &[(f64, f64)]) -> Path {
    Path::polygon(&corners.iter().map(|&(x, y)| at(x, y)).collect::<Vec<_>>())
}
