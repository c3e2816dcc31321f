//! From real millimetres to the sheet: shifted, scaled, and mirrored when the gear turns the other way.

use drawing::{Point, at};
use std::f64::consts::PI;

/// A real frame on the sheet: x to the right (or mirrored to the left), y down, real mm.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Place {
    /// Where the real origin lies on the sheet, mm.
    pub(crate) origin: Point,
    /// Sheet mm for one real mm.
    pub(crate) scale: f64,
    /// Mirrored: real x goes to the left.
    pub(crate) mirrored: bool,
}

impl Place {
    fn sign(&self) -> f64 {
        if self.mirrored { -1.0 } else { 1.0 }
    }

    /// A real point on the sheet.
    pub(crate) fn at(&self, x: f64, y: f64) -> Point {
        at(self.origin.x + self.sign() * x * self.scale, self.origin.y + y * self.scale)
    }

    /// A real point on the sheet.
    pub(crate) fn point(&self, p: Point) -> Point {
        self.at(p.x, p.y)
    }

    /// A real point shifted on the sheet by sheet mm (x along the mirrored axis).
    pub(crate) fn beside(&self, p: Point, dx: f64, dy: f64) -> Point {
        let q = self.point(p);
        at(q.x + self.sign() * dx, q.y + dy)
    }

    /// A real direction, rad clockwise from the real x axis, as a direction on the sheet.
    pub(crate) fn direction(&self, rad: f64) -> f64 {
        if self.mirrored { PI - rad } else { rad }
    }

    /// A real clockwise turn as a turn on the sheet.
    pub(crate) fn turn(&self, rad: f64) -> f64 {
        self.sign() * rad
    }

    /// Anchor that makes a text run in the direction of the real x axis.
    pub(crate) fn onwards(&self) -> drawing::Anchor {
        if self.mirrored { drawing::Anchor::End } else { drawing::Anchor::Start }
    }

    /// Anchor that makes a text run against the real x axis.
    pub(crate) fn backwards(&self) -> drawing::Anchor {
        if self.mirrored { drawing::Anchor::Start } else { drawing::Anchor::End }
    }
}
