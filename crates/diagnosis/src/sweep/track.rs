//! Where on the travel each sample was taken, on which pass, and how far the output has come.

use super::excursion::leaps_of_output;
use super::{Limits, Log, Reading};
use evidence::robust::{MAD_TO_SIGMA, mad, median, theil_sen};
use quantity::Dimension;
use serde::Serialize;

/// From what the travel of a sample is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum PlacedBy {
    /// The log has it.
    Travel,
    /// Time at even speed, end to end.
    Time,
    /// The output itself, taken as straight: how straight it is cannot be told.
    Output,
}

/// One way over the travel.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Pass {
    /// First sample, counted from zero.
    pub first: usize,
    /// Last sample.
    pub last: usize,
    /// Travel grows; without travel in the log: the output grows.
    pub rising: bool,
}

/// A sample in its place.
#[derive(Debug, Clone, Copy)]
pub(super) struct Spot {
    /// Time, s, or the number of the sample.
    pub(super) t: f64,
    /// Travel, 0 to 1.
    pub(super) x: f64,
    /// Output on the scale on which the line through the readings runs from 0 to 1; none when open or missing.
    pub(super) y: Option<f64>,
    /// The circuit was open.
    pub(super) open: bool,
    /// Number of the pass.
    pub(super) pass: usize,
    /// The output is away from where it belongs: found later.
    pub(super) away: bool,
}

impl Spot {
    /// Deviation from the line, of a sample that is where it belongs.
    pub(super) fn residual(&self) -> Option<f64> {
        self.y.filter(|_| !self.away).map(|y| y - self.x)
    }

    /// Something was seen here, be it an open circuit.
    pub(super) fn observed(&self) -> bool {
        self.open || self.y.is_some()
    }
}

/// The whole log in place. Output = `zero + scale * y`.
#[derive(Debug, Clone)]
pub(super) struct Track {
    pub(super) spots: Vec<Spot>,
    pub(super) passes: Vec<Pass>,
    pub(super) by: PlacedBy,
    pub(super) zero: f64,
    /// Ω or V from travel 0 to 1; negative when the output falls.
    pub(super) scale: f64,
    /// Spread of a reading (standard deviation), a share of the range.
    pub(super) sigma: f64,
    /// Usual way between two samples, a share of the travel.
    pub(super) step: f64,
    /// How well the ends are known from turning round alone (standard uncertainty), a share of the range; zero where
    /// the log has the travel.
    pub(super) ends_u: f64,
}

/// Fewest readings that say anything of a sweep.
pub(super) const FEWEST: usize = 5;
/// The hand may go back by this share of the range within one pass.
const TURN: f64 = 0.15;
/// Points of a robust line: its cost grows with their square.
const LINE_POINTS: usize = 300;

impl Track {
    /// Puts every sample in its place; none when the readings are fewer than [`FEWEST`] or do not change.
    pub(super) fn of(log: &Log, limits: &Limits) -> Option<Track> {
        let values: Vec<f64> = log.values().collect();
        let span = spread(&values)?;
        if values.len() < FEWEST || span <= 3.0 * log.step || span <= 1e-9 * largest(&values) {
            return None;
        }
        let times = times(log);
        let mut track = match travel(log) {
            Some(x) => by_travel(log, &times, &x)?,
            None => by_output(log, &times, span, limits.even_speed && log.timed)?,
        };
        track.step = track.usual_step();
        track.sigma = track.spread_of_readings().max(log.step / track.scale.abs() / 12f64.sqrt());
        Some(track)
    }

    /// The samples of a pass with their numbers.
    pub(super) fn of_pass(&self, pass: usize) -> impl Iterator<Item = (usize, &Spot)> {
        let range = self.passes.get(pass).map_or(0..0, |p| p.first..p.last + 1);
        self.spots
            .get(range.clone())
            .unwrap_or_default()
            .iter()
            .enumerate()
            .map(move |(i, s)| (range.start + i, s))
    }

    /// Output in Ω or V.
    pub(super) fn output(&self, y: f64) -> f64 {
        self.zero + self.scale * y
    }

    pub(super) fn rising(&self, pass: usize) -> bool {
        self.passes.get(pass).is_none_or(|p| p.rising)
    }

    /// Median way between neighbours that were seen, while moving.
    fn usual_step(&self) -> f64 {
        let mut steps = Vec::new();
        for pass in 0..self.passes.len() {
            let seen: Vec<f64> = self.of_pass(pass).filter(|(_, s)| s.observed()).map(|(_, s)| s.x).collect();
            steps.extend(seen.windows(2).map(|w| (w[1] - w[0]).abs()).filter(|d| *d > 1e-9));
        }
        median(&steps).unwrap_or(1.0)
    }

    /// From second differences, which neither travel nor slow bends enter; their variance is six times that of a
    /// reading.
    fn spread_of_readings(&self) -> f64 {
        let mut bends = Vec::new();
        for pass in 0..self.passes.len() {
            let y: Vec<f64> = self.of_pass(pass).filter_map(|(_, s)| s.y).collect();
            bends.extend(y.windows(3).map(|w| w[0] - 2.0 * w[1] + w[2]));
        }
        let spread = mad(&bends).unwrap_or(0.0) * MAD_TO_SIGMA / 6f64.sqrt();
        // Where samples lie far apart the bends are those of the hand, not of the readings.
        if self.by == PlacedBy::Travel || bends.len() >= 50 { spread } else { 0.0 }
    }
}

/// Times, or the numbers of the samples; gaps filled evenly.
fn times(log: &Log) -> Vec<f64> {
    if log.timed {
        filled(log.samples.iter().map(|s| s.time_s))
    } else {
        (0..log.samples.len()).map(|i| i as f64).collect()
    }
}

/// Travel from 0 to 1, gaps filled; none when it is not logged or does not change.
fn travel(log: &Log) -> Option<Vec<f64>> {
    if !log.travelled {
        return None;
    }
    let raw = filled(log.samples.iter().map(|s| s.travel));
    let (low, high) = raw.iter().fold((f64::MAX, f64::MIN), |(l, h), x| (l.min(*x), h.max(*x)));
    // A share of the whole travel says itself where the ends are.
    let share = log.travel_dimension == Some(Dimension::Number) && low >= -0.05 && high <= 1.05;
    if share && high - low > 0.02 {
        return Some(raw);
    }
    (high - low > 1e-9 * high.abs().max(low.abs()))
        .then(|| raw.iter().map(|x| (x - low) / (high - low)).collect())
}

/// Fills gaps evenly between the neighbours; before the first and after the last value stays.
fn filled(values: impl Iterator<Item = Option<f64>>) -> Vec<f64> {
    let given: Vec<Option<f64>> = values.collect();
    let mut out = Vec::with_capacity(given.len());
    let mut last: Option<(usize, f64)> = None;
    for (i, value) in given.iter().enumerate() {
        let Some(value) = *value else { continue };
        let from = last.map_or(value, |l| l.1);
        let start = out.len();
        let count = (i - start) as f64 + 1.0;
        out.extend((start..i).map(|k| from + (value - from) * ((k - start) as f64 + 1.0) / count));
        out.push(value);
        last = Some((i, value));
    }
    out.resize(given.len(), last.map_or(0.0, |l| l.1));
    out
}

/// Turning points: first and last place, and each extreme from which the series goes back by more than `back`.
fn turns(values: &[f64], back: f64) -> Vec<usize> {
    let mut out = vec![0];
    let (mut low, mut high) = (0, 0);
    let mut rising: Option<bool> = None;
    for (i, v) in values.iter().enumerate() {
        if *v > values[high] {
            high = i;
        }
        if *v < values[low] {
            low = i;
        }
        let fell = values[high] - v > back && rising != Some(false);
        let rose = v - values[low] > back && rising != Some(true);
        if fell || rose {
            let turn = if fell { high } else { low };
            if rising.is_some() {
                out.push(turn);
            }
            rising = Some(rose);
            (low, high) = (i, i);
        }
    }
    if values.len() > 1 {
        out.push(values.len() - 1);
    }
    out.dedup();
    out
}

/// Passes between turning points; a turning point belongs to the pass before it.
fn passes(values: &[f64], turns: &[usize]) -> Vec<Pass> {
    let mut first = 0;
    let mut out = Vec::new();
    for pair in turns.windows(2) {
        out.push(Pass { first, last: pair[1], rising: values[pair[1]] >= values[pair[0]] });
        first = pair[1] + 1;
    }
    if out.is_empty() && !values.is_empty() {
        out.push(Pass { first: 0, last: values.len() - 1, rising: true });
    }
    out
}

fn by_travel(log: &Log, times: &[f64], x: &[f64]) -> Option<Track> {
    let passes = passes(x, &turns(x, TURN * (largest_span(x))));
    let value = |i: usize| {
        if let Some(Reading::Value(v)) = log.samples.get(i).map(|s| s.reading) { Some(v) } else { None }
    };
    let mut points: Vec<(f64, f64)> =
        x.iter().enumerate().filter_map(|(i, x)| Some((*x, value(i)?))).collect();
    points.sort_by(|a, b| a.0.total_cmp(&b.0));
    let (scale, zero) =
        theil_sen(&thinned(&points)).filter(|(slope, _)| *slope != 0.0 && slope.is_finite())?;
    let y = |i: usize| value(i).map(|v| (v - zero) / scale);
    Some(Track::assembled(log, times, (x, passes), y, (PlacedBy::Travel, zero, scale, 0.0)))
}

fn by_output(log: &Log, times: &[f64], span: f64, even_speed: bool) -> Option<Track> {
    let value = |i: usize| {
        if let Some(Reading::Value(v)) = log.samples.get(i).map(|s| s.reading) { Some(v) } else { None }
    };
    let clean = cleaned(log, times, span);
    let turns = turns(&clean, TURN * span);
    let passes = passes(&clean, &turns);
    let (low, high, ends_u) = ends(&clean, span)?;
    let scale = high - low;
    let share: Vec<f64> = clean.iter().map(|v| ((v - low) / scale).clamp(0.0, 1.0)).collect();
    let at_even_speed = even_speed.then(|| evenly(times, &share, &passes)).flatten();
    let by = if at_even_speed.is_some() { PlacedBy::Time } else { PlacedBy::Output };
    let x = at_even_speed.unwrap_or(share);
    let y = |i: usize| value(i).map(|v| (v - low) / scale);
    Some(Track::assembled(log, times, (&x, passes), y, (by, low, scale, ends_u / scale)))
}

impl Track {
    fn assembled(
        log: &Log,
        times: &[f64],
        (x, passes): (&[f64], Vec<Pass>),
        y: impl Fn(usize) -> Option<f64>,
        (by, zero, scale, ends_u): (PlacedBy, f64, f64, f64),
    ) -> Track {
        let mut spots: Vec<Spot> = Vec::with_capacity(log.samples.len());
        for (pass, way) in passes.iter().enumerate() {
            spots.extend((way.first..=way.last).map(|i| Spot {
                t: times.get(i).copied().unwrap_or(0.0),
                x: x.get(i).copied().unwrap_or(0.0),
                y: y(i),
                open: log.samples.get(i).is_some_and(|s| s.reading == Reading::Open),
                pass,
                away: false,
            }));
        }
        Track { spots, passes, by, zero, scale, sigma: 0.0, step: 1.0, ends_u }
    }
}

/// The output without what leaps away and comes back, and with gaps filled: where the wiper must have been.
fn cleaned(log: &Log, times: &[f64], span: f64) -> Vec<f64> {
    let mut known: Vec<(usize, f64)> = Vec::new();
    for (i, sample) in log.samples.iter().enumerate() {
        if let Reading::Value(v) = sample.reading {
            known.push((i, v));
        }
    }
    let values: Vec<f64> = known.iter().map(|k| k.1).collect();
    let found = leaps_of_output(&values, span);
    let mut keep = vec![true; known.len()];
    for (first, last) in found.excursions {
        keep.iter_mut().take(last + 1).skip(first).for_each(|k| *k = false);
    }
    let kept: Vec<(usize, f64)> = known.iter().zip(&keep).filter(|(_, k)| **k).map(|(k, _)| *k).collect();
    between(&kept, times)
}

/// Straight between known values over time; before the first and after the last value stays.
fn between(known: &[(usize, f64)], times: &[f64]) -> Vec<f64> {
    let mut out = Vec::with_capacity(times.len());
    let mut next = 0;
    for (i, t) in times.iter().enumerate() {
        while known.get(next).is_some_and(|k| k.0 < i) {
            next += 1;
        }
        let before = next.checked_sub(1).and_then(|b| known.get(b));
        out.push(match (before, known.get(next)) {
            (_, Some((at, v))) if *at == i => *v,
            (Some((a, va)), Some((b, vb))) => {
                let (ta, tb) = (times[*a], times[*b]);
                let share = if tb > ta { (t - ta) / (tb - ta) } else { 0.5 };
                va + (vb - va) * share
            }
            (Some((_, v)), None) | (None, Some((_, v))) => *v,
            (None, None) => 0.0,
        });
    }
    out
}

/// Lowest and highest output and the standard uncertainty of either: between the very extreme, which noise pulls
/// outwards, and the median of what lies near it, which the way there pulls inwards.
fn ends(clean: &[f64], span: f64) -> Option<(f64, f64, f64)> {
    let (low, high) = clean.iter().fold((f64::MAX, f64::MIN), |(l, h), v| (l.min(*v), h.max(*v)));
    let near = 0.005 * span;
    let at = |from: f64, to: f64| {
        median(&clean.iter().copied().filter(|v| (from..=to).contains(v)).collect::<Vec<_>>())
    };
    let (inner_low, inner_high) = (at(low, low + near)?, at(high - near, high)?);
    let apart = (inner_low - low).max(high - inner_high);
    let (low, high) = (0.5 * (low + inner_low), 0.5 * (high + inner_high));
    (high > low).then_some((low, high, 0.5 * apart / 3f64.sqrt()))
}

/// Travel at even speed on each pass: the straight line through the middle of its course.
fn evenly(times: &[f64], share: &[f64], passes: &[Pass]) -> Option<Vec<f64>> {
    let mut x = share.to_vec();
    for pass in passes {
        let middle: Vec<(f64, f64)> = (pass.first..=pass.last)
            .map(|i| (times[i], share[i]))
            .filter(|p| (0.1..=0.9).contains(&p.1))
            .collect();
        if middle.len() < FEWEST {
            return None;
        }
        let (slope, start) = theil_sen(&thinned(&middle))?;
        for i in pass.first..=pass.last {
            x[i] = (start + slope * times[i]).clamp(0.0, 1.0);
        }
    }
    Some(x)
}

/// At most [`LINE_POINTS`] of the points, evenly taken.
fn thinned(points: &[(f64, f64)]) -> Vec<(f64, f64)> {
    points.iter().step_by(points.len().div_ceil(LINE_POINTS).max(1)).copied().collect()
}

/// From the twentieth to the last but twentieth of the sorted values; short series whole.
fn spread(values: &[f64]) -> Option<f64> {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    let cut = sorted.len() / 20;
    Some(sorted.get(sorted.len().checked_sub(1 + cut)?)? - sorted.get(cut)?)
}

fn largest(values: &[f64]) -> f64 {
    values.iter().fold(0.0, |a, v| a.max(v.abs()))
}

fn largest_span(values: &[f64]) -> f64 {
    values.iter().fold(f64::MIN, |a, v| a.max(*v)) - values.iter().fold(f64::MAX, |a, v| a.min(*v))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_gaps_are_filled_evenly() {
        assert_eq!(
            filled([None, Some(1.0), None, None, Some(4.0), None].into_iter()),
            [1.0, 1.0, 2.0, 3.0, 4.0, 4.0]
        );
    }

    #[test]
    fn exact_turns_of_a_zigzag_with_a_shake() {
        let values = [0.0, 0.5, 0.45, 1.0, 0.5, 0.0, 0.05, 0.0, 1.0];
        let found = turns(&values, 0.15);
        assert_eq!(found, [0, 3, 5, 8]);
        let ways: Vec<bool> = passes(&values, &found).iter().map(|p| p.rising).collect();
        assert_eq!(ways, [true, false, true]);
    }

    #[test]
    fn exact_one_sample_is_one_pass() {
        assert_eq!(passes(&[1.0], &turns(&[1.0], 0.1)).len(), 1);
    }
}
