//! Hatching of cut metal, cut to the outline so that no clip path is needed.

use crate::path::Path;
use crate::point::{Point, at};

/// Most lines in one hatch; a closer spacing is widened.
const MOST_LINES: f64 = 400.0;

/// Parallel lines inside `path` (even-odd), `spacing` mm apart, at `angle_rad` clockwise from the x axis.
pub(crate) fn hatch_lines(path: &Path, spacing: f64, angle_rad: f64) -> Vec<(Point, Point)> {
    let (sin, cos) = angle_rad.sin_cos();
    // In the turned frame the hatch lines are level: u along them, v across.
    let turn = |p: Point| at(p.x * cos + p.y * sin, p.y * cos - p.x * sin);
    let back = |p: Point| at(p.x * cos - p.y * sin, p.x * sin + p.y * cos);
    let polygons: Vec<Vec<Point>> =
        path.polygons(0.05).iter().map(|polygon| polygon.iter().map(|&p| turn(p)).collect()).collect();
    let all = polygons.iter().flatten();
    if all.clone().any(|p| !p.is_drawable()) || !spacing.is_finite() || !angle_rad.is_finite() {
        return Vec::new();
    }
    let (low, high) = all.fold((f64::MAX, f64::MIN), |(l, h), p| (l.min(p.y), h.max(p.y)));
    if high <= low {
        return Vec::new();
    }
    let spacing = spacing.max(0.2).max((high - low) / MOST_LINES);
    let mut lines = Vec::new();
    // Levels are multiples of the spacing, so that neighbouring parts with one spacing line up.
    let mut index = (low / spacing).floor() + 0.5;
    while index * spacing < high {
        let level = index * spacing;
        let crossings = crossings(&polygons, level);
        for pair in crossings.chunks_exact(2) {
            if pair[1] - pair[0] > 0.05 {
                lines.push((back(at(pair[0], level)), back(at(pair[1], level))));
            }
        }
        index += 1.0;
    }
    lines
}

/// Where the outlines cross a level, sorted.
fn crossings(polygons: &[Vec<Point>], level: f64) -> Vec<f64> {
    let mut found = Vec::new();
    for polygon in polygons {
        for (i, a) in polygon.iter().enumerate() {
            let b = polygon[(i + 1) % polygon.len()];
            if (a.y <= level) != (b.y <= level) {
                found.push(a.x + (b.x - a.x) * (level - a.y) / (b.y - a.y));
            }
        }
    }
    found.sort_by(f64::total_cmp);
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_hatch_fills_a_square_and_leaves_a_hole() {
        let square = Path::polygon(&[at(0., 0.), at(10., 0.), at(10., 10.), at(0., 10.)]);
        let lines = hatch_lines(&square, 1.0, 0.0);
        assert_eq!(lines.len(), 10);
        assert!(lines.iter().all(|(a, b)| (b.x - a.x - 10.0).abs() < 1e-9));
        let holed =
            square.move_to(at(4., 0.)).line_to(at(6., 0.)).line_to(at(6., 10.)).line_to(at(4., 10.)).close();
        let lines = hatch_lines(&holed, 1.0, 0.0);
        assert_eq!(lines.len(), 20);
        assert!(lines.iter().all(|(a, b)| b.x <= 4.0 + 1e-9 || a.x >= 6.0 - 1e-9));
    }

    #[test]
    fn exact_hatch_length_is_area_over_spacing_at_any_angle() {
        let triangle = Path::polygon(&[at(0., 0.), at(20., 3.), at(7., 15.)]);
        let area = crate::path::polygon_area(&triangle.polygons(0.1)[0]);
        for angle in [0.3, 0.785, 2.0] {
            let sum: f64 = hatch_lines(&triangle, 0.25, angle).iter().map(|(a, b)| (*b - *a).length()).sum();
            assert!((sum * 0.25 - area).abs() < 0.02 * area, "{angle}: {} against {area}", sum * 0.25);
        }
    }

    #[test]
    fn refuses_bad_numbers_quietly() {
        let bad = Path::polygon(&[at(f64::NAN, 0.), at(1., 1.), at(0., 1.)]);
        assert!(hatch_lines(&bad, 1.0, 0.0).is_empty());
        let good = Path::polygon(&[at(0., 0.), at(10., 0.), at(10., 10.)]);
        assert!(hatch_lines(&good, f64::NAN, 0.0).is_empty());
        assert!(hatch_lines(&good, 0.0, 0.5).len() < 420);
    }
}
