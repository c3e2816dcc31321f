//! Outlines of straight lines and arcs.

use crate::point::Point;

/// One step of a [`Path`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Segment {
    /// Lift the pen and go to this point: begins a new outline.
    Move(Point),
    /// Straight line to this point.
    Line(Point),
    /// Arc of a circle to this point.
    Arc {
        /// End of the arc.
        to: Point,
        /// Radius, mm; when shorter than half the chord it is taken as half the chord.
        radius: f64,
        /// Clockwise as seen on the sheet.
        clockwise: bool,
        /// The longer of the two arcs.
        large: bool,
    },
    /// Straight back to the start of this outline.
    Close,
}

/// An outline of straight lines and arcs; several outlines in one path cut holes (even-odd).
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Path {
    /// The steps in order.
    pub segments: Vec<Segment>,
}

impl Path {
    /// A path that begins at `start`.
    pub fn from(start: Point) -> Self {
        Self { segments: vec![Segment::Move(start)] }
    }

    /// A closed outline through `points`.
    pub fn polygon(points: &[Point]) -> Self {
        let mut path = Self::default();
        for (i, &p) in points.iter().enumerate() {
            path.segments.push(if i == 0 { Segment::Move(p) } else { Segment::Line(p) });
        }
        path.close()
    }

    /// A closed outline through `corners`, each rounded with its radius (mm). A radius that does not fit is cut to
    /// what the shorter neighbouring side leaves.
    pub fn rounded(corners: &[(Point, f64)]) -> Self {
        let n = corners.len();
        if n < 3 {
            return Self::polygon(&corners.iter().map(|c| c.0).collect::<Vec<_>>());
        }
        let mut path = Self::default();
        for i in 0..n {
            let (before, corner, after) = (corners[(i + n - 1) % n].0, corners[i], corners[(i + 1) % n].0);
            round_corner(&mut path, before, corner, after);
        }
        path.close()
    }

    /// Adds a straight line.
    pub fn line_to(mut self, to: Point) -> Self {
        self.segments.push(Segment::Line(to));
        self
    }

    /// Adds the shorter arc of this radius (mm) to `to`.
    pub fn arc_to(mut self, to: Point, radius: f64, clockwise: bool) -> Self {
        self.segments.push(Segment::Arc { to, radius, clockwise, large: false });
        self
    }

    /// Adds the longer arc of this radius (mm) to `to`.
    pub fn long_arc_to(mut self, to: Point, radius: f64, clockwise: bool) -> Self {
        self.segments.push(Segment::Arc { to, radius, clockwise, large: true });
        self
    }

    /// Begins a further outline.
    pub fn move_to(mut self, to: Point) -> Self {
        self.segments.push(Segment::Move(to));
        self
    }

    /// Closes the outline.
    pub fn close(mut self) -> Self {
        self.segments.push(Segment::Close);
        self
    }

    /// The outlines as polygons; arcs are cut into chords that leave the circle by no more than `sag` mm.
    pub fn polygons(&self, sag: f64) -> Vec<Vec<Point>> {
        let mut all: Vec<Vec<Point>> = Vec::new();
        for segment in &self.segments {
            match *segment {
                Segment::Move(p) => all.push(vec![p]),
                Segment::Line(p) => {
                    if let Some(last) = all.last_mut() {
                        last.push(p);
                    }
                }
                Segment::Arc { to, radius, clockwise, large } => {
                    if let Some(last) = all.last_mut() {
                        flatten_arc(last, to, radius, clockwise, large, sag);
                    }
                }
                Segment::Close => {}
            }
        }
        all
    }
}

/// Writes one corner: straight to the start of its arc, then the arc.
fn round_corner(path: &mut Path, before: Point, (corner, radius): (Point, f64), after: Point) {
    let (to_before, to_after) = (before - corner, after - corner);
    let start = path.segments.is_empty();
    let mut go = |p: Point| {
        path.segments.push(if start && path.segments.is_empty() {
            Segment::Move(p)
        } else {
            Segment::Line(p)
        })
    };
    let (Some(a), Some(b)) = (to_before.unit(), to_after.unit()) else { return go(corner) };
    let half = ((a.x * b.x + a.y * b.y).clamp(-1.0, 1.0)).acos() / 2.0;
    let room = to_before.length().min(to_after.length()) / 2.0;
    let setback = (radius / half.tan()).min(room);
    if !(setback.is_finite() && setback > 1e-6) {
        return go(corner);
    }
    go(corner + a * setback);
    // Going from a to b round the corner: clockwise when b lies clockwise of -a.
    let clockwise = a.x * b.y - a.y * b.x < 0.0;
    let radius = setback * half.tan();
    path.segments.push(Segment::Arc { to: corner + b * setback, radius, clockwise, large: false });
}

/// Most chords one arc is cut into.
const MOST_CHORDS: f64 = 256.0;

fn flatten_arc(out: &mut Vec<Point>, to: Point, radius: f64, clockwise: bool, large: bool, sag: f64) {
    let Some(&from) = out.last() else { return };
    let chord = to - from;
    let half = chord.length() / 2.0;
    if !(half.is_finite() && half > 1e-9 && radius.is_finite()) {
        return out.push(to);
    }
    let radius = radius.abs().max(half);
    let rise = (radius * radius - half * half).max(0.0).sqrt();
    // The centre lies on the left of a clockwise short arc (y down: clockwise turns right, towards the centre).
    let side = if clockwise != large { 1.0 } else { -1.0 };
    let middle = from + chord * 0.5;
    let centre = middle + chord.quarter_turn() * (side * rise / (2.0 * half));
    let angle = |p: Point| (p.y - centre.y).atan2(p.x - centre.x);
    let (start, turn) = (angle(from), std::f64::consts::TAU);
    let mut sweep = angle(to) - start;
    if clockwise && sweep < 0.0 {
        sweep += turn;
    } else if !clockwise && sweep > 0.0 {
        sweep -= turn;
    }
    let step = 2.0 * (1.0 - (sag.max(1e-3) / radius).min(1.0)).acos();
    let count = (sweep.abs() / step).ceil().clamp(1.0, MOST_CHORDS);
    for i in 1..count as usize {
        out.push(centre.polar(radius, start + sweep * i as f64 / count));
    }
    out.push(to);
}

/// The part of a closed polygon between two levels (`top` above `bottom` on the sheet), mm.
pub fn between_levels(polygon: &[Point], top: f64, bottom: f64) -> Vec<Point> {
    let below_top = cut(polygon, |p| p.y - top);
    cut(&below_top, |p| bottom - p.y)
}

/// Sutherland and Hodgman: the part of a polygon on which `inside` is not negative.
fn cut(polygon: &[Point], inside: impl Fn(Point) -> f64) -> Vec<Point> {
    let mut out = Vec::new();
    for (i, &here) in polygon.iter().enumerate() {
        let next = polygon[(i + 1) % polygon.len()];
        let (a, b) = (inside(here), inside(next));
        if a >= 0.0 {
            out.push(here);
        }
        if (a > 0.0 && b < 0.0) || (a < 0.0 && b > 0.0) {
            out.push(here + (next - here) * (a / (a - b)));
        }
    }
    out
}

/// Area of a polygon by the shoelace rule, mm², never negative.
pub fn polygon_area(polygon: &[Point]) -> f64 {
    let mut twice = 0.0;
    for (i, a) in polygon.iter().enumerate() {
        let b = polygon[(i + 1) % polygon.len()];
        twice += a.x * b.y - b.x * a.y;
    }
    (twice / 2.0).abs()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::at;
    use std::f64::consts::PI;

    const SAG: f64 = 1e-3;

    /// Chords lie inside the circle by no more than the sag: the area lost is less than sag times arc length.
    fn lost(radius: f64) -> f64 {
        SAG * 2.0 * PI * radius
    }

    fn rounded_rect(w: f64, h: f64, r: f64) -> Path {
        Path::rounded(&[(at(0.0, 0.0), r), (at(w, 0.0), r), (at(w, h), r), (at(0.0, h), r)])
    }

    #[test]
    fn exact_rounded_rectangle_area() {
        let polygon = &rounded_rect(40.0, 25.0, 6.0).polygons(SAG)[0];
        let exact = 40.0 * 25.0 - (4.0 - PI) * 36.0;
        assert!((polygon_area(polygon) - exact).abs() < lost(6.0), "{} {exact}", polygon_area(polygon));
    }

    #[test]
    fn exact_radius_is_cut_to_the_room() {
        let polygon = &rounded_rect(10.0, 10.0, 50.0).polygons(SAG)[0];
        assert!(
            (polygon_area(polygon) - 25.0 * PI).abs() < lost(5.0),
            "a square with too large a radius is a circle"
        );
    }

    #[test]
    fn exact_rounding_either_way_round_cuts_corners_off() {
        let other =
            Path::rounded(&[(at(0., 0.), 3.), (at(0., 10.), 3.), (at(10., 10.), 3.), (at(10., 0.), 3.)]);
        let exact = 100.0 - (4.0 - PI) * 9.0;
        assert!((polygon_area(&other.polygons(SAG)[0]) - exact).abs() < lost(3.0));
    }

    #[test]
    fn exact_long_arc_encloses_most_of_the_disc() {
        let whole = PI * 25.0;
        let short = Path::from(at(5.0, 0.0)).arc_to(at(0.0, 5.0), 5.0, true).close();
        let long = Path::from(at(5.0, 0.0)).long_arc_to(at(0.0, 5.0), 5.0, false).close();
        let (a, b) = (polygon_area(&short.polygons(SAG)[0]), polygon_area(&long.polygons(SAG)[0]));
        assert!((a + b - whole).abs() < lost(5.0), "{a} + {b} against {whole}");
        assert!(b > a);
    }

    #[test]
    fn exact_strip_between_two_levels() {
        let square = [at(0., 0.), at(10., 0.), at(10., 10.), at(0., 10.)];
        assert!((polygon_area(&between_levels(&square, 2.0, 5.5)) - 35.0).abs() < 1e-9);
        assert!(between_levels(&square, 20.0, 25.0).is_empty());
        assert_eq!(polygon_area(&between_levels(&square, 6.0, 4.0)), 0.0);
    }
}
