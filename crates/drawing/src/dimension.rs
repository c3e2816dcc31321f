//! Dimension lines with arrows and text.

use crate::point::{Point, at};
use crate::scene::{Anchor, Draw, Group, Text};
use crate::style::Style;
use crate::text::text_width_mm;

/// Length of an arrow head, mm.
pub(crate) const HEAD_MM: f64 = 2.0;
/// Half the width of an arrow head, mm.
pub(crate) const HEAD_HALF_MM: f64 = 0.55;

/// Where the text of a dimension stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum DimensionLabel {
    /// On the line when it has room there, otherwise beyond its end.
    Auto,
    /// At this point (baseline) with this anchor.
    At(Point, Anchor),
}

/// A dimension: two points, a line beside them with arrows, and its text.
#[derive(Debug, Clone, PartialEq)]
pub struct Dimension {
    /// First point measured.
    pub from: Point,
    /// Second point measured.
    pub to: Point,
    /// Distance of the dimension line from the points, mm; positive a quarter turn clockwise from the direction
    /// from -> to.
    pub offset: f64,
    /// The text.
    pub text: String,
    /// Text height, mm.
    pub size: f64,
    /// Where the text stands.
    pub label: DimensionLabel,
    /// Style of lines; the text is written as a label.
    pub style: Style,
}

impl Dimension {
    /// Extension lines, dimension line, heads and text as plain items; empty when the points coincide.
    pub(crate) fn parts(&self) -> Group {
        let mut group = Group::with_class("dimension");
        let Some(along) = (self.to - self.from).unit() else { return group };
        let across = along.quarter_turn();
        let length = (self.to - self.from).length();
        let (a, b) = (self.from + across * self.offset, self.to + across * self.offset);
        if self.offset.abs() > 0.6 {
            let side = across * self.offset.signum();
            group.line(self.from + side * 0.6, a + side * 0.9, self.style);
            group.line(self.to + side * 0.6, b + side * 0.9, self.style);
        }
        let inside = length >= 2.0 * HEAD_MM + 0.8;
        if inside {
            group.line(a + along * (HEAD_MM * 0.8), b - along * (HEAD_MM * 0.8), self.style);
            head(&mut group, a, along * -1.0, self.style);
            head(&mut group, b, along, self.style);
        } else {
            let tail = HEAD_MM + 1.6;
            group.line(a - along * tail, a - along * (HEAD_MM * 0.8), self.style);
            group.line(b + along * (HEAD_MM * 0.8), b + along * tail, self.style);
            head(&mut group, a, along, self.style);
            head(&mut group, b, along * -1.0, self.style);
        }
        self.text(&mut group, a, b, inside);
        group
    }

    fn text(&self, group: &mut Group, a: Point, b: Point, inside: bool) {
        let (place, anchor) = match self.label {
            DimensionLabel::At(place, anchor) => (place, anchor),
            DimensionLabel::Auto => self.auto_place(a, b, inside),
        };
        group.text(Text::new(place, &self.text, self.size, Style::Label).anchor(anchor).halo());
    }

    fn auto_place(&self, a: Point, b: Point, inside: bool) -> (Point, Anchor) {
        let along = b - a;
        let width = text_width_mm(&self.text, self.size);
        let middle = a + along * 0.5;
        let baseline = self.size * 0.36;
        if along.x.abs() > along.y.abs() {
            if inside && width + 2.0 < along.length() {
                return (at(middle.x, middle.y - 0.9), Anchor::Middle);
            }
            let right = if b.x > a.x { b } else { a };
            return (at(right.x + HEAD_MM + 2.2, right.y + baseline), Anchor::Start);
        }
        (at(middle.x + 1.2, middle.y + baseline), Anchor::Start)
    }
}

/// A filled arrow head with its tip at `tip`, pointing along the unit step `direction`.
pub(crate) fn head(group: &mut Group, tip: Point, direction: Point, style: Style) {
    let base = tip - direction * HEAD_MM;
    let side = direction.quarter_turn() * HEAD_HALF_MM;
    group.solid(&[tip, base + side, base - side], style);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Item;

    fn dimension(length: f64) -> Dimension {
        Dimension {
            from: at(10.0, 10.0),
            to: at(10.0 + length, 10.0),
            offset: 5.0,
            text: "12.0 mm".into(),
            size: 3.0,
            label: DimensionLabel::Auto,
            style: Style::Measure,
        }
    }

    fn tips(d: &Dimension) -> Vec<Point> {
        let heads = d.parts().items.into_iter().filter_map(|i| match i {
            Item::Solid { points, .. } => Some(points[0]),
            _ => None,
        });
        heads.collect()
    }

    #[test]
    fn exact_arrow_tips_stand_at_the_measured_points() {
        for length in [30.0, 2.0] {
            assert_eq!(tips(&dimension(length)), vec![at(10.0, 15.0), at(10.0 + length, 15.0)]);
        }
    }

    #[test]
    fn exact_text_leaves_a_short_dimension() {
        let short = dimension(4.0).parts();
        let Some(Item::Text(text)) = short.items.last() else { panic!("the text comes last") };
        assert!(text.at.x > 14.0 && text.anchor == Anchor::Start);
    }
}
