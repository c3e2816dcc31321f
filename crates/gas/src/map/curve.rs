//! A smooth curve through given points that has no hump of its own.

/// Slope at `at` that keeps the curve between its neighbours (Steffen, M., A simple method for monotonic interpolation
/// in one dimension, Astronomy and Astrophysics 239, 1990, 443-450, eq. 11; at the ends eq. 24 and 27).
fn slope(x: &[f64], y: &[f64], at: usize) -> f64 {
    let run = |i: usize| x[i + 1] - x[i];
    let rise = |i: usize| (y[i + 1] - y[i]) / run(i);
    let last = x.len() - 1;
    if last == 1 {
        return rise(0);
    }
    if at == 0 {
        return at_end(rise(0), rise(1), run(0), run(1));
    }
    if at == last {
        return at_end(rise(last - 1), rise(last - 2), run(last - 1), run(last - 2));
    }
    let (before, after) = (rise(at - 1), rise(at));
    let (short, long) = (run(at - 1), run(at));
    let parabola = (before * long + after * short) / (short + long);
    let bound = before.abs().min(after.abs()).min(0.5 * parabola.abs());
    (sign(before) + sign(after)) * bound
}

/// Slope of the end point from the two intervals next to it, the nearer one first.
fn at_end(near: f64, far: f64, near_run: f64, far_run: f64) -> f64 {
    let share = near_run / (near_run + far_run);
    let parabola = near * (1.0 + share) - far * share;
    if parabola * near <= 0.0 {
        0.0
    } else if parabola.abs() > 2.0 * near.abs() {
        2.0 * near
    } else {
        parabola
    }
}

/// -1, 0 or 1.
fn sign(value: f64) -> f64 {
    if value == 0.0 { 0.0 } else { value.signum() }
}

/// Value at `place` of the curve through `(x, y)`, x rising, two points or more; `None` outside of them.
pub(super) fn between(x: &[f64], y: &[f64], place: f64) -> Option<f64> {
    let (first, last) = (*x.first()?, *x.last()?);
    if x.len() < 2 || x.len() != y.len() || !(first..=last).contains(&place) {
        return None;
    }
    let at = x.partition_point(|known| *known <= place).clamp(1, x.len() - 1) - 1;
    let width = x[at + 1] - x[at];
    let (left, right) = (slope(x, y, at), slope(x, y, at + 1));
    let rise = (y[at + 1] - y[at]) / width;
    let t = place - x[at];
    let cubic = (left + right - 2.0 * rise) / (width * width);
    let square = (3.0 * rise - 2.0 * left - right) / width;
    Some(((cubic * t + square) * t + left) * t + y[at])
}
