//! Curves on the sheet: thinning and cutting to the plot rectangle.

use super::frame::Frame;
use crate::point::{Point, at};

/// From this many points on a curve is thinned.
const THIN_ABOVE: usize = 5_000;

/// At most two points (lowest and highest, in their order) for each of `columns` columns, with the first and last
/// point; curves of no more than 5,000 points stay as they are. Points are taken to follow each other in x.
pub(crate) fn thinned(points: &[(f64, f64)], columns: usize) -> Vec<(f64, f64)> {
    if points.len() <= THIN_ABOVE {
        return points.to_vec();
    }
    reduced(points, columns)
}

/// Thins whatever the number of points.
pub(crate) fn reduced(points: &[(f64, f64)], columns: usize) -> Vec<(f64, f64)> {
    let columns = columns.max(1);
    let chunk = points.len().div_ceil(columns).max(1);
    if chunk <= 2 {
        return points.to_vec();
    }
    let mut out = Vec::with_capacity(2 * columns + 2);
    for part in points.chunks(chunk) {
        let lowest = extreme(part, |a, b| a < b);
        let highest = extreme(part, |a, b| a > b);
        match (lowest, highest) {
            (Some(a), Some(b)) if a != b => out.extend([part[a.min(b)], part[a.max(b)]]),
            (Some(a), _) => out.push(part[a]),
            // Nothing finite here: keep the gap.
            _ => out.push(part[0]),
        }
    }
    if let (Some(&first), Some(&last)) = (points.first(), points.last()) {
        if out.first() != Some(&first) {
            out.insert(0, first);
        }
        if out.last() != Some(&last) {
            out.push(last);
        }
    }
    out
}

fn extreme(part: &[(f64, f64)], better: impl Fn(f64, f64) -> bool) -> Option<usize> {
    let mut best: Option<usize> = None;
    for (i, (x, y)) in part.iter().enumerate() {
        if x.is_finite() && y.is_finite() && best.is_none_or(|b| better(*y, part[b].1)) {
            best = Some(i);
        }
    }
    best
}

/// The curve on the sheet, cut to the plot rectangle, in unbroken runs of at least two points.
pub(crate) fn runs(frame: &Frame, points: &[(f64, f64)]) -> Vec<Vec<Point>> {
    let mut runs: Vec<Vec<Point>> = Vec::new();
    let mut open = false;
    for pair in points.windows(2) {
        let place = |(x, y): (f64, f64)| at(frame.x_mm(x), frame.y_mm(y));
        match clipped(frame, place(pair[0]), place(pair[1])) {
            Some((a, b)) => {
                match runs.last_mut().filter(|_| open) {
                    Some(run) => run.push(b),
                    None => runs.push(vec![a, b]),
                }
                open = b == place(pair[1]);
            }
            None => open = false,
        }
    }
    runs
}

/// Liang and Barsky: the part of a straight line inside the plot rectangle.
fn clipped(frame: &Frame, a: Point, b: Point) -> Option<(Point, Point)> {
    let step = b - a;
    if !(a.is_drawable_far() && b.is_drawable_far()) {
        return None;
    }
    let (mut enter, mut leave) = (0.0f64, 1.0f64);
    let edges = [
        (-step.x, a.x - frame.left),
        (step.x, frame.right - a.x),
        (-step.y, a.y - frame.top),
        (step.y, frame.bottom - a.y),
    ];
    for (speed, room) in edges {
        if speed == 0.0 {
            if room < 0.0 {
                return None;
            }
        } else if speed < 0.0 {
            enter = enter.max(room / speed);
        } else {
            leave = leave.min(room / speed);
        }
    }
    let ends =
        (if enter > 0.0 { a + step * enter } else { a }, if leave < 1.0 { a + step * leave } else { b });
    (enter <= leave).then_some(ends)
}

impl Point {
    /// Finite and near enough for the clipping to stay exact, though far outside the sheet.
    fn is_drawable_far(self) -> bool {
        self.x.abs() < 1e9 && self.y.abs() < 1e9
    }
}
