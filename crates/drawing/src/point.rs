//! A place on the sheet.

use std::ops::{Add, Mul, Sub};

/// A place or a step on the sheet in mm: x to the right, y down.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Point {
    /// To the right, mm.
    pub x: f64,
    /// Down, mm.
    pub y: f64,
}

/// The point at (x, y), mm.
pub const fn at(x: f64, y: f64) -> Point {
    Point { x, y }
}

impl Point {
    /// The point `radius` mm from this one in the direction `angle_rad` (clockwise from the x axis).
    pub fn polar(self, radius: f64, angle_rad: f64) -> Point {
        at(self.x + radius * angle_rad.cos(), self.y + radius * angle_rad.sin())
    }

    /// Distance from the origin, mm.
    pub fn length(self) -> f64 {
        self.x.hypot(self.y)
    }

    /// The step of length 1 in this direction; `None` when there is no direction.
    pub fn unit(self) -> Option<Point> {
        let length = self.length();
        (length.is_finite() && length > 1e-9).then(|| self * (1.0 / length))
    }

    /// This step turned a quarter clockwise.
    pub fn quarter_turn(self) -> Point {
        at(-self.y, self.x)
    }

    /// True when both coordinates can be written on a sheet.
    pub fn is_drawable(self) -> bool {
        drawable(self.x) && drawable(self.y)
    }
}

/// Largest coordinate that is written, mm.
const LIMIT_MM: f64 = 1e5;

/// True for a finite number no larger than any sheet could need.
pub(crate) fn drawable(value: f64) -> bool {
    value.is_finite() && value.abs() <= LIMIT_MM
}

impl Add for Point {
    type Output = Point;
    fn add(self, other: Point) -> Point {
        at(self.x + other.x, self.y + other.y)
    }
}

impl Sub for Point {
    type Output = Point;
    fn sub(self, other: Point) -> Point {
        at(self.x - other.x, self.y - other.y)
    }
}

impl Mul<f64> for Point {
    type Output = Point;
    fn mul(self, factor: f64) -> Point {
        at(self.x * factor, self.y * factor)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_polar_goes_clockwise_on_the_sheet() {
        let p = at(10.0, 20.0).polar(5.0, std::f64::consts::FRAC_PI_2);
        assert!((p.x - 10.0).abs() < 1e-12 && (p.y - 25.0).abs() < 1e-12, "{p:?}");
        assert_eq!(at(1.0, 0.0).quarter_turn(), at(0.0, 1.0));
    }

    #[test]
    fn refuses_what_no_sheet_can_hold() {
        for bad in [f64::NAN, f64::INFINITY, 1e9] {
            assert!(!at(bad, 0.0).is_drawable() && !at(0.0, -bad).is_drawable());
        }
        assert_eq!(at(0.0, 0.0).unit(), None);
    }
}
