//! How straight a position sensor is, by the four usual definitions, and what the load of a meter adds.
//!
//! Travel and output are shares: travel 0 to 1 of the electrical travel, output 0 to 1 of the applied voltage (or of
//! the end-to-end resistance). Each definition is the largest deviation of the output from a straight line; they
//! differ in which line (VRCI-P-100A, as quoted in public glossaries of precision potentiometers).

use thiserror::Error;

/// A straight line of output against travel, and how far the points lie off it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Line {
    /// Output for each unit of travel.
    pub slope: f64,
    /// Output at travel 0.
    pub intercept: f64,
    /// Largest distance of a point from the line, as a share of the applied voltage, not negative.
    pub deviation: f64,
    /// Travel at which that point lies; the first of equals.
    pub worst_travel: f64,
}

impl Line {
    /// Output on the line at this travel.
    pub fn output(&self, travel: f64) -> f64 {
        self.slope * travel + self.intercept
    }

    /// Travel at which the line has this output; `None` for a level line.
    pub fn travel(&self, output: f64) -> Option<f64> {
        Some((output - self.intercept) / self.slope).filter(|travel| travel.is_finite())
    }
}

/// Why linearity cannot be told; one sentence each.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
#[allow(missing_docs, reason = "the sentences say what each case is")]
pub enum LinearityError {
    #[error("there are {count} readings; linearity needs at least {least}, at different travel")]
    TooFew { count: usize, least: usize },

    #[error("all readings are at the travel {travel}; linearity needs readings over the whole travel")]
    NoTravel { travel: f64 },

    #[error("reading {number} has the travel {travel} and the output {output}; both must be numbers")]
    NotANumber { number: usize, travel: f64, output: f64 },
}

const LEAST: usize = 3;

/// Absolute linearity: from the line that is fully laid down beforehand, output = travel.
///
/// # Errors
/// As [`independent`].
pub fn absolute(points: &[(f64, f64)]) -> Result<Line, LinearityError> {
    check(points)?;
    Ok(line(points, 1.0, 0.0))
}

/// Terminal-based linearity: from the line through the actual ends, the readings at the smallest and at the
/// largest travel. Several readings at an end count with their mean.
///
/// # Errors
/// As [`independent`].
pub fn terminal_based(points: &[(f64, f64)]) -> Result<Line, LinearityError> {
    let (first, last) = check(points)?;
    let (low, high) = (mean_output_at(points, first), mean_output_at(points, last));
    let slope = (high - low) / (last - first);
    Ok(line(points, slope, low - slope * first))
}

/// Zero-based linearity: from the line through the reading at the smallest travel whose slope makes the largest
/// deviation smallest. Several readings there count with their mean.
///
/// # Errors
/// As [`independent`].
pub fn zero_based(points: &[(f64, f64)]) -> Result<Line, LinearityError> {
    let (first, _) = check(points)?;
    let start = mean_output_at(points, first);
    let moved: Vec<(f64, f64)> = points
        .iter()
        .filter(|point| point.0 > first)
        .map(|&(travel, output)| (travel - first, output - start))
        .collect();
    let hull = Hull::of(&moved);
    let slopes = hull.slopes();
    // The farthest above falls with the slope, the farthest below rises: they meet at the best slope, and between
    // two slopes of the hull's edges each is one point's.
    let above_is_farther = |slope: f64| {
        let (above, below) = hull.farthest(slope);
        above.1 - slope * above.0 > slope * below.0 - below.1
    };
    let at = slopes.partition_point(|&slope| above_is_farther(slope));
    let between = match (at.checked_sub(1).map(|before| slopes[before]), slopes.get(at)) {
        (Some(low), Some(&high)) => 0.5 * low + 0.5 * high,
        (Some(low), None) => low + 1.0 + low.abs(),
        (None, Some(&high)) => high - 1.0 - high.abs(),
        (None, None) => 0.0,
    };
    let (above, below) = hull.farthest(between);
    let slope = (above.1 + below.1) / (above.0 + below.0);
    Ok(line(points, slope, start - slope * first))
}

/// Independent linearity: from the line whose slope and place make the largest deviation smallest (exact: one
/// side of it runs parallel to an edge of the convex hull of the readings). Never above the other three.
///
/// # Errors
/// Fewer than three readings, all at one travel, or one that is not a number.
pub fn independent(points: &[(f64, f64)]) -> Result<Line, LinearityError> {
    check(points)?;
    let hull = Hull::of(points);
    let slope = hull.narrowest();
    let (above, below) = hull.farthest(slope);
    let intercept = 0.5 * (above.1 - slope * above.0) + 0.5 * (below.1 - slope * below.0);
    Ok(line(points, slope, intercept))
}

/// Smallest and largest travel, when the points are fit to be judged.
fn check(points: &[(f64, f64)]) -> Result<(f64, f64), LinearityError> {
    if points.len() < LEAST {
        return Err(LinearityError::TooFew { count: points.len(), least: LEAST });
    }
    if let Some(at) = points.iter().position(|(travel, output)| !(travel.is_finite() && output.is_finite())) {
        let (travel, output) = points[at];
        return Err(LinearityError::NotANumber { number: at + 1, travel, output });
    }
    let first = points.iter().map(|point| point.0).fold(f64::INFINITY, f64::min);
    let last = points.iter().map(|point| point.0).fold(f64::NEG_INFINITY, f64::max);
    if last > first { Ok((first, last)) } else { Err(LinearityError::NoTravel { travel: first }) }
}

fn mean_output_at(points: &[(f64, f64)], travel: f64) -> f64 {
    let outputs: Vec<f64> = points.iter().filter(|point| point.0 == travel).map(|point| point.1).collect();
    outputs.iter().sum::<f64>() / outputs.len() as f64
}

fn line(points: &[(f64, f64)], slope: f64, intercept: f64) -> Line {
    let mut line = Line { slope, intercept, deviation: -1.0, worst_travel: 0.0 };
    for &(travel, output) in points {
        let deviation = (output - line.output(travel)).abs();
        if deviation > line.deviation {
            (line.deviation, line.worst_travel) = (deviation, travel);
        }
    }
    line
}

/// Upper and lower edge of the convex hull, by rising travel.
struct Hull {
    upper: Vec<(f64, f64)>,
    lower: Vec<(f64, f64)>,
}

impl Hull {
    fn of(points: &[(f64, f64)]) -> Self {
        let mut sorted = points.to_vec();
        sorted.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
        let lower = edge(sorted.iter().copied(), 1.0);
        // At equal travel the highest must come first, as the lowest does for the lower edge.
        sorted.sort_by(|a, b| a.0.total_cmp(&b.0).then(b.1.total_cmp(&a.1)));
        Self { upper: edge(sorted.iter().copied(), -1.0), lower }
    }

    /// Slopes of all its sides, rising.
    fn slopes(&self) -> Vec<f64> {
        let sides = self.upper.windows(2).chain(self.lower.windows(2));
        let mut slopes: Vec<f64> =
            sides.map(|side| (side[1].1 - side[0].1) / (side[1].0 - side[0].0)).collect();
        slopes.sort_by(f64::total_cmp);
        slopes
    }

    /// Slope of the lowest strip that holds all points.
    ///
    /// As the slope rises, the point farthest above walks down the upper edge from its last point, the one farthest
    /// below up the lower edge from its first; the strip grows lower until they pass each other.
    fn narrowest(&self) -> f64 {
        let side = |edge: &[(f64, f64)]| match *edge {
            [a, b, ..] => (b.1 - a.1) / (b.0 - a.0),
            _ => f64::INFINITY,
        };
        let (mut above, mut below, mut slope) = (self.upper.len().saturating_sub(1), 0, 0.0);
        loop {
            let falling = side(&self.upper[above.saturating_sub(1)..=above]);
            let rising = side(&self.lower[below..]);
            let next = falling.min(rising);
            if self.upper[above].0 <= self.lower[below].0 || next.is_infinite() {
                // One above the other: all slopes up to the next side are as good, and the middle of them is taken.
                let level = self.upper[above].0 == self.lower[below].0 && next.is_finite();
                return if level { 0.5 * slope + 0.5 * next } else { slope };
            }
            slope = next;
            if falling <= rising { above -= 1 } else { below += 1 }
        }
    }

    /// The points farthest above and farthest below lines of this slope.
    fn farthest(&self, slope: f64) -> ((f64, f64), (f64, f64)) {
        let height = |point: &(f64, f64)| point.1 - slope * point.0;
        let most = |a: (f64, f64), b: &(f64, f64)| if height(b) > height(&a) { *b } else { a };
        let least = |a: (f64, f64), b: &(f64, f64)| if height(b) < height(&a) { *b } else { a };
        let above = self.upper.iter().fold(self.upper.first().copied().unwrap_or_default(), most);
        let below = self.lower.iter().fold(self.lower.first().copied().unwrap_or_default(), least);
        (above, below)
    }
}

/// One edge of the hull: turns left for `side` 1 (lower), right for -1 (upper).
fn edge(sorted: impl Iterator<Item = (f64, f64)>, side: f64) -> Vec<(f64, f64)> {
    let mut kept: Vec<(f64, f64)> = Vec::new();
    for point in sorted {
        if kept.last().is_some_and(|last| last.0 == point.0) {
            continue;
        }
        while let [.., before, last] = kept[..] {
            let turn =
                (last.0 - before.0) * (point.1 - before.1) - (last.1 - before.1) * (point.0 - before.0);
            if side * turn > 0.0 {
                break;
            }
            kept.pop();
        }
        kept.push(point);
    }
    kept
}

/// Output of a loaded potentiometer less that of an unloaded one, as a share of the applied voltage; never
/// positive: a load pulls the reading down.
///
/// `k` is the wiper's travel, 0 to 1; `alpha` the resistance end to end over that of the load, 0 for none.
/// V/V0 = K/(1 + K (1 - K) alpha). NaN outside these ranges.
pub fn loading_error(k: f64, alpha: f64) -> f64 {
    if !((0.0..=1.0).contains(&k) && alpha.is_finite() && alpha >= 0.0) {
        return f64::NAN;
    }
    let bend = k * (1.0 - k) * alpha;
    -k * bend / (1.0 + bend)
}

/// Travel with the largest loading error, and that error (as [`loading_error`]). About 2/3 and -4/27 alpha for
/// small `alpha`. NaN for an `alpha` that is negative, infinite or none.
pub fn greatest_loading_error(alpha: f64) -> (f64, f64) {
    if !(alpha.is_finite() && alpha >= 0.0) {
        return (f64::NAN, f64::NAN);
    }
    // Where the derivative vanishes: 2 - 3 K + alpha K (1 - K)² = 0, which falls through zero between 2/3 and 1.
    let (mut low, mut high) = (2.0 / 3.0, 1.0);
    for _ in 0..60 {
        let k: f64 = 0.5 * (low + high);
        if 2.0 - 3.0 * k + alpha * k * (1.0 - k).powi(2) > 0.0 { low = k } else { high = k }
    }
    let k = 0.5 * (low + high);
    (k, loading_error(k, alpha))
}

/// Travel, 0 to 1, at which a potentiometer with the load `alpha` (as in [`loading_error`]) gives `output`, a share
/// of the applied voltage from 0 to 1. NaN outside these ranges.
pub fn travel_under_load(output: f64, alpha: f64) -> f64 {
    if !((0.0..=1.0).contains(&output) && alpha.is_finite() && alpha >= 0.0) {
        return f64::NAN;
    }
    // alpha V K² + (1 - alpha V) K - V = 0; written so that the root is never a difference of near equals.
    let (half, product) = (0.5 * (1.0 - alpha * output), alpha * output * output);
    let root = half.hypot(product.sqrt());
    if half >= 0.0 {
        if output == 0.0 { 0.0 } else { output / (half + root) }
    } else {
        (root - half) / (alpha * output)
    }
}

#[cfg(test)]
mod tests;
